/** What the worker works out. */
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import type { Job } from '#model/index.ts'
import { compareCourses } from '#routing/compareCourses.ts'
import { routeJob } from '#routing/router/routeJob.ts'
import { withFreedSpigots } from './freedSpigots.ts'
import type { Found, ToRouter } from './routerMessages.ts'

/** @param onProgress share of the most work, 0 to 1 */
export function foundFor({ job, runs, kept, ports, newRunId }: ToRouter, onProgress?: (doneRatio: number) => void): Found {
  const routed = routeJob(job, { runs, kept, ports, onProgress })
  const without: Job = newRunId === null ? job : { ...job, runs: job.runs.filter(({ id }) => id !== newRunId) }
  // a new run for which no way was found is not laid straight through everything
  const isLaid = newRunId === null || routed.cannot.every(({ runId }) => runId !== newRunId)
  const after: Job = isLaid ? withFreedSpigots(job, routed.job, routed.cannot.map(({ runId }) => runId)) : without
  const changes = compareCourses(contextFor(assemble(without)), contextFor(assemble(after)))
  const changed = new Set<string>(changes.changes.map(({ runId }) => runId))
  return { ended: routed.ended, cannot: routed.cannot, changes, laid: after.runs.filter(({ id }) => changed.has(id)) }
}
