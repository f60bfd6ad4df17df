/** Writes a job as text that a person can read and compare: keys in the order of the format, one short thing to a line. */
import * as z from 'zod'
import { type Job, jobSchema } from './schema.ts'
import { bare, branchFor } from './wording.ts'

/** What fits into this is kept on one line. */
const LINE_WIDTH = 120

/** JSON that reads back as an equal job (-0 as 0). Keys with the value undefined are left out. */
export function formatJob(job: Job): string {
  return `${write(job, jobSchema, '', 0)}\n`
}

/** @param taken how much of the first line stands before the value, beyond the indent */
function write(value: unknown, schema: z.core.$ZodType | undefined, indent: string, taken: number): string {
  const line = oneLine(value, schema)
  if (typeof value !== 'object' || value === null || line.length + indent.length + taken <= LINE_WIDTH) return line
  const deeper = `${indent}  `
  if (Array.isArray(value)) {
    const rows = value.map((item, i) => deeper + write(item, entrySchema(schema, value, i), deeper, 1))
    return `[\n${rows.join(',\n')}\n${indent}]`
  }
  const rows = orderedKeys(value, schema).map((key) => {
    const label = `${JSON.stringify(key)}: `
    return deeper + label + write((value as Record<string, unknown>)[key], entrySchema(schema, value, key), deeper, label.length + 1)
  })
  return `{\n${rows.join(',\n')}\n${indent}}`
}

function oneLine(value: unknown, schema: z.core.$ZodType | undefined): string {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value)
  if (Array.isArray(value)) return `[${value.map((item, i) => oneLine(item, entrySchema(schema, value, i))).join(', ')}]`
  const keys = orderedKeys(value, schema)
  if (keys.length === 0) return '{}'
  return `{ ${keys.map(key => `${JSON.stringify(key)}: ${oneLine((value as Record<string, unknown>)[key], entrySchema(schema, value, key))}`).join(', ')} }`
}

function orderedKeys(value: object, schema: z.core.$ZodType | undefined): string[] {
  const branch = schema && branchFor(schema, value)
  const keys = branch instanceof z.ZodObject ? Object.keys(branch.shape) : []
  return keys.filter(key => (value as Record<string, unknown>)[key] !== undefined)
}

function entrySchema(schema: z.core.$ZodType | undefined, value: unknown, step: string | number): z.core.$ZodType | undefined {
  const branch = schema && branchFor(schema, value)
  if (branch instanceof z.ZodObject) return bare(branch.shape[step])
  if (branch instanceof z.ZodArray) return bare(branch.element)
  if (branch instanceof z.ZodTuple) return bare(branch.def.items[step as number])
  return undefined
}
