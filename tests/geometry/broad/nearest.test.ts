import { expect, test } from 'vitest'
import { CurveIndex } from '#geometry/broad/curves.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { nearestSolids } from '#geometry/broad/nearestSolids.ts'
import { SolidGrid } from '#geometry/broad/solidGrid.ts'
import { ANSWER_SIZE, PAIR_ANSWER_SIZE, centrelineDistance, curveDistance } from '#geometry/clearance/index.ts'
import { ELEMENT_STRIDE } from '#geometry/curve/centreline.ts'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import { SolidSetBuilder } from '#geometry/solid/build.ts'
import { UPRIGHT, axesOfRotation } from '#geometry/solid/rotation.ts'
import { between, seeded, type Draw } from '../../oracle/drawnElements.ts'

const SEED = 52
const run = (draw: Draw, size: number) => centrelineThrough(Array.from({ length: 12 }, (_, i) => between(draw, 0, i % 3 === 2 ? 300 : size)), [0, 180, 180, 0]).centreline
const field = (draw: Draw, count: number) => {
  const builder = new SolidSetBuilder()
  for (let i = 0; i < count; i++) {
    const at = [between(draw, 0, 6000), between(draw, 0, 6000), between(draw, 0, 300)]
    if (i % 3 === 0) builder.addBox(at, [1, 20, 150], axesOfRotation(0, between(draw, 0, 60), 90))
    else if (i % 3 === 1) builder.addBox(at, [48, between(draw, 10, 4000), 23], UPRIGHT)
    else builder.addCylinder(at, [0, 0, 1], 55, 600)
  }
  return builder.build()
}

test(`the nearest members to a run, in order, are those a look at every member gives (seed ${SEED})`, () => {
  const draw = seeded(SEED), answer = new Float64Array(ANSWER_SIZE)
  for (let i = 0; i < 40; i++) {
    const set = field(draw, 1 + Math.floor(draw() * 120)), grid = new SolidGrid(set), curve = run(draw, 6000)
    const all = Array.from({ length: set.count }, (_, solidIndex) => curveDistance(curve, set, solidIndex, Infinity, answer)).sort((a, b) => a - b)
    for (const k of [0, 1, 5, 500]) {
      const near = nearestSolids(curve, set, grid, k)
      expect(near.length).toBe(Math.min(k, set.count))
      near.forEach(({ distanceMm, solidIndex }, j) => {
        expect(distanceMm).toBeCloseTo(all[j], 4)
        expect(curveDistance(curve, set, solidIndex, Infinity, answer)).toBeCloseTo(distanceMm, 4)
      })
    }
  }
})

test('a member far off is still the nearest when there is no other', () => {
  const builder = new SolidSetBuilder()
  builder.addBox([5e6, 0, 0], [1, 1, 1], UPRIGHT)
  const set = builder.build(), curve = centrelineThrough([0, 0, 0, 100, 0, 0], [0, 0]).centreline
  expect(nearestSolids(curve, set, new SolidGrid(set), 3)).toMatchObject([{ solidIndex: 0, distanceMm: 5e6 - 101 }])
  const nothing = new SolidSetBuilder().build()
  expect(nearestSolids(curve, nothing, new SolidGrid(nothing), 3)).toEqual([])
})

test(`every member within reach of a leg or bend is among those found near it (seed ${SEED})`, () => {
  const draw = seeded(SEED), set = field(draw, 300), grid = new SolidGrid(set), out = new IndexList(), answer = new Float64Array(ANSWER_SIZE)
  for (let i = 0; i < 30; i++) {
    const curve = run(draw, 6000), reach = between(draw, 0, 200)
    const found = new Set<number>()
    for (let e = 0; e < curve.elements.length; e += ELEMENT_STRIDE) {
      grid.nearElement(curve.elements, e, reach, out)
      for (let j = 0; j < out.count; j++) found.add(out.items[j])
    }
    for (let solidIndex = 0; solidIndex < set.count; solidIndex++) {
      if (curveDistance(curve, set, solidIndex, reach, answer) <= reach) expect(found.has(solidIndex)).toBe(true)
    }
  }
})

test(`every pair of runs that comes within reach is among the pairs found (seed ${SEED})`, () => {
  const draw = seeded(SEED), out = new IndexList(), answer = new Float64Array(PAIR_ANSWER_SIZE)
  let near = 0, found = 0
  for (let job = 0; job < 20; job++) {
    const curves = Array.from({ length: 25 }, () => run(draw, 12_000)), reaches = curves.map(() => between(draw, 30, 80))
    expect(new CurveIndex(curves).nearPairs(reaches, out)).toBe(out.count / 2)
    const pairs = Array.from({ length: out.count / 2 }, (_, i) => `${out.items[2 * i]} ${out.items[2 * i + 1]}`)
    expect(new Set(pairs).size).toBe(pairs.length)
    for (let i = 0; i < curves.length; i++) for (let j = i + 1; j < curves.length; j++) {
      if (centrelineDistance(curves[i], curves[j], Infinity, answer) > reaches[i] + reaches[j]) continue
      near++
      expect(pairs).toContain(`${i} ${j}`)
    }
    found += pairs.length
  }
  expect(near).toBeGreaterThan(20)
  // and the index leaves out most of what is not
  expect(found).toBeLessThan(20 * 25 * 24 / 2 * 0.9)
})
