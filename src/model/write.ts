/** Writes a job as text that a person can read and compare: keys in the order of the format, one short thing to a line. */
import * as z from 'zod'
import { type Job, jobSchema } from './schema.ts'
import { bare, branchFor } from './wording.ts'

/** What fits into this is kept on one line. */
const LINE_WIDTH = 120

type Schema = z.core.$ZodType | undefined

/** JSON that reads back as an equal job (-0 as 0). Keys with the value undefined are left out. */
export function formatJob(job: Job): string {
  return `${write(job, jobSchema, '', 0)}\n`
}

/** @param taken how much of the first line stands before the value, beyond the indent, or must follow it */
function write(value: unknown, schema: Schema, indent: string, taken: number): string {
  const line = oneLine(value, schema, LINE_WIDTH - indent.length - taken)
  if (line !== undefined) return line
  const deeper = `${indent}  `
  if (Array.isArray(value)) {
    const rows = value.map((item, i) => deeper + write(item, entryOf(schema, i), deeper, 1))
    return `[\n${rows.join(',\n')}\n${indent}]`
  }
  const rows = fieldsOf(value as object, schema).map(([key, inner, field]) => {
    const label = `${JSON.stringify(key)}: `
    return deeper + label + write(inner, field, deeper, label.length + 1)
  })
  return `{\n${rows.join(',\n')}\n${indent}}`
}

/** The value on one line, or undefined when it is a list or an object that would be longer than `room`. */
function oneLine(value: unknown, schema: Schema, room: number): string | undefined {
  if (typeof value !== 'object' || value === null) return JSON.stringify(value)
  const isList = Array.isArray(value)
  // two characters and more to an entry: a list this long is not worth trying
  if (isList && value.length * 2 > room) return undefined
  const entries = isList ? value.map((item, i) => [undefined, item, entryOf(schema, i)] as const) : fieldsOf(value, schema)
  if (entries.length === 0) return isList ? '[]' : '{}'
  const start = isList ? '[' : '{ '
  let line = start
  const end = isList ? ']' : ' }'
  for (const [key, inner, field] of entries) {
    if (line !== start) line += ', '
    if (key !== undefined) line += `${JSON.stringify(key)}: `
    const text = oneLine(inner, field, room - line.length - end.length)
    if (text === undefined) return undefined
    line += text
    if (line.length + end.length > room) return undefined
  }
  return line + end
}

/** an object's fields in the order of the format, each with its schema */
function fieldsOf(value: object, schema: Schema): (readonly [key: string, value: unknown, schema: Schema])[] {
  const branch = schema && branchFor(schema, value)
  if (!(branch instanceof z.ZodObject)) return []
  let order = ORDER.get(branch)
  if (order === undefined) ORDER.set(branch, order = Object.entries(branch.shape).map(([key, field]) => [key, bare(field)] as const))
  const fields: (readonly [string, unknown, Schema])[] = []
  for (const [key, field] of order) {
    const inner = (value as Record<string, unknown>)[key]
    if (inner !== undefined) fields.push([key, inner, field])
  }
  return fields
}
const ORDER = new WeakMap<z.ZodObject, (readonly [key: string, schema: z.core.$ZodType])[]>()

function entryOf(schema: Schema, i: number): Schema {
  if (schema instanceof z.ZodArray) return bare(schema.element)
  return schema instanceof z.ZodTuple ? bare(schema.def.items[i]) : undefined
}
