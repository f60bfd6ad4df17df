import RAPIER from '@dimforge/rapier3d-compat'
import { beforeAll, describe, expect, test } from 'vitest'
import { solidsApart } from '#geometry/apart/solidsApart.ts'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import { SolidSetBuilder } from '#geometry/solid/build.ts'
import { distanceToSolid } from '#geometry/solid/inside.ts'
import { BOX, CYLINDER, PRISM, type SolidKind, type SolidSet } from '#geometry/solid/solidSet.ts'
import { between, seeded, type Draw } from '../../oracle/drawnElements.ts'
import { peerBox, peerCylinder, peerPrism, type PeerShape } from '../../oracle/peerShapes.ts'
import { setOf, stand, stood } from '../../oracle/placedShapes.ts'
import { signedDistance } from '../../oracle/solidDistance.ts'

const UPRIGHT = [1, 0, 0, 0, 1, 0, 0, 0, 1]
const built = (...add: ((builder: SolidSetBuilder) => void)[]): SolidSet => {
  const builder = new SolidSetBuilder()
  for (const one of add) one(builder)
  return builder.build()
}
const boxAt = (centre: number[], half: number[]) => (builder: SolidSetBuilder) => void builder.addBox(centre, half, UPRIGHT)
const rod = (centre: number[], axis: number[], radius: number, half: number) => (builder: SolidSetBuilder) => void builder.addCylinder(centre, axis, radius, half)

describe('between two bodies', () => {
  test('two boxes that face each other over part of their sides: the gap', () => {
    const set = built(boxAt([0, 0, 0], [100, 50, 20]), boxAt([90, 20, 75], [100, 10, 20]))
    expect(solidsApart(set, 0, set, 1).distanceMm).toBeCloseTo(35, 12)
  })

  test('two rods crossing: axes 100 apart less both radii', () => {
    const set = built(rod([0, 0, 0], [1, 0, 0], 30, 500), rod([10, 20, 100], [0, 1, 0], 25, 500))
    const { distanceMm, onFirst, onSecond } = solidsApart(set, 0, set, 1)
    expect(distanceMm).toBeCloseTo(45, 12)
    expect(onFirst).toEqual([10, 0, 30].map((v) => expect.closeTo(v, 9)))
    expect(onSecond).toEqual([10, 0, 75].map((v) => expect.closeTo(v, 9)))
  })

  test('a soil pipe right through a slab overlaps it, though no edge of either is in the other', () => {
    const set = built(boxAt([0, 0, 0], [1000, 1000, 100]), rod([0, 0, 0], [0, 0, 1], 55, 1500))
    const { distanceMm, depthIsExact } = solidsApart(set, 0, set, 1)
    expect(distanceMm).toBeLessThan(0)
    expect(depthIsExact).toBe(false)
  })

  test('the same pipe through a hole of 80 mm radius in the slab clears it by 25 mm at the corners of the hole drawn square', () => {
    const hole = [-80, -80, 80, -80, 80, 80, -80, 80]
    const set = built(
      (builder) => void builder.addPrism([0, 0, 0], UPRIGHT, -100, 100, [[-1000, -1000, 1000, -1000, 1000, 1000, -1000, 1000], hole]),
      rod([0, 0, 0], [0, 0, 1], 55, 1500),
    )
    expect(solidsApart(set, 0, set, 1).distanceMm).toBeCloseTo(25, 4)
  })

  test('crossed rods too near overlap, a thin rod in a wide one overlaps, a box in a box overlaps', () => {
    const crossed = built(rod([0, 0, 0], [1, 0, 0], 30, 500), rod([0, 0, 50], [0, 1, 0], 25, 500))
    const nested = built(rod([0, 0, 0], [1, 0, 0], 30, 100), rod([0, 0, 0], [1, 0, 0], 5, 500))
    const inBox = built(boxAt([0, 0, 0], [100, 100, 100]), boxAt([0, 0, 0], [10, 10, 10]))
    for (const set of [crossed, nested, inBox]) expect(solidsApart(set, 0, set, 1).distanceMm).toBeLessThan(0)
  })

  test('boxes and prisms flush on some faces overlap or touch by the others', () => {
    const plate = (x0: number, x1: number, y0: number, y1: number) => (builder: SolidSetBuilder) => void builder.addPrism([0, 0, 0], UPRIGHT, -20, 20, [[x0, y0, x1, y0, x1, y1, x0, y1]])
    const block = (x0: number, x1: number, y0: number, y1: number) => boxAt([(x0 + x1) / 2, (y0 + y1) / 2, 0], [(x1 - x0) / 2, (y1 - y0) / 2, 20])
    for (const [one, two] of [[block, block], [block, plate], [plate, block], [plate, plate]]) {
      // a cross, a step on, a step aside, and one wholly flush with the other
      for (const [c, d, e, f] of [[40, 60, -50, 150], [50, 150, 0, 100], [50, 150, 50, 150], [0, 100, 0, 100]]) {
        const set = built(one(0, 100, 0, 100), two(c, d, e, f))
        expect(solidsApart(set, 0, set, 1).distanceMm, `${c} ${d} ${e} ${f}`).toBeLessThan(0)
      }
      // side by side, and corner to corner
      for (const [c, d, e, f] of [[100, 200, 0, 100], [100, 200, 30, 60], [100, 200, 100, 200]]) {
        const set = built(one(0, 100, 0, 100), two(c, d, e, f))
        expect(solidsApart(set, 0, set, 1).distanceMm).toBeCloseTo(0, 9)
        expect(solidsApart(set, 0, set, 1).distanceMm).not.toBeLessThan(-1e-9)
      }
    }
  })

  test('rods flush at their ends overlap, rods end to end touch', () => {
    const one = rod([0, 0, 0], [0, 0, 1], 30, 50)
    const flush = built(one, rod([40, 0, 0], [0, 0, 1], 30, 50)), same = built(one, one), onTop = built(one, rod([0, 0, 100], [0, 0, 1], 30, 50)), beside = built(one, rod([60, 0, 0], [0, 0, 1], 30, 50))
    for (const set of [flush, same]) expect(solidsApart(set, 0, set, 1).distanceMm).toBeLessThan(-1e-4)
    for (const set of [onTop, beside]) expect(Math.abs(solidsApart(set, 0, set, 1).distanceMm)).toBeLessThan(1e-4)
  })

  test('against a pipe with bends: the depth of an overlap is exact', () => {
    const pipe = (z: number) => (builder: SolidSetBuilder) => void builder.addTube(centrelineThrough([0, 0, z, 500, 0, z, 500, 500, z], [0, 100, 0]).centreline, 40)
    const beam = boxAt([200, 0, 0], [50, 200, 50])
    const clear = built(pipe(120), beam), cut = built(pipe(80), beam), both = built(pipe(0), pipe(100))
    expect(solidsApart(clear, 0, clear, 1).distanceMm).toBeCloseTo(30, 9)
    const { distanceMm, depthIsExact } = solidsApart(cut, 0, cut, 1)
    expect(distanceMm).toBeCloseTo(-10, 9)
    expect(depthIsExact).toBe(true)
    expect(solidsApart(both, 0, both, 1).distanceMm).toBeCloseTo(20, 9)
  })
})

const SHAPES: readonly (readonly [string, SolidKind, (draw: Draw) => PeerShape])[] = [['box', BOX, peerBox], ['cylinder', CYLINDER, peerCylinder], ['prism', PRISM, peerPrism]]
const PAIRS = SHAPES.flatMap((a, i) => SHAPES.slice(i).map((b) => [`${a[0]} and ${b[0]}`, a, b] as const))
const COUNT = 40

describe.each(PAIRS)('%s thrown at random', (_name, [, kindA, drawA], [, kindB, drawB]) => {
  beforeAll(() => RAPIER.init())

  test.each([1, 2])('the points told lie on both surfaces, no sampled point is nearer, and a physics engine and a mesh library say the same (seed %i)', (seed) => {
    const draw = seeded(seed * 7919 + kindA * 31 + kindB)
    const reach = 420
    let clear = 0, engineBelow = 0, engineWorst = 0, meshWorst = 0, overlapping = 0
    for (let n = 0; n < COUNT; n++) {
      const a = drawA(draw), b = drawB(draw), there = stand(draw, reach)
      const first = setOf(kindA, a.data), second = setOf(kindB, stood(kindB, b.data, there))
      const { distanceMm, onFirst, onSecond } = solidsApart(first, 0, second, 0)
      const back = solidsApart(second, 0, first, 0)
      expect(Math.abs(back.distanceMm - distanceMm), `case ${n} the other way round`).toBeLessThan(distanceMm > 0 ? 1e-3 : Infinity)
      const engine = a.rapier.contactShape({ x: 0, y: 0, z: 0 }, { x: 0, y: 0, z: 0, w: 1 }, b.rapier, { x: there.at[0], y: there.at[1], z: there.at[2] }, there.turn, 5000)
      const mesh = a.mesh.intersectsGeometry(b.mesh.geometry, there.matrix) ? 0 : a.mesh.closestPointToGeometry(b.mesh.geometry, there.matrix)!.distance
      if (distanceMm <= 0) {
        overlapping++
        // the meshes' facets lie within the round surfaces; one body within the other touches no surface
        if (Math.abs(distanceMm) > a.facetMm + b.facetMm + 0.1) expect(mesh === 0 || mesh > 0 && isWithinOther(kindA, a.data, second, kindB), `case ${n} overlaps`).toBe(true)
        continue
      }
      clear++
      expect(Math.abs(distanceToSolid(first, 0, onFirst[0], onFirst[1], onFirst[2], foot)), `case ${n} on the first`).toBeLessThan(1e-4)
      expect(Math.abs(distanceToSolid(second, 0, onSecond[0], onSecond[1], onSecond[2], foot)), `case ${n} on the second`).toBeLessThan(1e-4)
      expect(Math.hypot(onFirst[0] - onSecond[0], onFirst[1] - onSecond[1], onFirst[2] - onSecond[2])).toBeCloseTo(distanceMm, 3)
      const other = signedDistance(kindB, second.data)
      for (let k = 0; k < 40; k++) {
        // a point of the first one's surface: the one nearest to a point thrown about its nearest place
        const spread = between(draw, 1, 150)
        const q = onFirst.map((v) => v + between(draw, -spread, spread))
        distanceToSolid(first, 0, q[0], q[1], q[2], foot)
        expect(other([foot[0], foot[1], foot[2]]), `case ${n}: a sampled point is nearer`).toBeGreaterThan(distanceMm - 1e-4)
      }
      if (a.engineFilled && b.engineFilled) {
        engineWorst = Math.max(engineWorst, engine!.distance - distanceMm)
        engineBelow = Math.max(engineBelow, distanceMm - engine!.distance)
      }
      meshWorst = Math.max(meshWorst, Math.max(mesh - distanceMm - a.facetMm - b.facetMm, distanceMm - mesh))
    }
    console.log(`seed ${seed}: ${clear} clear, ${overlapping} overlapping; engine up to ${engineWorst.toFixed(4)} mm more and ${engineBelow.toFixed(4)} mm less, mesh library within ${meshWorst.toFixed(4)} mm of facets`)
    expect(clear).toBeGreaterThan(10)
    expect(overlapping).toBeGreaterThan(2)
    // the engine counts in floats of 24 bits and stops early against round sides: it may say more, but our two points prove the less
    expect(engineBelow).toBeLessThan(0.001)
    expect(engineWorst).toBeLessThan(kindA === CYLINDER || kindB === CYLINDER ? 0.5 : 0.001)
    expect(meshWorst).toBeLessThan(0.01)
  })
})

const foot = new Float64Array(3)

function isWithinOther(kind: SolidKind, data: Float64Array, other: SolidSet, otherKind: SolidKind): boolean {
  const inner = signedDistance(kind, data), outer = signedDistance(otherKind, other.data)
  return outer([data[0], data[1], data[2]]) < 0 || inner([other.data[0], other.data[1], other.data[2]]) < 0
}
