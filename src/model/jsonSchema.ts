/** The file format as a JSON Schema (draft 2020-12), made from the same schema that reads the files. */
import * as z from 'zod'
import { jobSchema } from './schema.ts'

export type JsonSchema = { [keyword: string]: unknown }

const UNITS: readonly (readonly [suffix: RegExp, unit: string])[] = [[/(?:^m|M)m$/, 'mm'], [/Deg$/, 'degrees'], [/Diameters$/, 'duct diameters']]

/**
 * What a person may write: keys with defaults may be left out. It cannot say what spans several parts (ids that are
 * unique, references that lead somewhere, sizes that leave room for each other); reading a file checks those too.
 */
export function jobJsonSchema(): JsonSchema {
  const { $schema, ...rest } = z.toJSONSchema(jobSchema, { io: 'input', target: 'draft-2020-12' }) as JsonSchema
  withUnits(rest)
  return {
    $schema,
    title: 'Joistway job',
    description: 'One ceiling or floor void: its joists, what stands in it, and the ducts that run through it. Lengths in mm, angles in degrees, '
      + 'x and y in plan, z up; turning is counter-clockwise positive, seen from the positive end of the axis. Ids are unique in the whole job, '
      + 'those of spigots within their equipment.',
    ...rest,
  }
}

/** Adds the unit that each key's name ends with to its description. */
function withUnits(node: unknown): void {
  if (typeof node !== 'object' || node === null) return
  for (const [key, inner] of Object.entries(node)) {
    if (key === 'properties') {
      for (const [name, property] of Object.entries(inner as Record<string, JsonSchema>)) {
        const unit = UNITS.find(([suffix]) => suffix.test(name))?.[1]
        const text = property['description']
        if (unit !== undefined) property['description'] = typeof text !== 'string' || text === unit ? unit : `${text}, ${unit}`.replace(/, mm, mm$/, ', mm')
      }
    }
    withUnits(inner)
  }
}
