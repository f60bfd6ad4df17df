import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { routeJob } from '#routing/router/routeJob.ts'
import { missesOf } from '../../oracle/laidRuns.ts'
import { body } from '../threadField.ts'
import { jobOf, type Point } from '../../checks/smallJob.ts'
import { canalHouseBare, faultsOf } from './floors.ts'

const VOID = { zones: [{ id: 'z', name: 'Void', outline: [[-3000, -3000], [9000, -3000], [9000, 9000], [-3000, 9000]] as [number, number][], undersideMm: 0, topMm: 300 }] }

/** One run from a mouth to a mouth in a void with nothing in it. */
function openVoid(from: Point, fromAxis: Point, to: Point, toAxis: Point) {
  return jobOf({
    ...VOID, equipment: [body('M', 'manifold', from, fromAxis), body('P', 'plenum', to, toAxis)],
    runs: [{ id: 'R', name: 'Run', type: 'd90', from: { equipment: 'M', spigot: '1' }, to: { equipment: 'P', spigot: '1' }, waypoints: [{ at: from }, { at: to }] }],
  })
}

describe('one run in a void with nothing in it', () => {
  test('goes straight where its spigots look at each other', () => {
    const routed = routeJob(openVoid([0, 0, 150], [1, 0, 0], [4000, 0, 150], [-1, 0, 0]), { runs: 'all' })
    expect(routed).toMatchObject({ ended: 'routed', runs: [{ isRouted: true, lengthMm: 4000, bendCount: 0 }] })
  })

  test('is no longer than the shortest curve of its least bend radius', () => {
    // radius 180: right by atan, straight, left: LSR of 0,0,0 -> 720,720,0 at radius 1 is 5.8545904360 * 180 (A. Walker's Dubins-Curves)
    const job = openVoid([0, 0, 150], [1, 0, 0], [720, 720, 150], [-1, 0, 0])
    const routed = routeJob(job, { runs: 'all' })
    expect(routed.ended).toBe('routed')
    expect(faultsOf(routed.job)).toEqual([])
    expect(routed.runs[0].lengthMm).toBeGreaterThan(180 * 5.8545904360)
    expect(routed.runs[0].lengthMm).toBeLessThan(180 * 5.8545904360 * 1.002)
  })
})

describe('a house with nineteen runs through staggered webs', () => {
  const { job, ids, laid } = canalHouseBare()
  const routed = routeJob(job, { runs: ids, ports: 'kept' })

  test('is laid whole, and the checks find nothing to put right', { timeout: 60_000 }, () => {
    expect(faultsOf(job).length).toBeGreaterThan(19)
    expect(routed.ended).toBe('routed')
    expect(faultsOf(routed.job)).toEqual([])
  })

  test('nor does a slow judge that shares no distance with them, of every third run', () => {
    expect(missesOf(routed.job, ids.filter((_, i) => i % 3 === 0))).toEqual([])
  })

  test('takes less duct than the same runs laid by the lattice threader that made the file', () => {
    const before = assemble(laid).runs.filter(({ run }) => ids.includes(run.id)).reduce((sum, { centreline }) => sum + centreline.lengthMm, 0)
    expect(routed.lengthMm).toBeLessThan(before)
  })

  test('leaves every other run, and both ends of each, as they were', () => {
    for (const [i, run] of routed.job.runs.entries()) {
      const before = job.runs[i]
      if (!ids.includes(run.id)) expect(run).toEqual(before)
      expect({ from: run.from, to: run.to, ends: [run.waypoints[0], run.waypoints.at(-1)] }).toEqual({ from: before.from, to: before.to, ends: [before.waypoints[0], before.waypoints.at(-1)] })
    }
  })

  test('asked again, only what has something to put right is laid: nothing', () => {
    const again = routeJob(routed.job)
    expect(again).toMatchObject({ ended: 'nothing-to-route', steps: 0 })
    expect(again.job).toBe(routed.job)
  })
})

test('stopped before it could look, it says so and does not call a run impossible', () => {
  const { job, ids } = canalHouseBare()
  expect(routeJob(job, { runs: ids, ports: 'kept', budget: 1 })).toMatchObject({ ended: 'out-of-budget' })
  expect(routeJob(job, { runs: ids, ports: 'kept', isCancelled: () => true })).toMatchObject({ ended: 'cancelled' })
})
