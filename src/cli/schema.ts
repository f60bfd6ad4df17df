import { jobJsonSchema } from '#model/jsonSchema.ts'
import { EXIT, type Command } from './command.ts'

export const schemaCommand: Command = {
  name: 'schema', usage: 'schema', takesFile: false, options: [],
  summary: 'the project file, described as JSON Schema',
  about: 'Writes the JSON Schema (draft 2020-12) of the project file: every field, its unit, its default and what is allowed.',
  example: 'joistway schema > joistway.schema.json',
  execute({ console }) {
    console.out(JSON.stringify(jobJsonSchema(), null, 2))
    return EXIT.clean
  },
}
