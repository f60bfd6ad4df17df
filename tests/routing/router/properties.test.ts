import { describe, expect, test } from 'vitest'
import { routeJob } from '#routing/router/routeJob.ts'
import { leastLengthOf } from '../../oracle/leastLength.ts'
import { assemble } from '#assembly/assemble.ts'
import { WEB_FAMILIES, openRuns, routerFloor } from '../../../fixtures/generate/routerFloors.ts'
import { faultsOf } from './floors.ts'

describe('a few runs on a floor', () => {
  test.each(WEB_FAMILIES)('%s webs: all laid, nothing to put right, none shorter than its bend radius allows', (family) => {
    const seed = 31
    const routed = routeJob(routerFloor({ family, runs: 3, seed }), { runs: 'all' })
    expect(routed.ended, `seed ${seed}`).toBe('routed')
    expect(faultsOf(routed.job)).toEqual([])
    for (const placed of assemble(routed.job).runs) {
      if (placed.type.kind === 'semi-rigid') expect(placed.centreline.lengthMm).toBeGreaterThanOrEqual(leastLengthOf(placed).freeMm - 1e-6)
    }
  })

  test('asked twice gives the same job to the last digit', () => {
    const job = routerFloor({ family: 'staggered', runs: 2, seed: 32 })
    expect(routeJob(job, { runs: 'all' }).job).toEqual(routeJob(job, { runs: 'all' }).job)
  })

  test('with an obstacle taken away it is never dearer than keeping the old courses', () => {
    const job = routerFloor({ family: 'aligned', runs: 3, seed: 34 })
    const before = routeJob(job, { runs: 'all', ports: 'kept' })
    const without = { ...before.job, solids: before.job.solids.filter(({ class: kind }) => kind !== 'soil-stack' && kind !== 'pipe') }
    const after = routeJob(without, { runs: 'all', ports: 'kept' })
    const price = (runs: typeof before.runs): number => runs.reduce((sum, run) => sum + run.lengthMm + 300 * run.bendCount + 5 * run.openingCount, 0)
    expect(after.ended).toBe('routed')
    expect(price(after.runs) + 150 * after.crossings.length).toBeLessThanOrEqual(price(before.runs) + 150 * before.crossings.length + 1e-6)
  })

  test('one taken up again and laid leaves the others where they are', () => {
    const job = routerFloor({ family: 'staggered', runs: 3, seed: 35 })
    const whole = routeJob(job, { runs: 'all' }), [id] = openRuns(job)
    const taken = { ...whole.job, runs: whole.job.runs.map((run) => run.id === id ? { ...run, waypoints: [run.waypoints[0], run.waypoints.at(-1)!] } : run) }
    const again = routeJob(taken)
    expect(again.ended).toBe('routed')
    expect(again.runs.map(({ runId }) => runId)).toEqual([id])
    expect(again.job.runs.filter((run) => run.id !== id)).toEqual(whole.job.runs.filter((run) => run.id !== id))
  })
})
