import { readFileSync, statSync, writeFileSync } from 'node:fs'
import { LIMITS } from '#model/basics.ts'
import { formatJob } from '#model/write.ts'
import { readIfc, type ReadBuilding } from '#sheets/ifc/readIfc.ts'
import { EXIT, readJob, type Command } from './command.ts'

const LARGEST_IFC_BYTES = 512 * 1024 * 1024

export const bringInCommand: Command = {
  name: 'bring-in', usage: 'bring-in FILE', takesFile: true,
  options: [
    { name: 'ifc', value: 'FILE', about: 'the building to bring in, IFC2X3 or IFC4' },
    { name: 'out', value: 'FILE', about: 'where to write the job with it' },
  ],
  summary: 'someone else\u2019s building, as IFC, becomes solids to check against',
  about: [
    'Members, beams, plates, slabs, walls and services of an IFC file become loose solids of the job, where they stand there: check that both files',
    'mean the same place by 0,0,0. What is no straight prism becomes the upright box round it; what is not read is listed with its reason.',
    `Exit code ${EXIT.clean} when all was read as it is, ${EXIT.findings} when something became a box or was not read, ${EXIT.unusable} when a file cannot be used.`,
  ].join('\n'),
  example: 'joistway bring-in house.json --ifc structure.ifc --out house-with-structure.json',
  async execute(call) {
    const { ifc, out } = call.values
    if (typeof ifc !== 'string' || typeof out !== 'string') {
      call.console.err(`joistway bring-in: name ${typeof ifc !== 'string' ? 'the building with --ifc' : 'the file to write with --out'}`)
      return EXIT.unusable
    }
    const job = readJob(call)
    if (job === null) return EXIT.unusable
    let bytes: Uint8Array
    try {
      if (statSync(ifc).size > LARGEST_IFC_BYTES) throw Object.assign(new Error(), { code: 'larger than 512 MB' })
      bytes = readFileSync(ifc)
    } catch (error) {
      call.console.err(`${ifc} cannot be read (${(error as { code?: string }).code ?? String(error)})`)
      return EXIT.unusable
    }
    const { IfcAPI, LogLevel } = await import('web-ifc')
    const api = new IfcAPI()
    await api.Init()
    api.SetLogLevel(LogLevel.LOG_LEVEL_OFF)
    const read = readIfc(api, bytes, new Set(job.solids.map(({ id }) => id)), LIMITS.solids - job.solids.length)
    if ('why' in read) {
      call.console.err(`${ifc}: ${read.why}`)
      return EXIT.unusable
    }
    try {
      writeFileSync(out, formatJob({ ...job, solids: [...job.solids, ...read.solids] }))
    } catch {
      call.console.err(`${out} cannot be written`)
      return EXIT.unusable
    }
    if (call.json) call.console.out(JSON.stringify({ usable: true, job: job.name, schema: read.schema, added: read.solids.map(({ id, name }) => ({ id, name })), asBox: read.asBox, unread: read.unread }, null, 2))
    else call.console.out(readable(job.name, read))
    return read.asBox.length + read.unread.length > 0 ? EXIT.findings : EXIT.clean
  },
}

function readable(name: string, { solids, asBox, unread, schema }: ReadBuilding): string {
  const lines = [`${name}: ${solids.length} solids brought in from ${schema}`]
  if (asBox.length > 0) lines.push('', 'Taken as the upright box round them:', ...asBox.map((each) => `  ${each.name}: ${each.why}`))
  if (unread.length > 0) lines.push('', 'Not read:', ...unread.map((each) => `  ${each.what} ${each.name}: ${each.why}`))
  return lines.join('\n')
}
