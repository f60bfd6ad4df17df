import { expect, test } from 'vitest'
import { ARC, CENTRE_X, ELEMENT_STRIDE, END_X, KIND, LEG, LENGTH, RADIAL_X, RADIUS, START_X, STATION, TANGENT_X, TURN } from '#geometry/curve/centreline.ts'
import { pointAt } from '#geometry/curve/measure.ts'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import { SAME_POINT_MM } from '#geometry/tolerance.ts'
import { between, pick, seeded } from '../../oracle/drawnElements.ts'

const at = (elements: Float64Array, i: number, offset: number) => Array.from(elements.subarray(i * ELEMENT_STRIDE + offset, i * ELEMENT_STRIDE + offset + 3))

test('a 90 degree bend of 180 mm takes exactly 180 mm of each leg', () => {
  const { centreline, bends } = centrelineThrough([0, 0, 100, 1000, 0, 100, 1000, 2000, 100], [0, 180, 0])
  const { elements, count, lengthMm } = centreline
  expect(count).toBe(3)
  expect(bends).toEqual([{ waypointIndex: 1, turnRad: Math.PI / 2, askedMm: 180, radiusMm: 180, tangentMm: 180, elementIndex: 1, stationMm: 820 + 90 * Math.PI / 2 }])
  expect(at(elements, 0, END_X)).toEqual([820, 0, 100])
  expect(at(elements, 1, CENTRE_X)).toEqual([820, 180, 100])
  expect(at(elements, 1, END_X)).toEqual([1000, 180, 100])
  expect(lengthMm).toBeCloseTo(820 + 180 * Math.PI / 2 + 1820, 9)
})

test.each([[10], [30], [45], [60], [90], [120], [170]])('a bend of %i degrees takes R * tan(turn / 2) of each leg', (deg) => { // tangent length of a circular curve, any surveying text
  const turn = deg * Math.PI / 180
  const { centreline, bends } = centrelineThrough([-9000, 0, 0, 0, 0, 0, 9000 * Math.cos(turn), 0, 9000 * Math.sin(turn)], [0, 150, 0])
  expect(bends[0].turnRad).toBeCloseTo(turn, 12)
  expect(bends[0].tangentMm).toBeCloseTo(150 * Math.tan(turn / 2), 8)
  expect(centreline.elements[ELEMENT_STRIDE + LENGTH]).toBeCloseTo(150 * turn, 8)
})

test('a 125 mm duct bend with R = D is an arc of 196.35 mm', () => { // 125 * pi / 2
  const { centreline } = centrelineThrough([0, 0, 0, 500, 0, 0, 500, 0, 500], [0, 125, 0])
  expect(centreline.elements[ELEMENT_STRIDE + LENGTH]).toBeCloseTo(196.35, 2)
})

test('two 180 mm bends on a leg of 200 mm are both shrunk to 100 mm, and the empty leg between them goes', () => {
  const { centreline, bends } = centrelineThrough([0, 0, 0, 1000, 0, 0, 1000, 200, 0, 2000, 200, 0], [0, 180, 180, 0])
  expect(bends.map(({ askedMm, radiusMm, elementIndex }) => [askedMm, radiusMm, elementIndex])).toEqual([[180, 100, 1], [180, 100, 2]])
  expect(Array.from({ length: centreline.count }, (_, i) => centreline.elements[i * ELEMENT_STRIDE + KIND])).toEqual([LEG, ARC, ARC, LEG])
})

test('room that a small bend leaves goes to the large one beside it', () => {
  // the first bend is held back by the short first leg, so the second may have the rest of the leg between them
  const { bends } = centrelineThrough([0, 0, 0, 40, 0, 0, 40, 200, 0, 1000, 200, 0], [0, 180, 180, 0])
  expect(bends.map((bend) => bend.radiusMm)).toEqual([40, 160])
})

test('a bend without room for its radius on the end leg fills it, and the run starts with the bend', () => {
  const { centreline, bends } = centrelineThrough([0, 0, 0, 100, 0, 0, 100, 900, 0], [0, 180, 0])
  expect(bends[0].radiusMm).toBe(100)
  expect(centreline.elements[KIND]).toBe(ARC)
  expect(at(centreline.elements, 0, START_X)).toEqual([0, 0, 0])
})

test('a run that turns straight back gets a sharp corner and no arc', () => {
  const { centreline, bends } = centrelineThrough([0, 0, 0, 500, 0, 0, 100, 0, 0], [0, 180, 0])
  expect(bends).toEqual([{ waypointIndex: 1, turnRad: Math.PI, askedMm: 180, radiusMm: 0, tangentMm: 0, elementIndex: -1, stationMm: 500 }])
  expect(centreline.lengthMm).toBe(900)
})

test('a radius of 0 leaves a sharp corner, told as a bend', () => {
  const { centreline, bends } = centrelineThrough([0, 0, 0, 500, 0, 0, 500, 300, 0], [0, 0, 0])
  expect(centreline.count).toBe(2)
  expect(bends).toMatchObject([{ waypointIndex: 1, radiusMm: 0, elementIndex: -1, stationMm: 500 }])
})

test('waypoints straight on make no bend and do not limit the bends beside them', () => {
  const { centreline, bends } = centrelineThrough([0, 0, 0, 400, 0, 0, 450, 0, 0, 500, 0, 0, 500, 50, 0, 500, 600, 0], [0, 180, 180, 180, 180, 0])
  expect(bends.map(({ waypointIndex, radiusMm }) => [waypointIndex, radiusMm])).toEqual([[3, 180]])
  expect(centreline.count).toBe(3)
})

test('a waypoint given twice counts once, with the larger radius', () => {
  const once = centrelineThrough([0, 0, 0, 500, 0, 0, 500, 600, 0], [0, 180, 0])
  const twice = centrelineThrough([0, 0, 0, 0, 0, 0, 500, 0, 0, 500, 0, 0, 500, 600, 0, 500, 600, 0], [0, 9, 20, 180, 9, 0])
  expect(twice.centreline).toEqual(once.centreline)
  expect(twice.bends.map((bend) => bend.waypointIndex)).toEqual([2])
})

test.each([[[1, 2, 3], [0]], [[1, 2, 3, 1, 2, 3], [0, 0]], [[1, 2, 3, 1, 2, 3, 1, 2, 3], [0, 180, 0]]])('a run without length is one leg without length', (points, radii) => {
  const { centreline, bends } = centrelineThrough(points, radii)
  expect(bends).toEqual([])
  expect(centreline.count).toBe(1)
  expect(centreline.lengthMm).toBe(0)
  expect(Array.from(centreline.elements)).not.toContain(NaN)
})

test.each([[[0, 0], [0]], [[], []], [[0, 0, NaN, 1, 0, 0], [0, 0]], [[0, 0, 0, 1, 0, 0], [0, -1]], [[0, 0, 0, 1, 0, 0], [0, Infinity]]])(
  'what cannot be a run is refused by name', (points, radii) => {
    expect(() => centrelineThrough(points, radii)).toThrow(/^centrelineThrough: /)
  })

const SEED = 7
test(`any waypoints make an unbroken smooth run within what was asked (seed ${SEED}, 4000 runs)`, () => {
  const draw = seeded(SEED)
  const after = [0, 0, 0]
  let shrunk = 0
  for (let run = 0; run < 4000; run++) {
    const n = 2 + Math.floor(draw() * 7), grid = pick(draw, [0, 1, 100])
    const coordinate = () => (grid > 0 ? grid * Math.floor(between(draw, -3, 3)) : between(draw, -400, 400))
    const points = Array.from({ length: 3 * n }, coordinate)
    const radii = Array.from({ length: n }, () => pick(draw, [0, 90, 180, between(draw, 0, 400), 1e-9]))
    const { centreline, bends } = centrelineThrough(points, radii)
    const { elements, count, lengthMm } = centreline
    expect(elements.some((x) => Number.isNaN(x))).toBe(false)
    let station = 0
    for (let i = 0; i < count; i++) {
      expect(elements[i * ELEMENT_STRIDE + STATION]).toBeCloseTo(station, 6)
      station += elements[i * ELEMENT_STRIDE + LENGTH]
      if (i > 0) at(elements, i, START_X).forEach((x, k) => expect(Math.abs(x - at(elements, i - 1, END_X)[k])).toBeLessThan(2 * SAME_POINT_MM))
    }
    expect(lengthMm).toBeCloseTo(station, 6)
    for (const bend of bends) {
      expect(bend.radiusMm).toBeLessThanOrEqual(bend.askedMm)
      expect(bend.turnRad).toBeGreaterThan(0)
      if (bend.elementIndex < 0) {
        expect(bend.radiusMm).toBe(0)
        continue
      }
      const e = bend.elementIndex * ELEMENT_STRIDE, startMm = elements[e + STATION], endMm = startMm + elements[e + LENGTH]
      expect([elements[e + KIND], elements[e + RADIUS], elements[e + TURN]]).toEqual([ARC, bend.radiusMm, bend.turnRad])
      expect((startMm + endMm) / 2).toBeCloseTo(bend.stationMm, 6)
      // smooth: the bend starts the way the leg before it goes, and ends the way the leg after it goes
      const isSharpAt = (station: number) => bends.some((other) => other.elementIndex < 0 && Math.abs(other.stationMm - station) < 1e-6)
      if (bend.elementIndex > 0 && !isSharpAt(startMm) && elements[e - ELEMENT_STRIDE + KIND] === LEG) {
        at(elements, bend.elementIndex, TANGENT_X).forEach((x, k) => expect(x).toBeCloseTo(elements[e - ELEMENT_STRIDE + RADIAL_X + k], 6))
      }
      if (bend.elementIndex < count - 1 && !isSharpAt(endMm) && elements[e + ELEMENT_STRIDE + KIND] === LEG) {
        const c = Math.cos(bend.turnRad), s = Math.sin(bend.turnRad), radial = at(elements, bend.elementIndex, RADIAL_X)
        at(elements, bend.elementIndex, TANGENT_X).forEach((x, k) => expect(c * x - s * radial[k]).toBeCloseTo(elements[e + ELEMENT_STRIDE + RADIAL_X + k], 6))
      }
      pointAt(centreline, endMm, after)
      at(elements, bend.elementIndex, END_X).forEach((x, k) => expect(Math.abs(x - after[k])).toBeLessThan(2 * SAME_POINT_MM))
      if (bend.radiusMm < bend.askedMm * 0.999999) shrunk++
    }
  }
  expect(shrunk).toBeGreaterThan(500)
})

test(`a bend is shrunk only where one of its legs is full (seed ${SEED + 1})`, () => {
  const draw = seeded(SEED + 1)
  for (let run = 0; run < 2000; run++) {
    const n = 3 + Math.floor(draw() * 5)
    const points = Array.from({ length: 3 * n }, () => between(draw, -300, 300))
    const { bends } = centrelineThrough(points, Array.from({ length: n }, () => between(draw, 20, 300)))
    const tangent = new Array<number>(n).fill(0)
    bends.forEach((bend) => { tangent[bend.waypointIndex] = bend.tangentMm })
    const spare = Array.from({ length: n - 1 }, (_, i) => Math.hypot(...[0, 1, 2].map((k) => points[3 * i + 3 + k] - points[3 * i + k])) - tangent[i] - tangent[i + 1])
    expect(Math.min(...spare)).toBeGreaterThan(-1e-9)
    for (const bend of bends) {
      if (bend.radiusMm < bend.askedMm) expect(Math.min(spare[bend.waypointIndex - 1], spare[bend.waypointIndex])).toBeLessThan(1e-9)
    }
  }
})
