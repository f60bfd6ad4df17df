import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import { compareCourses } from '#routing/compareCourses.ts'
import { routeJob, type Routed, type RouteProgress } from '#routing/router/routeJob.ts'
import type { Found, ToRouter } from './routerMessages.ts'

/** @param onProgress told how far it has come; asked for what was found by then it takes as long as checking does */
export function foundFor(ask: ToRouter, onProgress?: (progress: RouteProgress, soFar: () => Found) => void): Found {
  const { drawn, runs, kept, ports } = ask
  return foundOf(ask, routeJob(drawn, { runs, kept, ports, onProgress: onProgress && ((progress, soFar) => { onProgress(progress, () => foundOf(ask, soFar())) }) }))
}

function foundOf({ before, drawn }: ToRouter, { ended, job, cannot }: Routed): Found {
  // a new run for which no way was found is not laid straight through everything
  const isWorthIt = drawn === before || cannot.length === 0
  const after = isWorthIt ? job : before
  const changes = compareCourses(contextFor(assemble(before)), contextFor(assemble(after)))
  const changed = new Set<string>(changes.changes.map(({ runId }) => runId))
  return { ended, cannot, changes, laid: after.runs.filter(({ id }) => changed.has(id)) }
}
