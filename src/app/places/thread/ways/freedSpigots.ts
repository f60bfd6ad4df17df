/** Spigots that change hands when not every run finds a way. */
import { apply } from '#commands/index.ts'
import type { Job, Run } from '#model/index.ts'
import { keyOfEnd } from '../ends.ts'

/**
 * A run for which no way was found may have lost its spigot to one that was laid: it gets one of the same box and size that was freed, its
 * course taken along at that end. @param laid the job with runs laid, @param unlaid ids of runs that were asked for and lie as before
 */
export function withFreedSpigots(before: Job, laid: Job, unlaid: readonly string[]): Job {
  let job = laid
  for (const id of unlaid) for (const side of ['from', 'to'] as const) {
    const run = job.runs.find((each) => each.id === id)
    if (run === undefined || 'sleeve' in run[side] || usersOf(job, keyOfEnd(run[side])).length < 2) continue
    const mine = run[side], box = job.equipment.find((each) => each.id === mine.equipment)
    const size = box?.spigots.find((spigot) => spigot.id === mine.spigot)?.diameterMm
    const free = box?.spigots.find((spigot) => {
      const key = keyOfEnd({ equipment: box.id, spigot: spigot.id })
      return spigot.diameterMm === size && usersOf(job, key).length === 0 && usersOf(before, key).length > 0
    })
    if (box === undefined || free === undefined) continue
    const outcome = apply(job, { do: 'end-run-at', id, side, end: { equipment: box.id, spigot: free.id }, keepAxis: true })
    if (outcome.ok) job = outcome.job
  }
  return job
}

function usersOf({ runs }: Job, key: string): Run[] {
  return runs.filter(({ from, to }) => keyOfEnd(from) === key || keyOfEnd(to) === key)
}
