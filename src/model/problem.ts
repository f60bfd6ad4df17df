/** What is wrong with a project file, as data; one place that makes text of it for a console. */

/** One wrong thing in a file. */
export interface Problem {
  /** where, like `runs[3].waypoints[0].at[2]`; empty for the file as a whole */
  readonly path: string
  /** id (or name) of the nearest thing that holds it, if that can be read */
  readonly id?: string
  readonly code: ProblemCode
  /** what stands there, in words */
  readonly found: string
  /** what may stand there, in words */
  readonly allowed: string
}

export type ProblemCode =
  /** the text cannot be read as JSON, is too big, or is nested too deep */
  | 'not-json' | 'too-large' | 'too-deep' | 'unreadable'
  /** JSON, but no job that this version can read */
  | 'not-a-job' | 'newer-version' | 'unknown-version' | 'failed-migration'
  /** keys */
  | 'missing' | 'unknown-key' | 'repeated-key' | 'forbidden-key'
  /** values */
  | 'wrong-type' | 'not-allowed' | 'out-of-range' | 'wrong-count'
  /** ids and what they point to */
  | 'repeated-id' | 'no-such-thing'
  /** each value is allowed, but not together */
  | 'contradiction'

/** Most problems listed; the rest are counted. */
export const LISTED_PROBLEMS = 200

export type Path = readonly (string | number)[]

/** Keeps the first of the problems and counts the rest, so that a file of nothing but faults cannot fill the memory. */
export class Problems {
  readonly listed: Problem[] = []
  total = 0
  readonly #root: unknown
  readonly #seen = new Set<string>()

  /** @param root the value that paths start from; ids of enclosing things are read from it */
  constructor(root?: unknown) {
    this.#root = root
  }

  add(path: Path, code: ProblemCode, found: string, allowed: string): void {
    this.total++
    if (this.listed.length >= LISTED_PROBLEMS) return
    const text = pathText(path)
    const key = `${text} ${found}`
    if (this.#seen.has(key)) {
      this.total--
      return
    }
    this.#seen.add(key)
    const id = enclosingId(this.#root, path)
    this.listed.push(id === undefined ? { path: text, code, found, allowed } : { path: text, id, code, found, allowed })
  }

  /** Adds what an earlier stage found. */
  takeOver(earlier: Problems): void {
    this.listed.push(...earlier.listed)
    this.total += earlier.total
  }

  get unlisted(): number {
    return this.total - this.listed.length
  }
}

/** `['runs', 3, 'at']` -> `runs[3].at`; a key that is no plain word is quoted: `runs[3]["odd key"]`. */
export function pathText(path: Path): string {
  let text = ''
  for (const step of path) {
    if (typeof step === 'number') text += `[${step}]`
    else if (/^[A-Za-z_$][\w$]{0,59}$/.test(step)) text += text === '' ? step : `.${step}`
    else text += `[${quoted(step, 60)}]`
  }
  return text
}

/** The value at a path, own properties only; undefined where there is none. */
export function valueAt(root: unknown, path: Path): unknown {
  let value = root
  for (const step of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined
    value = (value as Record<string | number, unknown>)[step]
  }
  return value
}

function enclosingId(root: unknown, path: Path): string | undefined {
  let value = root
  let id: string | undefined
  for (let depth = 0; depth <= path.length; depth++) {
    if (typeof value !== 'object' || value === null) break
    // the job's own name says nothing about where in it the fault is
    if (depth > 0) {
      for (const key of ['id', 'name']) {
        const own = Object.hasOwn(value, key) ? (value as Record<string, unknown>)[key] : undefined
        if (typeof own === 'string' && own !== '') {
          id = plain(own.slice(0, 64))
          break
        }
      }
    }
    const step = path[depth]
    if (step === undefined || !Object.hasOwn(value, step)) break
    value = (value as Record<string | number, unknown>)[step]
  }
  return id
}

/** A value in a few plain words. */
export function describeFound(value: unknown): string {
  if (value === undefined) return 'nothing'
  if (value === null) return 'null'
  if (typeof value === 'string') return value === '' ? 'empty text' : quoted(value, 60)
  if (typeof value === 'number') {
    if (Number.isNaN(value)) return 'no number (NaN)'
    return Number.isFinite(value) ? String(value) : 'a number too large to hold'
  }
  if (typeof value === 'boolean') return String(value)
  if (Array.isArray(value)) return value.length === 0 ? 'an empty list' : value.length === 1 ? 'a list of 1' : `a list of ${value.length}`
  if (typeof value === 'object') return 'an object'
  return `a ${typeof value}`
}

/** Text in double quotes, cut short, with nothing in it that could steer a console. */
export function quoted(text: string, longest: number): string {
  const cut = text.length > longest ? `${text.slice(0, longest)}…` : text
  return `"${plain(cut)}"${text.length > longest ? ` (${text.length} characters)` : ''}`
}

/** Control characters, line separators and marks that turn the reading direction, written as escapes. */
function plain(text: string): string {
  return text.replace(/[\u0000-\u001f\u007f-\u009f\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069]|\p{Surrogate}/gu, c => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`)
}

/** The problems as lines for a console: where (and the id it belongs to), what was found, what is allowed. */
export function formatProblems(result: { readonly problems: readonly Problem[], readonly unlisted: number }): string {
  const lines = result.problems.map(({ path, id, found, allowed }) => {
    const place = path === '' ? 'file' : path
    const owner = id === undefined ? '' : ` (${id})`
    return `${place}${owner}: found ${found}; allowed: ${allowed}`
  })
  if (result.unlisted > 0) lines.push(`and ${result.unlisted} more`)
  return lines.join('\n')
}
