/** What a part of the schema allows, in plain words, and the schema's own findings turned into problems. */
import * as z from 'zod'
import { FORBIDDEN_KEYS } from './plainValue.ts'
import { type Path, type ProblemCode, type Problems, describeFound, valueAt } from './problem.ts'

/** The schema inside its defaults and optionals. */
export function bare(schema: z.core.$ZodType): z.core.$ZodType {
  let inner = schema
  while (inner instanceof z.ZodDefault || inner instanceof z.ZodPrefault || inner instanceof z.ZodOptional) inner = inner.def.innerType
  return inner
}

/**
 * The branches of a union that the value means: the one whose `kind` it names, else the one with most of its keys;
 * all of them if it does not say.
 */
function meant(union: z.ZodUnion, value: unknown): readonly z.core.$ZodType[] {
  if (typeof value !== 'object' || value === null) return union.options
  if (union instanceof z.ZodDiscriminatedUnion) {
    const kind = (value as Record<string, never>)[union.def.discriminator]
    return union.options.filter(option => option instanceof z.ZodObject && (option.shape[union.def.discriminator] as z.ZodLiteral).values.has(kind))
  }
  const known = union.options.map(option => option instanceof z.ZodObject ? Object.keys(option.shape).filter(key => Object.hasOwn(value, key)).length : 0)
  const most = Math.max(...known)
  return union.options.filter((_, i) => known[i] === most)
}

/** The schema that judges a value: of a union the branch that it means, else the schema itself. */
export function branchFor(schema: z.core.$ZodType, value: unknown): z.core.$ZodType | undefined {
  const inner = bare(schema)
  return inner instanceof z.ZodUnion ? meant(inner, value)[0] : inner
}

/** The part of the schema that judges what stands at a path, with the value's own kinds followed; undefined if nothing may stand there. */
function schemaAt(schema: z.core.$ZodType, path: Path, value: unknown): z.core.$ZodType | undefined {
  let at: z.core.$ZodType | undefined = bare(schema)
  for (let depth = 0; depth < path.length && at !== undefined; depth++) {
    const step = path[depth]
    if (at instanceof z.ZodDiscriminatedUnion && step === at.def.discriminator) {
      at = z.enum(at.options.flatMap(option => option instanceof z.ZodObject ? [...(option.shape[step] as z.ZodLiteral<string>).values] : []))
      continue
    }
    at = branchFor(at, valueAt(value, path.slice(0, depth)))
    if (at instanceof z.ZodObject) at = Object.hasOwn(at.shape, step) ? at.shape[step] : undefined
    else if (at instanceof z.ZodArray) at = at.element
    else if (at instanceof z.ZodTuple) at = at.def.items[step as number]
    else at = undefined
    if (at !== undefined) at = bare(at)
  }
  return at
}

/** What a schema allows, in a few words. */
export function describeAllowed(schema: z.core.$ZodType | undefined): string {
  if (schema === undefined) return 'nothing'
  const inner = bare(schema)
  if (inner instanceof z.ZodNumber) return `a ${inner.isInt ? 'whole ' : ''}number from ${inner.minValue} to ${inner.maxValue}`
  if (inner instanceof z.ZodString) {
    const length = inner.minLength ? `${inner.minLength} to ${inner.maxLength} characters` : `at most ${inner.maxLength} characters`
    return `text of ${length}`
  }
  if (inner instanceof z.ZodBoolean) return 'true or false'
  if (inner instanceof z.ZodEnum) return oneOf(inner.options)
  if (inner instanceof z.ZodLiteral) return oneOf([...inner.values])
  if (inner instanceof z.ZodTuple) {
    const items = inner.def.items
    return `a list of exactly ${items.length}: ${items.map(describeAllowed).filter((text, i, all) => all.indexOf(text) === i).join(', then ')}`
  }
  if (inner instanceof z.ZodArray) {
    let least = 0
    let most = Infinity
    for (const check of inner.def.checks ?? []) {
      const limit = check._zod.def as { check: string, minimum?: number, maximum?: number }
      if (limit.check === 'min_length') least = limit.minimum!
      if (limit.check === 'max_length') most = limit.maximum!
    }
    return `a list of ${least} to ${most} entries`
  }
  if (inner instanceof z.ZodObject) return `an object with ${Object.keys(inner.shape).join(', ')}`
  if (inner instanceof z.ZodUnion) return `either ${inner.options.map(describeAllowed).join(', or ')}`
  return 'nothing else'
}

function oneOf(values: readonly unknown[]): string {
  const words = values.map(value => typeof value === 'string' ? `"${value}"` : String(value))
  return words.length === 1 ? words[0] : `one of ${words.join(', ')}`
}

/**
 * The schema's issues as problems.
 * @param schema what was judged
 * @param value the value that it judged
 * @param at where that value stands in the file
 */
export function addIssues(problems: Problems, issues: readonly z.core.$ZodIssue[], schema: z.core.$ZodType, value: unknown, at: Path): void {
  for (const issue of issues) {
    const path = issue.path as (string | number)[]
    const found = valueAt(value, path)
    const judge = schemaAt(schema, path, value)
    if (issue.code === 'unrecognized_keys') {
      const keys = keysOf(judge, found)
      for (const key of issue.keys) {
        // these have been refused by name
        if (FORBIDDEN_KEYS.has(key)) continue
        problems.add([...at, ...path, key], 'unknown-key', `a key that is not known here, with ${describeFound((found as Record<string, unknown>)[key])}`, keys)
      }
      continue
    }
    if (issue.code === 'invalid_union' && judge instanceof z.ZodUnion && issue.errors.length > 0) {
      const branches = meant(judge, found)
      if (branches.length === 1) {
        addIssues(problems, issue.errors[judge.options.indexOf(branches[0] as never)], branches[0], found, [...at, ...path])
        continue
      }
    }
    problems.add([...at, ...path], found === undefined ? 'missing' : codeOf(issue, found), describeFound(found), issue.code === 'invalid_format' ? issue.message : describeAllowed(judge))
  }
}

function keysOf(judge: z.core.$ZodType | undefined, found: unknown): string {
  const branch = judge && branchFor(judge, found)
  return branch instanceof z.ZodObject ? `only ${Object.keys(branch.shape).join(', ')}` : 'no such key'
}

function codeOf(issue: z.core.$ZodIssue, found: unknown): ProblemCode {
  switch (issue.code) {
    // NaN and the infinities are numbers, but none that may stand here
    case 'invalid_type': return issue.expected === 'number' && typeof found === 'number' ? 'out-of-range' : 'wrong-type'
    case 'too_big':
    case 'too_small': return issue.origin === 'number' ? 'out-of-range' : 'wrong-count'
    case 'invalid_union': return issue.errors.length > 0 ? 'wrong-type' : 'not-allowed'
    default: return 'not-allowed'
  }
}
