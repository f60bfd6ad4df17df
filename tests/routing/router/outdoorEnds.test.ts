import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/index.ts'
import { tooNearOutdoors } from '#routing/router/outdoorEnds.ts'
import { routeJob } from '#routing/router/routeJob.ts'
import type { Job } from '#model/index.ts'
import { body } from '../threadField.ts'
import { jobOf, type EquipmentInput, type Point } from '../../checks/smallJob.ts'
import { faultsOf } from './floors.ts'
import { fittings } from './rigidFloors.ts'

/** A hood in the wall at x 0, which looks in, its middle at y. */
const hood = (id: string, air: 'intake' | 'exhaust', y: number, diameterMm = 125): EquipmentInput => ({ ...body(id, 'outdoor-terminal', [140, y, 1500], [1, 0, 0], diameterMm), air })

/** An intake and an exhaust to boxes 3 m in, and hoods; 300 mm is asked from edge to edge of their openings, which is 425 from middle to middle. */
function hoods(...list: readonly EquipmentInput[]): Job {
  const end = (equipment: string) => ({ equipment, spigot: '1' })
  const inside: Record<string, Point> = { A: [3000, 0, 1500], B: [3000, 1200, 1500] }
  const at = (id: string): Point => list.find((one) => one.id === id)!.centre.map((c, k) => c + (k === 0 ? 140 : 0)) as Point
  return jobOf({
    settings: { outdoor: { leastMm: 300, advisedMm: 300 } },
    ductTypes: [{ kind: 'rigid', id: 'rigid', name: 'Rigid 125', innerDiameterMm: 124, outerDiameterMm: 125, fittings: fittings(90, 45) }],
    equipment: [...list, body('A', 'plenum', inside.A, [-1, 0, 0], 125), body('B', 'plenum', inside.B, [-1, 0, 0], 125)],
    runs: [
      { id: 'intake', name: 'Intake', type: 'rigid', from: end('I1'), to: end('A'), waypoints: [{ at: at('I1') }, { at: inside.A }] },
      { id: 'exhaust', name: 'Exhaust', type: 'rigid', from: end('B'), to: end('X1'), waypoints: [{ at: inside.B }, { at: at('X1') }] },
    ],
  })
}

const NEAR = [hood('I1', 'intake', 0), hood('X1', 'exhaust', 400)] as const
const endsOf = (job: Job) => job.runs.map(({ from, to }) => ['equipment' in from ? from.equipment : '', 'equipment' in to ? to.equipment : ''])
const tooNear = (job: Job) => [...tooNearOutdoors(contextFor(assemble(job)), assemble(job).runs).keys()]

describe('intake and exhaust outdoors nearer to each other than the rule', () => {
  test('with nowhere else to go neither is called routed: it is its ends, and the finding says which', () => {
    const job = hoods(...NEAR), routed = routeJob(job, { runs: 'all' })
    expect(tooNear(job)).toEqual(['intake', 'exhaust'])
    expect(routed.ended).toBe('partly')
    expect(routed.runs.map(({ isRouted }) => isRouted)).toEqual([false, false])
    expect(routed.cannot).toMatchObject(['intake', 'exhaust'].map((runId) => ({ runId, cause: 'ends', isProved: true, by: ['I1', 'X1'] })))
    expect(routed.cannot[0].findings).toMatchObject([{ code: 'outdoor-too-near', required: 300, measured: expect.closeTo(275, 6) as number }])
  })

  test('a free terminal of the same air far enough off is taken, and one of another size, or too near itself, is not', () => {
    const routed = routeJob(hoods(...NEAR, hood('I2', 'intake', 700), hood('I3', 'intake', 1400, 160), hood('I4', 'intake', -900), hood('I5', 'intake', -1900)), { runs: 'all' })
    expect(routed.ended).toBe('routed')
    expect(endsOf(routed.job)).toEqual([['I4', 'A'], ['B', 'X1']])
    expect(tooNear(routed.job)).toEqual([])
    // what is left is of hoods that no duct is on
    expect(faultsOf(routed.job).map(({ id }) => id).sort()).toEqual(['outdoor-too-near:I1:X1', 'outdoor-too-near:I2:X1'])
  })

  test('a run that keeps its spigots stays, and the other one goes', () => {
    const routed = routeJob(hoods(...NEAR, hood('I2', 'intake', -900), hood('X2', 'exhaust', 1500)), { runs: 'all', fixedPorts: ['intake'] })
    expect(routed.ended).toBe('routed')
    expect(endsOf(routed.job)).toEqual([['I1', 'A'], ['B', 'X2']])
  })

  test('where every run keeps its spigots none is taken elsewhere', () => {
    const routed = routeJob(hoods(...NEAR, hood('I2', 'intake', -900)), { runs: 'all', ports: 'kept' })
    expect(routed.cannot.map(({ cause }) => cause)).toEqual(['ends', 'ends'])
  })

  test('only both at once keep the rule: both go', () => {
    // each other hood is too near to the first of the other air
    const routed = routeJob(hoods(...NEAR, hood('I2', 'intake', 800), hood('X2', 'exhaust', -400)), { runs: 'all' })
    expect(routed.ended).toBe('routed')
    expect(endsOf(routed.job)).toEqual([['I2', 'A'], ['B', 'X2']])
  })

  test('runs drawn clean but for that are put right when what is open is asked for', () => {
    const first = routeJob(hoods(hood('I1', 'intake', 0), hood('X1', 'exhaust', 500)), { runs: 'all' })
    expect(first.ended).toBe('routed')
    expect(routeJob(first.job).ended).toBe('nothing-to-route')
    const nearer = { ...first.job, settings: { ...first.job.settings, outdoor: { leastMm: 500, advisedMm: 500 } } }
    expect(routeJob(nearer).cannot.map(({ runId, cause }) => [runId, cause])).toEqual([['intake', 'ends'], ['exhaust', 'ends']])
  })
})
