/** Reads a project file: a whole valid job, or every problem that it has. Nothing here throws. */
import * as z from 'zod'
import { LIMITS } from './basics.ts'
import { readJsonText } from './jsonText.ts'
import { MIGRATIONS, type Migrations, migrate } from './migrate.ts'
import { isPlainTree } from './plainValue.ts'
import { type Problem, Problems, describeFound } from './problem.ts'
import { type JobParts, type PartsList, PARTS_LISTS, addReferenceProblems } from './references.ts'
import { type Job, jobSchema } from './schema.ts'
import { addIssues } from './wording.ts'

export { type Problem, formatProblems } from './problem.ts'

export type ReadResult =
  | {
    readonly ok: true
    readonly job: Job
    /** the version that the file had, if an older one */
    readonly migratedFrom?: number
  }
  | {
    readonly ok: false
    /** the first of them, in the order of the file's parts */
    readonly problems: readonly Problem[]
    /** how many more there are */
    readonly unlisted: number
  }

/** For tests of the way old files are read; everything else takes what is built in. */
export interface ReadOptions {
  readonly migrations?: Migrations
}

/** A job from the text of a project file (JSON). */
export function parseJob(text: string, options: ReadOptions = {}): ReadResult {
  return guarded(() => {
    const problems = new Problems()
    const read = readJsonText(text, problems)
    return read === undefined ? refusal(problems) : judge(read.value, problems, options)
  })
}

/** A job from a value that came from elsewhere than text, such as a browser's storage. The value is not changed or kept. */
export function readJobValue(value: unknown, options: ReadOptions = {}): ReadResult {
  return guarded(() => judge(value, new Problems(), options))
}

export function refusal(problems: Problems): ReadResult {
  return { ok: false, problems: problems.listed, unlisted: problems.unlisted }
}

/** A value can hold getters that throw; text of the wrong type can come from plain JavaScript. */
function guarded(read: () => ReadResult): ReadResult {
  try {
    return read()
  } catch (error) {
    const problems = new Problems()
    problems.add([], 'unreadable', `something that could not be read (${error instanceof Error ? error.message.slice(0, 200) : 'unknown reason'})`, 'plain JSON')
    return refusal(problems)
  }
}

function judge(value: unknown, textProblems: Problems, { migrations = MIGRATIONS }: ReadOptions): ReadResult {
  const early = new Problems(value)
  early.takeOver(textProblems)
  if (!isPlainTree(value, early)) return refusal(early)
  const migrated = migrate(value, early, migrations)
  if (migrated === undefined) return refusal(early)
  const raw = migrated.value
  const problems = new Problems(raw)
  problems.takeOver(early)

  // the lists are read entry by entry, so that the right ones can be checked further when others are wrong
  const frame: Record<string, unknown> = { ...raw }
  for (const list of PARTS_LISTS) if (Array.isArray(raw[list])) frame[list] = []
  const read = jobSchema.safeParse(frame)
  if (!read.success) addIssues(problems, read.error.issues, jobSchema, frame, [])
  const parts = Object.fromEntries(PARTS_LISTS.map(list => [list, readList(raw[list], list, problems)]))
  addReferenceProblems(raw, { ...parts, settings: read.data?.settings, underlay: read.data?.underlay } as unknown as JobParts, problems)
  if (problems.total > 0 || !read.success) return refusal(problems)

  const job = tidied({ ...read.data, ...parts }) as Job
  return migrated.from === undefined ? { ok: true, job } : { ok: true, job, migratedFrom: migrated.from }
}

/** The list's entries, undefined in the place of each wrong one. */
function readList(found: unknown, list: PartsList, problems: Problems): unknown[] {
  // what is no list has been judged with the frame
  if (!Array.isArray(found)) return []
  const longest = LIMITS[list]
  if (found.length > longest) {
    problems.add([list], 'wrong-count', describeFound(found), `a list of 0 to ${longest} entries`)
    return []
  }
  const entry: z.core.$ZodType = jobSchema.shape[list].unwrap().element
  return Array.from(found, (value, i) => {
    const read = z.safeParse(entry, value)
    if (!read.success) addIssues(problems, read.error.issues, entry, value, [list, i])
    return read.data
  })
}

/**
 * Two jobs that say the same are equal: -0 (which turns an arctangent round) becomes 0, and a key that holds undefined
 * goes. Done in place, on values that the schema has just made.
 */
export function tidied(value: object): object {
  for (const [key, inner] of Object.entries(value)) {
    if (typeof inner === 'object' && inner !== null) tidied(inner)
    else if (Object.is(inner, -0)) (value as Record<string, unknown>)[key] = 0
    else if (inner === undefined) delete (value as Record<string, unknown>)[key]
  }
  return value
}
