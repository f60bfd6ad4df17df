import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { usualPrices, type Job } from '#model/index.ts'
import { routeJob } from '#routing/router/routeJob.ts'
import { shortestDubins, type Pose } from '../../oracle/dubins.ts'
import { leastLengthOf } from '../../oracle/leastLength.ts'
import { body, SECTION } from '../threadField.ts'
import { box, jobOf, together, type EquipmentInput, type Point, type RunInput } from '../../checks/smallJob.ts'
import { faultsOf } from './floors.ts'

/** least bend radius of the 90 mm duct, mm */
const R = 180
const Z = 102, NORTH = Math.PI / 2

type End = readonly [at: Point, axis: Point]

/** A box no wider than its spigot, so that two stand side by side. */
const box90 = (id: string, mouth: Point, axis: Point): EquipmentInput => ({ ...body(id, 'plenum', mouth, axis), sizeMm: [90, 90, 90] })

/** Runs R1, R2 ... from a mouth to a mouth, each on a box of its own. */
function runsBetween(ends: readonly (readonly [End, End])[]) {
  return {
    equipment: ends.flatMap(([[from, fromAxis], [to, toAxis]], k) => [box90(`A${k + 1}`, from, fromAxis), box90(`B${k + 1}`, to, toAxis)]),
    runs: ends.map(([[from], [to]], k): RunInput => ({ id: `R${k + 1}`, name: `Run ${k + 1}`, type: 'd90', from: { equipment: `A${k + 1}`, spigot: '1' }, to: { equipment: `B${k + 1}`, spigot: '1' }, waypoints: [{ at: from }, { at: to }] })),
  }
}

/** One joist along x with boards in its plane, so that only a slit in the middle of one opening is left, at x 0. */
function throughSlit(slitMm: number, ends: readonly (readonly [End, End])[]): Job {
  const far = 2100, wide = far - slitMm / 2
  return jobOf(together({
    settings: { clearanceMm: 2, clearances: [{ between: ['duct', 'duct'], mm: 5 }] },
    zones: [{ id: 'z', name: 'Void', outline: [[-far, -1200], [far, -1200], [far, 1200], [-far, 1200]], undersideMm: 0, topMm: 304 }],
    sections: [SECTION],
    joistFields: [{ id: 'F', name: 'Joist', section: SECTION.id, origin: [-far, 0, 0], directionDeg: 0, centresMm: 400, lengthMm: 2 * far, joists: [{ id: 'J1', firstNodeMm: 0 }] }],
  }, box('west', 'wall', [-far + wide / 2, 0, 152], [wide, 40, 304]), box('east', 'wall', [far - wide / 2, 0, 152], [wide, 40, 304]), runsBetween(ends)))
}

const dubinsMm = (from: Pose, to: Pose): number => shortestDubins(from, to, R).length

/**
 * Shortest course of one bend, a straight leg through the slit and one bend, that bends no tighter than R: the leg leans as far as a duct
 * that keeps 2 mm to the four edges of the boards may, cos(lean) * half slit - sin(lean) * 20 = 47.
 */
function twoBendsMm(asideMm: number, offMm: number): number {
  const lean = Math.acos(47 / Math.hypot(48, 20)) - Math.atan2(20, 48), turn = NORTH - lean
  return 2 * (asideMm - offMm * Math.tan(lean)) + 2 * offMm / Math.cos(lean) - 4 * R * (Math.tan(turn / 2) - turn / 2)
}

describe('one slit between two bays', () => {
  test.each([[1000, 260], [700, 400], [1400, 600]])('ends %i mm aside and %i mm off: two bends, and as long as the shortest such course, to a thousandth', (asideMm, offMm) => {
    // 90 mm duct in a slit of 96, 2 mm to each side: 1 mm of play either way
    const job = throughSlit(96, [[[[-asideMm, -offMm, Z], [1, 0, 0]], [[asideMm, offMm, Z], [-1, 0, 0]]]])
    const routed = routeJob(job, { runs: 'all' }), [{ lengthMm, bendCount }] = routed.runs
    const shortestMm = twoBendsMm(asideMm, offMm), { freeMm } = leastLengthOf(assemble(routed.job).runs[0])
    expect(routed.ended).toBe('routed')
    expect(faultsOf(routed.job)).toEqual([])
    expect(bendCount).toBe(2)
    expect(shortestMm).toBeGreaterThan(freeMm)
    // the job allows an end to be a little out of line; the router does not use it
    expect(lengthMm).toBeGreaterThanOrEqual(shortestMm - 0.01)
    expect(lengthMm).toBeLessThanOrEqual(1.001 * shortestMm)
  })

  test.each([[1000, 260], [700, 400], [1400, 600]])('the same %i mm aside and %i mm off where bends cost nothing: no longer than with two', (asideMm, offMm) => {
    const job = throughSlit(96, [[[[-asideMm, -offMm, Z], [1, 0, 0]], [[asideMm, offMm, Z], [-1, 0, 0]]]])
    const routed = routeJob({ ...job, settings: { ...job.settings, routing: { ...usualPrices, bendMm: 0 } } }, { runs: 'all' }), [{ lengthMm }] = routed.runs
    expect(routed.ended).toBe('routed')
    expect(faultsOf(routed.job)).toEqual([])
    expect(lengthMm).toBeGreaterThanOrEqual(leastLengthOf(assemble(routed.job).runs[0]).freeMm - 1e-6)
    expect(lengthMm).toBeLessThanOrEqual(1.001 * twoBendsMm(asideMm, offMm))
  })

  test('ends that look at each other through it: straight', () => {
    const routed = routeJob(throughSlit(96, [[[[0, -600, Z], [0, 1, 0]], [[0, 600, Z], [0, -1, 0]]]]), { runs: 'all' })
    expect(routed).toMatchObject({ ended: 'routed', runs: [{ lengthMm: 1200, bendCount: 0, openingCount: 1 }] })
  })
})

describe('two runs side by side through one opening', () => {
  test.each([[0, 1], [60, 1.0005], [100, 1.0005], [150, 1.0005], [200, 1.0001], [250, 0.9996], [300, 0.9993], [400, 0.9982]])('ends %i mm further out than they pass: both clean, neither dearer than an S-bend in, square through, an S-bend out, nor longer than %f of it', (outMm, share) => {
    // 2 x 90 mm duct, 5 between them, 2 to each side, 3 of play
    const x = 47.5 + 1.5
    const end = (side: number, y: number): End => [[side * (x + outMm), y, Z], [0, -Math.sign(y), 0]]
    const routed = routeJob(throughSlit(195, [-1, 1].map((side) => [end(side, -900), end(side, 900)] as const)), { runs: 'all' })
    const squareMm = 2 * dubinsMm({ x: x + outMm, y: -900, headingRad: NORTH }, { x, y: -20, headingRad: NORTH }) + 40
    expect(routed.ended).toBe('routed')
    expect(faultsOf(routed.job)).toEqual([])
    const leastMm = assemble(routed.job).runs.map((placed) => leastLengthOf(placed).freeMm)
    for (const [i, { lengthMm, bendCount, openingCount }] of routed.runs.entries()) {
      expect(openingCount).toBe(1)
      expect(lengthMm).toBeGreaterThanOrEqual(leastMm[i] - 1e-6)
      expect(lengthMm).toBeLessThanOrEqual(share * squareMm + 1e-6)
      expect(lengthMm + usualPrices.bendMm * bendCount).toBeLessThanOrEqual(squareMm + usualPrices.bendMm * (outMm === 0 ? 0 : 4) + 1e-6)
    }
  })
})

/** [x, y, heading out of the first mouth, heading into the second, ratio]: mm, degrees. */
const OPEN = [
  [2000, 2000, 45, 45, 1.0000001], [720, 720, 0, 0, 1.0005], [2000, 1500, 0, 90, 1.0005], [0, 1000, 0, 180, 1.0005], [1500, 2000, -60, 100, 1.0005],
  [2500, -800, 30, -20, 1.0005], [3000, 200, 10, 10, 1.0005], [2500, 50, 2, -3, 1.0005], [2000, -600, 20, 5, 1.0005], [4000, 900, 0, 15, 1.0005],
] as const

describe('a void with nothing in it', () => {
  test.each(OPEN)('to %i, %i, from heading %i to %i degrees: no longer than %f of the shortest path in the plane (Dubins 1957)', (x, y, out, into, ratio) => {
    const rad = Math.PI / 180, axis = (deg: number): Point => [Math.cos(deg * rad), Math.sin(deg * rad), 0]
    const job = jobOf({
      zones: [{ id: 'z', name: 'Void', outline: [[-3000, -3000], [6000, -3000], [6000, 6000], [-3000, 6000]], undersideMm: 0, topMm: 300 }],
      ...runsBetween([[[[0, 0, 150], axis(out)], [[x, y, 150], axis(into + 180)]]]),
    })
    const routed = routeJob(job, { runs: 'all' }), [{ lengthMm }] = routed.runs
    const shortest = dubinsMm({ x: 0, y: 0, headingRad: out * rad }, { x, y, headingRad: into * rad })
    expect(routed.ended).toBe('routed')
    expect(faultsOf(routed.job)).toEqual([])
    expect(lengthMm).toBeGreaterThanOrEqual(leastLengthOf(assemble(routed.job).runs[0]).freeMm - 1e-6)
    expect(lengthMm).toBeGreaterThanOrEqual(shortest - 1e-6)
    expect(lengthMm).toBeLessThanOrEqual(ratio * shortest)
  })
})
