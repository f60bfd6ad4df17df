import { describe, expect, test } from 'vitest'
import {
  ALONG, ALONG_OTHER, ANSWER_SIZE, DISTANCE, ON_CURVE_X, ON_SOLID_X, PAIR_ANSWER_SIZE, PAIR_KERNELS, centrelineDistance, curveClearance,
  curveDistance, elementDistance,
} from '#geometry/clearance/index.ts'
import { ARC, ELEMENT_STRIDE, KIND, LENGTH } from '#geometry/curve/centreline.ts'
import { pointAt } from '#geometry/curve/measure.ts'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import { SolidSetBuilder } from '#geometry/solid/build.ts'
import { distanceToSolid } from '#geometry/solid/inside.ts'
import { UPRIGHT, axesOfRotation } from '#geometry/solid/rotation.ts'
import type { SolidSet } from '#geometry/solid/solidSet.ts'
import { between, seeded, type Draw } from '../../oracle/drawnElements.ts'

const SEED = 44
const NAMES = ['box', 'prism', 'cylinder', 'tube'] as const

/** One solid of each kind, about `size` mm. */
const drawSolids = (draw: Draw, size: number): SolidSet => {
  const builder = new SolidSetBuilder()
  const at = () => [0, 1, 2].map(() => between(draw, -size, size))
  const axes = () => axesOfRotation(between(draw, -180, 180), between(draw, -90, 90), 90 * Math.floor(draw() * 4))
  builder.addBox(at(), [between(draw, 1, size), between(draw, 1, size), between(draw, 1, size)], axes())
  const r = between(draw, 10, size)
  builder.addPrism(at(), axes(), -50, between(draw, 0, 200), [[-r, -r, r, -r, r, r, 0, r / 4, -r, r], [-r / 2, -r / 2, -r / 4, -r / 4, -r / 4, -r / 2]])
  builder.addCylinder(at(), axes().slice(0, 3), between(draw, 5, size), between(draw, 5, size))
  builder.addTube(centrelineThrough([...at(), ...at(), ...at()], [0, 100, 0]).centreline, between(draw, 5, 100))
  return builder.build()
}
const drawRun = (draw: Draw, size: number) =>
  centrelineThrough(Array.from({ length: 12 }, () => between(draw, -2 * size, 2 * size)), [0, 180, 120, 0]).centreline

describe(`a run against each kind of solid (seed ${SEED})`, () => {
  test.each(NAMES.map((name, solidIndex) => [name, solidIndex] as const))('%s: the least along the run, found by walking it', (_, solidIndex) => {
    const draw = seeded(SEED), answer = new Float64Array(ANSWER_SIZE), p = [0, 0, 0], q = [0, 0, 0]
    let inside = 0
    for (let i = 0; i < 300; i++) {
      const set = drawSolids(draw, 300), run = drawRun(draw, 300)
      const distance = curveDistance(run, set, solidIndex, Infinity, answer)
      const steps = 400
      let walked = Infinity
      for (let k = 0; k <= steps; k++) {
        pointAt(run, run.lengthMm * k / steps, p)
        walked = Math.min(walked, distanceToSolid(set, solidIndex, p[0], p[1], p[2], q))
      }
      // a walk can miss the least by half a step, no more
      expect(distance).toBeLessThan(walked + 1e-4)
      expect(distance).toBeGreaterThan(walked - run.lengthMm / steps / 2 - 1e-4)
      // the answer is about the whole run: its station is where its point is, and there the distance is what it says
      pointAt(run, answer[ALONG], p)
      p.forEach((x, k) => expect(x).toBeCloseTo(answer[ON_CURVE_X + k], 6))
      expect(distanceToSolid(set, solidIndex, p[0], p[1], p[2], q)).toBeCloseTo(distance, 4)
      expect(Math.hypot(...p.map((x, k) => x - answer[ON_SOLID_X + k]))).toBeCloseTo(Math.abs(distance), 4)
      expect(answer[DISTANCE]).toBe(distance)
      if (distance < 0) inside++
    }
    expect(inside).toBeGreaterThan(30)
    expect(inside).toBeLessThan(290)
  })

  test('each element and solid meet in the kernel that bears their names', () => {
    const draw = seeded(SEED)
    for (let i = 0; i < 50; i++) {
      const set = drawSolids(draw, 300), run = drawRun(draw, 300)
      for (let e = 0; e < run.elements.length; e += ELEMENT_STRIDE) {
        NAMES.forEach((name, solidIndex) => {
          const kernel = PAIR_KERNELS[`${run.elements[e + KIND] === ARC ? 'arc' : 'leg'}-${name}`]
          const a = new Float64Array(ANSWER_SIZE), b = new Float64Array(ANSWER_SIZE)
          expect(elementDistance(run.elements, e, set, solidIndex, Infinity, a)).toBe(kernel(run.elements, e, set.data, set.offset[solidIndex], Infinity, b))
          expect(a).toEqual(b)
          expect(a[ALONG]).toBeLessThanOrEqual(run.elements[e + LENGTH])
        })
      }
    }
  })

  test('a cutoff only saves work: below it the same answer, above it only that it is above', () => {
    const draw = seeded(SEED + 1)
    for (let i = 0; i < 300; i++) {
      const set = drawSolids(draw, 300), run = drawRun(draw, 300)
      for (let solidIndex = 0; solidIndex < 4; solidIndex++) {
        const full = new Float64Array(ANSWER_SIZE), cut = new Float64Array(ANSWER_SIZE).fill(-7)
        const distance = curveDistance(run, set, solidIndex, Infinity, full)
        const cutoff = between(draw, -100, 300)
        const found = curveDistance(run, set, solidIndex, cutoff, cut)
        if (distance <= cutoff - 1e-3) {
          expect(found).toBeCloseTo(distance, 4)
          expect(cut[ALONG]).toBeGreaterThanOrEqual(0)
        } else if (distance > cutoff + 1e-3) {
          expect(found).toBeGreaterThan(cutoff)
          expect(Array.from(cut)).toEqual(new Array(ANSWER_SIZE).fill(-7))
        }
      }
    }
  })
})

test('a 90 mm run over a slab 200 mm below its centreline clears it by 155 mm', () => {
  const builder = new SolidSetBuilder()
  builder.addBox([0, 0, -50], [5000, 5000, 50], UPRIGHT)
  const run = centrelineThrough([-900, 0, 200, 900, 0, 200, 900, 900, 200], [0, 180, 0]).centreline
  const answer = new Float64Array(ANSWER_SIZE)
  expect(curveClearance(run, 45, builder.build(), 0, Infinity, answer)).toBeCloseTo(155, 9)
  expect(answer[DISTANCE]).toBeCloseTo(200, 9)
})

test('two runs are nearest where their stations say', () => {
  const draw = seeded(SEED + 2), answer = new Float64Array(PAIR_ANSWER_SIZE), p = [0, 0, 0], q = [0, 0, 0]
  for (let i = 0; i < 300; i++) {
    const a = drawRun(draw, 500), b = drawRun(draw, 500)
    const distance = centrelineDistance(a, b, Infinity, answer)
    pointAt(a, answer[ALONG], p)
    pointAt(b, answer[ALONG_OTHER], q)
    expect(Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2])).toBeCloseTo(distance, 6)
    for (let k = 0; k <= 60; k++) for (let j = 0; j <= 60; j++) {
      pointAt(a, a.lengthMm * k / 60, p)
      pointAt(b, b.lengthMm * j / 60, q)
      if (!(Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]) > distance - 1e-4)) throw new Error(`pair ${i}: a nearer pair of points than ${distance}`)
    }
  }
})
