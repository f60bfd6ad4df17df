/**
 * A changed job judged by what has changed in it: as strict as reading it whole, but quick enough for every step of a
 * drag. Whatever says the same as before is the same object as before, down to the points, so that views and checks can
 * tell by identity what they need not do again.
 */
import * as z from 'zod'
import { LIMITS } from './basics.ts'
import { addContradictions } from './contradictions.ts'
import { type ReadResult, refusal, tidied } from './parse.ts'
import { isPlainTree } from './plainValue.ts'
import { Problems, describeFound } from './problem.ts'
import { type JobParts, type PartsList, PARTS_LISTS, addReferenceProblems } from './references.ts'
import { type Job, type JobInput, jobSchema } from './schema.ts'
import { addIssues } from './wording.ts'

type Entry = { readonly id: string }

/** Keys whose change can break a reference or repeat an id; what else changes in an entry concerns that entry alone. */
const LINKS: Readonly<Record<PartsList, readonly string[]>> = {
  rooms: [], zones: [], sections: [], joistFields: ['section', 'joists'], holes: ['joist'], solids: [], sleeves: ['through'],
  equipment: ['room', 'spigots'], ductTypes: [], runs: ['type', 'from', 'to'], views: [],
}
/** judged against each other, so all of them once one of them has changed */
const JUDGED_TOGETHER: readonly PartsList[] = ['sections', 'joistFields', 'holes']

/**
 * @param before a whole valid job
 * @param draft the job wanted: what it has of `before` unchanged is not read again; the rest is copied, never kept
 */
export function amendJob(before: Job, draft: JobInput): ReadResult {
  const problems = new Problems(draft)
  const next: Record<string, unknown> = { ...before }
  amendFrame(before, draft, next, problems)
  const masked: Record<string, unknown> = { settings: next['settings'], underlay: next['underlay'] }
  let isRelinked = false
  for (const list of PARTS_LISTS) {
    const was: readonly Entry[] = before[list]
    const wanted = draft[list]
    const now = amendList(list, was, wanted === undefined ? [] : wanted, problems)
    next[list] = now
    masked[list] = now === was ? [] : now.map((entry, i) => entry === was[i] ? undefined : entry)
    isRelinked ||= now !== was && (now.length !== was.length || now.some((entry, i) => entry !== was[i] && hasNewLinks(list, entry, was[i])))
  }
  if (problems.total > 0) return refusal(problems)
  if (JUDGED_TOGETHER.some(list => next[list] !== before[list])) for (const list of JUDGED_TOGETHER) masked[list] = next[list]
  if (isRelinked) addReferenceProblems(next, masked as unknown as JobParts, problems)
  else addContradictions(masked as unknown as JobParts, problems)
  if (problems.total > 0) return refusal(problems)
  return { ok: true, job: isSame(next, before) ? before : next as Job }
}

/** What is no list of parts: name, note, datum, settings, underlay. */
function amendFrame(before: Job, draft: JobInput, next: Record<string, unknown>, problems: Problems): void {
  const lists: ReadonlySet<string> = new Set(PARTS_LISTS)
  const rest = (job: object): Record<string, unknown> => Object.fromEntries(Object.entries(job).filter(([key, value]) => !lists.has(key) && value !== undefined))
  const wanted = rest(draft), was = rest(before)
  if (isSame(wanted, was)) return
  if (!isPlainTree(wanted, problems)) return
  const read = jobSchema.safeParse(wanted)
  if (!read.success) {
    addIssues(problems, read.error.issues, jobSchema, wanted, [])
    return
  }
  const made = shared(rest(tidied(read.data)), was) as Record<string, unknown>
  for (const key of Object.keys(was)) if (!Object.hasOwn(made, key)) delete next[key]
  Object.assign(next, made)
}

function amendList(list: PartsList, was: readonly Entry[], wanted: readonly unknown[], problems: Problems): readonly Entry[] {
  if (wanted === was) return was
  if (!Array.isArray(wanted) || wanted.length > LIMITS[list]) {
    problems.add([list], 'wrong-count', describeFound(wanted), `a list of 0 to ${LIMITS[list]} entries`)
    return was
  }
  const schema: z.core.$ZodType = jobSchema.shape[list].unwrap().element
  const kept = new Set<unknown>(was)
  const byId = new Map(was.map(entry => [entry.id, entry]))
  const now = wanted.map((entry: unknown, i): Entry => {
    if (kept.has(entry)) return entry as Entry
    if (!isPlainTree(entry, problems)) return was[0]
    const read = z.safeParse(schema, entry)
    if (!read.success) {
      addIssues(problems, read.error.issues, schema, entry, [list, i])
      return was[0]
    }
    const made = tidied(read.data as object) as Entry
    return shared(made, byId.get(made.id)) as Entry
  })
  return now.length === was.length && now.every((entry, i) => entry === was[i]) ? was : now
}

function hasNewLinks(list: PartsList, entry: Entry, was: Entry): boolean {
  return entry.id !== was.id || LINKS[list].some(key => (entry as unknown as Record<string, unknown>)[key] !== (was as unknown as Record<string, unknown>)[key])
}

/** The value with everything in it that says the same as in `old` replaced by what stands there; list entries with ids are compared by id. */
function shared(made: unknown, old: unknown): unknown {
  if (typeof made !== 'object' || made === null || typeof old !== 'object' || old === null) return made
  if (Array.isArray(made)) {
    if (!Array.isArray(old)) return made
    const oldById = hasId(old[0]) ? new Map(old.map((entry: unknown) => [hasId(entry) ? entry.id : undefined, entry as unknown])) : undefined
    made.forEach((entry: unknown, i) => {
      made[i] = shared(entry, oldById && hasId(entry) ? oldById.get(entry.id) : old[i])
    })
  } else {
    if (Array.isArray(old)) return made
    const record = made as Record<string, unknown>
    for (const key of Object.keys(record)) record[key] = shared(record[key], (old as Record<string, unknown>)[key])
  }
  return isSame(made, old) ? old : made
}

function hasId(value: unknown): value is Entry {
  return typeof value === 'object' && value !== null && 'id' in value
}

/** The same keys, each with the very same value. */
function isSame(a: object, b: object): boolean {
  const keys = Object.keys(a)
  return keys.length === Object.keys(b).length
    && keys.every(key => Object.hasOwn(b, key) && Object.is((a as Record<string, unknown>)[key], (b as Record<string, unknown>)[key]))
}
