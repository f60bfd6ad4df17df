/**
 * Timing several programs side by side: they take turns in one process, and the median of their turns is told. A turn of quick
 * work is many goes at it, told by their mean, or it would be the caches that the slow ones leave behind that is timed.
 * What is told is time of the processor given to this process (all its threads), so that nobody else's work on the machine counts.
 */

export interface Contestant {
  readonly name: string
  /** does the work once */
  readonly work: () => unknown
}

export interface Timed {
  readonly name: string
  readonly medianMs: number
  readonly leastMs: number
  readonly mostMs: number
  readonly turns: number
  /** why there is no figure */
  readonly failed?: string
}

/** At least so many turns each, and so much warming-up before them; slow work gets no more than it must. */
const TURNS = 7
const WARM_MS = 150
const ENOUGH_MS = 400
/** a turn lasts at least about so long */
const TURN_MS = 5

export function sideBySide(contestants: readonly Contestant[], turns = TURNS): Timed[] {
  const times = contestants.map((): number[] => [])
  const failed = contestants.map((): string | undefined => undefined)
  const goes = contestants.map(() => 1)
  const once = (i: number): number => {
    const start = process.cpuUsage()
    for (let k = 0; k < goes[i]; k++) contestants[i].work()
    const { user, system } = process.cpuUsage(start)
    return (user + system) / 1_000 / goes[i]
  }
  const guarded = (i: number, then: (ms: number) => void): void => {
    if (failed[i] !== undefined) return
    try {
      then(once(i))
    } catch (error) {
      failed[i] = error instanceof Error ? error.message : String(error)
    }
  }
  contestants.forEach((_, i) => {
    let warm = 0, least = Infinity
    for (let k = 0; (k < 2 || warm < WARM_MS) && k < 1_000 && failed[i] === undefined; k++) {
      guarded(i, (ms) => {
        warm += ms
        if (ms > 0) least = Math.min(least, ms)
      })
    }
    goes[i] = Math.max(1, Math.min(1_000, Math.ceil(TURN_MS / least)))
  })
  for (let turn = 0, spent = 0; turn < turns || (spent < ENOUGH_MS && turn < 1_000); turn++) {
    contestants.forEach((_, i) => guarded(i, (ms) => {
      times[i].push(ms)
      spent += ms * goes[i]
    }))
    if (failed.every((why) => why !== undefined)) break
  }
  return contestants.map(({ name }, i) => ({ name, ...summary(times[i]), failed: failed[i] }))
}

export function summary(times: readonly number[]): Omit<Timed, 'name'> {
  const sorted = [...times].sort((a, b) => a - b)
  return { medianMs: at(sorted, 0.5), leastMs: sorted[0] ?? NaN, mostMs: sorted[sorted.length - 1] ?? NaN, turns: sorted.length }
}

/** @param sorted ascending; @param share 0.5 for the median */
export function at(sorted: readonly number[], share: number): number {
  if (sorted.length === 0) return NaN
  const place = share * (sorted.length - 1), low = Math.floor(place), high = Math.ceil(place)
  return sorted[low] + (sorted[high] - sorted[low]) * (place - low)
}

/** Bytes in use after a thorough clearing-up; needs node --expose-gc. */
export function heapBytes(): number {
  const collect = (globalThis as { gc?: () => void }).gc
  if (collect === undefined) throw new Error('heapBytes: start with --expose-gc')
  collect()
  collect()
  const { heapUsed, arrayBuffers } = process.memoryUsage()
  return heapUsed + arrayBuffers
}
