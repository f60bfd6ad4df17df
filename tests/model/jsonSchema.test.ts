import { describe, expect, test } from 'vitest'
import { type JsonSchema, formatJob, jobJsonSchema, parseJob } from '#model/index.ts'
import { richJob, richJobWith } from './richJob.ts'

const schema = jobJsonSchema()

/** Every keyword that the schema uses, judged as JSON Schema draft 2020-12 (core and validation) says; throws at any other. */
function conforms(node: JsonSchema, value: unknown): boolean {
  return Object.entries(node).every(([keyword, rule]) => {
    switch (keyword) {
      case '$schema': case 'title': case 'description': case 'default': return true
      case 'type': return rule === 'integer' ? Number.isInteger(value) : rule === 'array' ? Array.isArray(value) : rule === 'object' ? typeof value === 'object' && value !== null && !Array.isArray(value) : typeof value === rule
      case 'const': return value === rule
      case 'enum': return (rule as unknown[]).includes(value)
      case 'minimum': return typeof value !== 'number' || value >= (rule as number)
      case 'maximum': return typeof value !== 'number' || value <= (rule as number)
      case 'minLength': return typeof value !== 'string' || [...value].length >= (rule as number)
      case 'maxLength': return typeof value !== 'string' || [...value].length <= (rule as number)
      case 'pattern': return typeof value !== 'string' || new RegExp(rule as string, 'u').test(value)
      case 'minItems': return !Array.isArray(value) || value.length >= (rule as number)
      case 'maxItems': return !Array.isArray(value) || value.length <= (rule as number)
      case 'prefixItems': return !Array.isArray(value) || (rule as JsonSchema[]).every((item, i) => i >= value.length || conforms(item, value[i]))
      case 'items': {
        if (!Array.isArray(value)) return true
        const rest = value.slice((node['prefixItems'] as unknown[] | undefined)?.length ?? 0)
        return rule === false ? rest.length === 0 : rest.every(item => conforms(rule as JsonSchema, item))
      }
      case 'required': return typeof value !== 'object' || value === null || (rule as string[]).every(key => Object.hasOwn(value, key))
      case 'properties': return typeof value !== 'object' || value === null || Object.entries(rule as Record<string, JsonSchema>).every(([key, inner]) => !Object.hasOwn(value, key) || conforms(inner, (value as Record<string, unknown>)[key]))
      case 'additionalProperties': {
        expect(rule).toBe(false)
        return typeof value !== 'object' || value === null || Object.keys(value).every(key => Object.hasOwn(node['properties'] as object, key))
      }
      case 'oneOf': return (rule as JsonSchema[]).filter(option => conforms(option, value)).length === 1
      case 'anyOf': return (rule as JsonSchema[]).some(option => conforms(option, value))
      default: throw new Error(`keyword ${keyword} is not known to this check`)
    }
  })
}

describe('the JSON Schema', () => {
  test('is of draft 2020-12, titled, and plain JSON', () => {
    expect(schema).toMatchObject({ $schema: 'https://json-schema.org/draft/2020-12/schema', title: 'Joistway job', type: 'object', required: ['format', 'version', 'name'] })
    expect(schema).not.toHaveProperty('$id')
    expect(JSON.parse(JSON.stringify(schema))).toEqual(schema)
  })
  test('takes what the reader takes: written by a person, and written by us', () => {
    expect(conforms(schema, richJob())).toBe(true)
    const read = parseJob(JSON.stringify(richJob()))
    expect(read.ok && conforms(schema, JSON.parse(formatJob(read.job)))).toBe(true)
    expect(conforms(schema, { format: 'joistway-job', version: 1, name: 'Empty' })).toBe(true)
  })
  test.each<[string, unknown]>([
    ['name', undefined], ['name', ''], ['name', 'a\u0007'], ['version', 2], ['extra', 1], ['settings.clearanceMm', -1], ['settings.clearances.0.between', ['duct']],
    ['settings.clearances.0.between.1', 'x'], ['rooms.0.id', 'a b'], ['rooms.0.id', 7], ['rooms.0.outline', [[0, 0], [1, 1]]], ['rooms.0.outline.0', [1, 2, 3]],
    ['solids.0.shape.kind', 'sphere'], ['solids.0.shape.sizeMm', [1, 1, 0]], ['sections.0.webPitchMm', undefined], ['joistFields.0.joists.1.flip', 'yes'],
    ['runs.0.from', {}], ['runs.0.from', { equipment: 'U1', spigot: 'a', sleeve: 'SL1' }], ['runs.0.waypoints', []], ['runs.0.waypoints.0.at.1', '5'],
    ['ductTypes.1.fittings', []], ['equipment.0.kind', 'fan'],
  ])('refuses what the reader refuses: %s as %j', (path, value) => {
    const job = richJobWith({ [path]: value })
    expect(parseJob(JSON.stringify(job)).ok).toBe(false)
    expect(conforms(schema, JSON.parse(JSON.stringify(job)))).toBe(false)
  })
  test('gives every length and angle its unit', () => {
    let measures = 0
    const walk = (node: unknown): void => {
      if (typeof node !== 'object' || node === null) return
      for (const [name, property] of Object.entries((node as JsonSchema)['properties'] as Record<string, JsonSchema> ?? {})) {
        if (/Mm$|^mm$/.test(name)) expect(property['description'], name).toMatch(/(^|, | in )mm$/)
        else if (/Deg$/.test(name)) expect(property['description'], name).toMatch(/degrees$/)
        else continue
        measures++
      }
      Object.values(node).forEach(walk)
    }
    walk(schema)
    expect(measures).toBeGreaterThan(40)
  })
  test('gives every id as text with a pattern', () => {
    const runs = ((schema['properties'] as JsonSchema)['runs'] as { items: { properties: Record<string, JsonSchema> } }).items.properties
    for (const key of ['id', 'type']) expect(runs[key]).toMatchObject({ type: 'string', pattern: '^[A-Za-z0-9][A-Za-z0-9._-]*$' })
  })
})
