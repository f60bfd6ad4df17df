/** What the worker works out. */
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import type { Job } from '#model/index.ts'
import { compareCourses } from '#routing/compareCourses.ts'
import { routeJob } from '#routing/router/routeJob.ts'
import { withFreedSpigots } from './freedSpigots.ts'
import type { Found, ToRouter } from './routerMessages.ts'

/** @param onProgress share of the most work, 0 to 1 */
export function foundFor({ before, drawn, runs, kept, ports }: ToRouter, onProgress?: (doneRatio: number) => void): Found {
  const routed = routeJob(drawn, { runs, kept, ports, onProgress })
  // a new run for which no way was found is not laid straight through everything
  const isWorthIt = drawn === before || routed.cannot.length === 0
  const after: Job = isWorthIt ? withFreedSpigots(drawn, routed.job, routed.cannot.map(({ runId }) => runId)) : before
  const changes = compareCourses(contextFor(assemble(before)), contextFor(assemble(after)))
  const changed = new Set<string>(changes.changes.map(({ runId }) => runId))
  return { ended: routed.ended, cannot: routed.cannot, changes, laid: after.runs.filter(({ id }) => changed.has(id)) }
}
