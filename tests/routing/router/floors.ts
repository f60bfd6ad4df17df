/** Jobs to route for the tests of the router: kept files with their runs taken up again, and small voids. */
import { readFileSync } from 'node:fs'
import { assemble } from '#assembly/assemble.ts'
import { checkJob } from '#checks/index.ts'
import type { Finding } from '#checks/finding.ts'
import { parseJob, type Job } from '#model/index.ts'

/** The canal house with its semi-rigid runs drawn straight from spigot to spigot again. */
export function canalHouseBare(): { job: Job, ids: string[], laid: Job } {
  const read = parseJob(readFileSync(new URL('../../../fixtures/good/canal-house.json', import.meta.url), 'utf8'))
  if (!read.ok) throw new Error('canal-house.json cannot be read')
  const laid = read.job
  const ids = laid.runs.filter(({ type }) => laid.ductTypes.find(({ id }) => id === type)!.kind === 'semi-rigid').map(({ id }) => id as string)
  return { job: withRunsTakenUp(laid, ids), ids, laid }
}

export function withRunsTakenUp(job: Job, ids: readonly string[]): Job {
  return { ...job, runs: job.runs.map((run) => ids.includes(run.id) ? { ...run, waypoints: [run.waypoints[0], run.waypoints.at(-1)!] } : run) }
}

/** What must be put right in a job, by the checks of the command line. */
export function faultsOf(job: Job): Finding[] {
  return checkJob(assemble(job)).filter(({ severity }) => severity !== 'advice')
}
