import { expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { checkJob } from '#checks/index.ts'
import { apply, type Command } from '#commands/index.ts'
import type { Job } from '#model/index.ts'
import { openRuns, touchedRuns } from '#routing/openRuns.ts'
import { jobOf } from '../app/threadBench.ts'
import { openLoftInput } from '../browser/openLoft.ts'
import { smallVoidInput } from '../scene/smallVoid.ts'

const changed = (job: Job, command: Command): Job => {
  const done = apply(job, command)
  if (!done.ok) throw new Error(done.why)
  return done.job
}
const findingsOf = (job: Job) => checkJob(assemble(job))
const touched = (before: Job, after: Job) => touchedRuns(before, after, findingsOf(after))

/** Two runs through webs, 700 mm and more apart from end to end. */
function apart(): Job {
  const input = openLoftInput()
  return jobOf({ ...input, runs: input.runs!.map((run, i) => ({ ...run, to: input.runs![1 - i].to, waypoints: [run.waypoints[0], input.runs![1 - i].waypoints[1]] })) })
}

test('a run with a fault is open, one that is in order or locked is not', () => {
  const job = apart()
  expect(openRuns(job, findingsOf(job))).toEqual(['R1', 'R2'])
  expect(openRuns(job, [])).toEqual([])
  const locked = changed(job, { do: 'lock-run', id: 'R2', locked: true })
  expect(openRuns(locked, findingsOf(locked))).toEqual(['R1'])
})

test('a point that is pulled touches its own run, and not another that has faults of its own', () => {
  const job = apart()
  expect(touched(job, changed(job, { do: 'insert-waypoint', run: 'R1', point: 1, at: [700, 800, 2_500] }))).toEqual(['R1'])
})

test('a stack that is moved into a run touches that run', () => {
  const job = apart()
  expect(touched(job, changed(job, { do: 'move-solid', id: 'P1', by: [-2_500, -300, 0] }))).toEqual([])
  const [x, y] = job.runs[1].waypoints[0].at
  expect(touched(job, changed(job, { do: 'move-solid', id: 'P1', by: [x - 3_500 + 20, y + 250 - 700, 0] }))).toEqual(['R2'])
})

test('words touch nothing; a joist section touches every open run', () => {
  const job = apart()
  expect(touched(job, changed(job, { do: 'edit-job', set: { note: 'seen' } }))).toEqual([])
  expect(touched(job, changed(job, { do: 'edit-section', id: smallVoidInput().sections[0].id, set: { webWidthMm: 50 } }))).toEqual(['R1', 'R2'])
})
