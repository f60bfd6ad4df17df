import { describe, expect, test } from 'vitest'
import { routeJob } from '#routing/router/routeJob.ts'
import type { Job } from '#model/index.ts'
import { leastLengthOf } from '../../oracle/leastLength.ts'
import { assemble } from '#assembly/assemble.ts'
import { WEB_FAMILIES, openRuns, routerFloor } from '../../../fixtures/generate/routerFloors.ts'
import { faultsOf } from './floors.ts'

/** The whole job turned a quarter about the datum and shifted: x, y -> 300 - y, x + 100. */
function turned(job: Job): Job {
  const at = ([x, y, z]: readonly number[]): [number, number, number] => [300 - y, x + 100, z]
  const xy = ([x, y]: readonly number[]): [number, number] => [300 - y, x + 100]
  const way = ([x, y, z]: readonly number[]): [number, number, number] => [-y, x, z]
  return {
    ...job,
    zones: job.zones.map((zone) => ({ ...zone, outline: zone.outline.map(xy), holes: zone.holes.map((ring) => ring.map(xy)) })),
    joistFields: job.joistFields.map((field) => ({ ...field, origin: at(field.origin), directionDeg: field.directionDeg + 90 })),
    sleeves: job.sleeves.map((sleeve) => ({ ...sleeve, at: at(sleeve.at), axis: way(sleeve.axis) })),
    equipment: job.equipment.map((one) => ({ ...one, centre: at(one.centre), rotationDeg: [0, 0, 90] as [number, number, number] })),
    solids: job.solids.map((solid) => {
      const { shape } = solid
      switch (shape.kind) {
        case 'box': return { ...solid, shape: { ...shape, centre: at(shape.centre), rotationDeg: [0, 0, 90] as [number, number, number] } }
        case 'cylinder': return { ...solid, shape: { ...shape, from: at(shape.from), to: at(shape.to) } }
        case 'tube': return { ...solid, shape: { ...shape, points: shape.points.map(at) } }
        case 'prism': return { ...solid, shape: { ...shape, origin: at(shape.origin), rotationDeg: [0, 0, 90] as [number, number, number] } }
      }
    }),
    runs: job.runs.map((run) => ({ ...run, waypoints: run.waypoints.map((point) => ({ ...point, at: at(point.at) })) })),
  }
}

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

  test('the whole job turned and shifted is laid as clean and as long', () => {
    const job = routerFloor({ family: 'offset', runs: 3, seed: 33 })
    const one = routeJob(job, { runs: 'all' }), other = routeJob(turned(job), { runs: 'all' })
    expect(other.ended).toBe(one.ended)
    expect(faultsOf(other.job)).toEqual([])
    expect(Math.abs(other.lengthMm - one.lengthMm)).toBeLessThan(0.01 * one.lengthMm)
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
