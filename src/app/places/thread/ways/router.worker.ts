/** Looks for the ways of runs away from the window; ended from outside when it is no longer wanted. */
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import type { Job } from '#model/index.ts'
import { compareCourses } from '#routing/compareCourses.ts'
import { routeJob } from '#routing/router/routeJob.ts'
import { withFreedSpigots } from './freedSpigots.ts'
import type { Found, FromRouter, ToRouter } from './routerMessages.ts'

/** ms between two words on how far it has come */
const EVERY_MS = 200

const port = self as unknown as { onmessage: (event: MessageEvent<ToRouter>) => void, postMessage: (message: FromRouter) => void }

port.onmessage = ({ data }) => {
  try {
    port.postMessage({ kind: 'found', found: foundFor(data) })
  } catch (error) {
    port.postMessage({ kind: 'failed', why: error instanceof Error ? error.message : String(error) })
  }
}

function foundFor({ job, runs, kept, ports, newRunId }: ToRouter): Found {
  let saidMs = performance.now()
  const onProgress = (doneRatio: number): void => {
    const nowMs = performance.now()
    if (nowMs - saidMs < EVERY_MS) return
    saidMs = nowMs
    port.postMessage({ kind: 'looking', doneRatio })
  }
  const routed = routeJob(job, { runs, kept, ports, onProgress })
  const without: Job = newRunId === null ? job : { ...job, runs: job.runs.filter(({ id }) => id !== newRunId) }
  // a new run for which no way was found is not laid straight through everything
  const isLaid = newRunId === null || routed.cannot.every(({ runId }) => runId !== newRunId)
  const after: Job = isLaid ? withFreedSpigots(job, routed.job, routed.cannot.map(({ runId }) => runId)) : without
  const changes = compareCourses(contextFor(assemble(without)), contextFor(assemble(after)))
  const changed = new Set<string>(changes.changes.map(({ runId }) => runId))
  return { ended: routed.ended, cannot: routed.cannot, changes, laid: after.runs.filter(({ id }) => changed.has(id)) }
}
