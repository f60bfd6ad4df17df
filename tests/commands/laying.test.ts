import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { apply, type Command } from '#commands/index.ts'
import { type Job, type Point2, parseJob } from '#model/index.ts'

const SEED = 51_133

function emptyJob(): Job {
  const read = parseJob(JSON.stringify({ format: 'joistway-job', version: 1, name: 'x', sections: [{ kind: 'solid-timber', id: 'S1', name: 'Timber', depthMm: 220, widthMm: 47 }] }))
  if (!read.ok) throw new Error('emptyJob')
  return read.job
}

function laid(command: Partial<Extract<Command, { do: 'lay-joist-field' }>>): Job {
  const outcome = apply(emptyJob(), { do: 'lay-joist-field', corners: [[0, 0], [4000, 3000]], section: 'S1', centresMm: 400, directionDeg: 0, undersideMm: 2400, ...command })
  if (!outcome.ok) throw new Error(outcome.why)
  return outcome.job
}

describe('a joist field laid by two corners', () => {
  test('has a joist at every 400 mm, and one that closes it at the far side', () => {
    const joists = assemble(laid({})).joists
    // 3000 - 47 = 2953 mm from the first axis to the last: 7 spaces of 400 mm and one of 153 mm
    expect(joists.map(({ origin }) => origin[1])).toEqual([23.5, 423.5, 823.5, 1223.5, 1623.5, 2023.5, 2423.5, 2823.5, 2976.5])
    expect(joists.map(({ id }) => id)).toEqual(['J1', 'J2', 'J3', 'J4', 'J5', 'J6', 'J7', 'J8', 'J9'])
    expect(joists[0]).toMatchObject({ origin: [0, 23.5, 2400], along: [1, 0, 0], lengthMm: 4000 })
  })
  test('that comes out even has no joist more', () => {
    expect(laid({ corners: [[0, 0], [4000, 2047]] }).joistFields[0].joists).toHaveLength(6)
  })
  test('leaves out a closing joist that would stand in the one before it', () => {
    // 10 mm are left over, less than the 47 mm of a joist
    expect(laid({ corners: [[0, 0], [4000, 2057]] }).joistFields[0].joists).toHaveLength(6)
    // and with 47 mm it stands beside it
    expect(laid({ corners: [[0, 0], [4000, 2094]] }).joistFields[0].joists.at(-1)).toMatchObject({ positionMm: 2047 })
  })
  test('goes on from the ids that the job has', () => {
    const first = laid({})
    const second = apply(first, { do: 'lay-joist-field', corners: [[5000, 0], [9000, 500]], section: 'S1', centresMm: 400, directionDeg: 0, undersideMm: 2400, name: 'Bay B', id: 'BB', firstNodeMm: 75, bearingMm: 90 })
    expect(second.ok && second.job.joistFields[1]).toMatchObject({ id: 'BB', name: 'Bay B', firstNodeMm: 75, bearingMm: 90, joists: [{ id: 'J10' }, { id: 'J11' }, { id: 'J12', positionMm: 453 }] })
    // the field that was there is the same one
    expect(second.ok && second.job.joistFields[0]).toBe(first.joistFields[0])
  })
  test(`covers the box and stays in it, whichever corners and direction (seed ${SEED})`, () => {
    const corner = fc.tuple(fc.integer({ min: -9000, max: 9000 }), fc.integer({ min: -9000, max: 9000 }))
    let tried = 0
    fc.assert(fc.property(corner, corner, fc.integer({ min: 300, max: 700 }), fc.constantFrom(0, 90, 180, -90, 270, 30, -125), (a, b, centresMm, directionDeg) => {
      const turn = directionDeg * Math.PI / 180, c = Math.cos(turn), s = Math.sin(turn)
      const own = ([x, y]: readonly number[]): Point2 => [(x - a[0]) * c + (y - a[1]) * s, (y - a[1]) * c - (x - a[0]) * s]
      const far = own(b)
      fc.pre(Math.abs(far[0]) > 1 && Math.abs(far[1]) > 47)
      tried++
      const joists = assemble(laid({ corners: [a, b], centresMm, directionDeg })).joists
      const sign = Math.sign(far[1])
      const axes = joists.map(({ origin }) => own(origin)[1] * sign)
      // the faces of the outer ones lie on the sides of the box
      expect(axes[0]).toBeCloseTo(23.5, 6)
      expect(axes.at(-1)! + 23.5).toBeLessThanOrEqual(Math.abs(far[1]) + 1e-6)
      expect(Math.abs(far[1]) - axes.at(-1)! - 23.5).toBeLessThan(47)
      for (let i = 1; i < axes.length; i++) {
        expect(axes[i] - axes[i - 1]).toBeLessThanOrEqual(centresMm + 1e-6)
        expect(axes[i] - axes[i - 1]).toBeGreaterThanOrEqual(47 - 1e-6)
      }
      // the datum end is on the side of the first corner, and the joist ends at the other
      for (const { origin, along, lengthMm } of joists) {
        expect(own(origin)[0]).toBeCloseTo(0, 6)
        expect(own([origin[0] + along[0] * lengthMm, origin[1] + along[1] * lengthMm])[0]).toBeCloseTo(far[0], 6)
      }
    }), { seed: SEED, numRuns: 200 })
    expect(tried).toBeGreaterThan(100)
  })
})

describe('joists added at the end', () => {
  test('follow the last at the centres, even when that one is out of step', () => {
    const job = laid({ corners: [[0, 0], [4000, 1000]] })
    const more = apply(job, { do: 'add-joists', field: 'F1', count: 1 })
    // 0, 400, 800 and closing at 953; the next 400 on from there
    expect(more.ok && more.job.joistFields[0].joists.map(({ positionMm }) => positionMm)).toEqual([undefined, undefined, undefined, 953, 1353])
    // regular again once one of the middle went and the rest kept their places
    const fewer = apply(laid({ corners: [[0, 0], [4000, 847]] }), { do: 'remove-joist', id: 'J2' })
    expect(fewer.ok && fewer.job.joistFields[0].joists.map(({ id, positionMm }) => [id, positionMm])).toEqual([['J1', undefined], ['J3', 800]])
    const again = fewer.ok && apply(fewer.job, { do: 'add-joists', field: 'F1', count: 1 })
    expect(again && again.ok && again.job.joistFields[0].joists.at(-1)).toMatchObject({ id: 'J4', positionMm: 1200 })
  })
})

describe('a member laid between two points', () => {
  test(`has its underside's middle at both, level or sloping (seed ${SEED})`, () => {
    const point = fc.tuple(fc.integer({ min: -3000, max: 3000 }), fc.integer({ min: -3000, max: 3000 }), fc.integer({ min: 0, max: 3000 }))
    fc.assert(fc.property(point, point, (from, to) => {
      const lengthMm = Math.hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2])
      fc.pre(lengthMm > 10)
      const outcome = apply(emptyJob(), { do: 'add-member', class: 'beam', from, to, widthMm: 100, depthMm: 200 })
      if (!outcome.ok) throw new Error(outcome.why)
      const { solids } = assemble(outcome.job)
      expect(solids.count).toBe(1)
      // the box's own frame gives the two ends back
      const shape = outcome.job.solids[0].shape
      if (shape.kind !== 'box') throw new Error('no box')
      expect(shape.sizeMm[0]).toBeCloseTo(lengthMm, 6)
      const ends = [-1, 1].map(side => corner(shape.centre, shape.rotationDeg, [side * lengthMm / 2, 0, -100]))
      for (const axis of [0, 1, 2]) {
        expect(ends[0][axis]).toBeCloseTo(from[axis], 6)
        expect(ends[1][axis]).toBeCloseTo(to[axis], 6)
      }
    }), { seed: SEED, numRuns: 200 })
  })
})

/** R = Rz * Ry * Rx, written out step by step and apart from the code that is tried */
function corner(centre: readonly number[], [rx, ry, rz]: readonly number[], p: readonly number[]): number[] {
  const rad = (deg: number) => deg * Math.PI / 180
  let [x, y, z] = p
  ;[y, z] = [y * Math.cos(rad(rx)) - z * Math.sin(rad(rx)), y * Math.sin(rad(rx)) + z * Math.cos(rad(rx))]
  ;[x, z] = [x * Math.cos(rad(ry)) + z * Math.sin(rad(ry)), -x * Math.sin(rad(ry)) + z * Math.cos(rad(ry))]
  ;[x, y] = [x * Math.cos(rad(rz)) - y * Math.sin(rad(rz)), x * Math.sin(rad(rz)) + y * Math.cos(rad(rz))]
  return [centre[0] + x, centre[1] + y, centre[2] + z]
}
