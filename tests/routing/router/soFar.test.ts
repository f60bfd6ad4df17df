/** How far the laying has come, what is given back when it is stopped, and the same result every time. */
import { execFileSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { formatJob } from '#model/write.ts'
import { progressWords } from '#routing/router/progress.ts'
import { withOwnSpigots } from '#routing/router/ownSpigots.ts'
import { routeJob, type Routed, type RouteProgress } from '#routing/router/routeJob.ts'
import { routerFloor } from '../../../fixtures/generate/routerFloors.ts'
import { openLoftInput } from '../../browser/openLoft.ts'
import { jobOf } from '../../checks/smallJob.ts'
import { faultsOf } from './floors.ts'

const FLOOR = { family: 'offset', runs: 4, seed: 72 } as const
const hashOf = (routed: Routed): string => createHash('sha256').update(formatJob(routed.job)).update(JSON.stringify([routed.ended, routed.runs, routed.crossings, routed.cannot, routed.steps, routed.whySteps])).digest('hex')

describe('while runs are laid', () => {
  const told: RouteProgress[] = [], snapshots: Routed[] = []
  const routed = routeJob(routerFloor(FLOOR), { runs: 'all', onProgress: (progress, soFar) => {
    told.push(progress)
    if (told.length % 4 === 1) snapshots.push(soFar())
  } })

  test('the share that is done only grows, from nothing to all, and the stages are told in words', () => {
    expect(told[0].doneRatio).toBe(0)
    expect(told.at(-1)!.doneRatio).toBe(1)
    for (let i = 1; i < told.length; i++) expect(told[i].doneRatio).toBeGreaterThanOrEqual(told[i - 1].doneRatio)
    expect(told.every(({ doneRatio, done, of }) => doneRatio >= 0 && doneRatio <= 1 && done <= of || of === 0)).toBe(true)
    expect(new Set(told.map(({ stage }) => stage))).toEqual(new Set(['looking', 'pulling-taut', 'making-room', 'straightening']))
    expect(told.map(progressWords)).toContain('Looking for ways: 3 of 4 runs')
    expect(progressWords({ stage: 'why', done: 2, of: 3, runName: 'Run 7', triedCount: 14, doneRatio: 0.95 })).toBe('Why Run 7 cannot be laid: 2 of 3 runs looked into, 14 changes tried for it')
  })

  test('what it has at any time lies clear, and its other runs lie as they did', () => {
    expect(snapshots.length).toBeGreaterThan(2)
    const drawn = routerFloor(FLOOR)
    for (const { ended, job, runs, cannot } of snapshots) {
      const laid = new Set<string>(runs.flatMap((run) => run.isRouted ? [run.runId] : []))
      expect(ended === 'cancelled' || laid.size === runs.length).toBe(true)
      expect(cannot).toEqual([])
      expect(faultsOf({ ...job, runs: job.runs.filter(({ id, locked }) => locked === true || laid.has(id)) })).toEqual([])
      for (const [i, run] of job.runs.entries()) if (!laid.has(run.id)) expect(run.waypoints.length).toBe(drawn.runs[i].waypoints.length)
    }
    expect(snapshots.some(({ runs }) => runs.some(({ isRouted }) => isRouted))).toBe(true)
  })

  test('stopped, or out of work, it gives back what lies well by then, and calls no other run impossible', () => {
    let asked = 0
    const stopped = routeJob(routerFloor(FLOOR), { runs: 'all', isCancelled: () => ++asked > 8 })
    const short = routeJob(routerFloor(FLOOR), { runs: 'all', budget: Math.ceil(routed.steps / 3) })
    for (const [one, ending] of [[stopped, 'cancelled'], [short, 'out-of-budget']] as const) {
      const laid = one.runs.filter(({ isRouted }) => isRouted).length
      expect(one.ended === ending || laid === one.runs.length).toBe(true)
      expect(one.cannot.map(({ cause }) => cause).every((cause) => cause === 'not-tried')).toBe(true)
      expect(one.cannot).toHaveLength(one.runs.length - laid)
      expect(faultsOf({ ...one.job, runs: one.job.runs.filter(({ id }) => one.cannot.every(({ runId }) => runId !== id)) })).toEqual([])
    }
    expect(stopped.steps).toBeLessThan(routed.steps)
  })

  test('the same job gives the same result to the last digit, asked twice and in another process', { timeout: 60_000 }, () => {
    const again = routeJob(routerFloor(FLOOR), { runs: 'all' })
    expect(hashOf(again)).toBe(hashOf(routed))
    const script = `
      import { createHash } from 'node:crypto'
      import { formatJob } from '#model/write.ts'
      import { routeJob } from '#routing/router/routeJob.ts'
      import { routerFloor } from './fixtures/generate/routerFloors.ts'
      const routed = routeJob(routerFloor(${JSON.stringify(FLOOR)}), { runs: 'all' })
      console.log(createHash('sha256').update(formatJob(routed.job)).update(JSON.stringify([routed.ended, routed.runs, routed.crossings, routed.cannot, routed.steps, routed.whySteps])).digest('hex'))`
    const cwd = new URL('../../../', import.meta.url).pathname
    expect(execFileSync(process.execPath, ['--import', 'tsx', '--input-type=module', '--eval', script], { cwd, encoding: 'utf8' }).trim()).toBe(hashOf(routed))
  })
})

describe('a run that was left lying when others were laid', () => {
  const { runs, spigots } = assemble(jobOf(openLoftInput())), [one, two] = runs
  const at = (placed: typeof one, from: typeof one.from): typeof one => ({ ...placed, from })

  test('gets a spigot that was freed when its own went to another, its straight there taken along', () => {
    // Run 1 was laid to the spigot of Run 2
    const [left] = withOwnSpigots(spigots, [two], [at(one, two.from)], new Set(), new Map())
    expect(left.run.from).toEqual({ equipment: 'M1', spigot: 's1' })
    expect(left.run.waypoints[0].at).toEqual([795, -60, 2_500])
    expect(left.from).toBe(one.from)
  })

  test('keeps its own where that is free, and where it must', () => {
    expect(withOwnSpigots(spigots, [two], [one], new Set(), new Map())).toEqual([two])
    expect(withOwnSpigots(spigots, [two], [at(one, two.from)], new Set([two.run.id]), new Map())).toEqual([two])
  })
})
