import { expect, test } from 'vitest'
import { centrelineOf, writeArc, writeLeg } from '#geometry/curve/build.ts'
import { ELEMENT_STRIDE, END_X, START_X, STATION } from '#geometry/curve/centreline.ts'
import { clipped, directionAt, elementBounds, moved, pointAt, reversed } from '#geometry/curve/measure.ts'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import { axesOfRotation } from '#geometry/solid/rotation.ts'
import { axes, drawArc, drawLeg, seeded } from '../../oracle/drawnElements.ts'
import { elementPoint } from '../../oracle/solidDistance.ts'

const run = centrelineThrough([0, 0, 0, 1000, 0, 0, 1000, 800, 0, 1000, 800, 600], [0, 180, 150, 0]).centreline
const point = (station: number, curve = run) => {
  const out = [0, 0, 0]
  pointAt(curve, station, out)
  return out
}
const direction = (station: number, curve = run) => {
  const out = [0, 0, 0]
  directionAt(curve, station, out)
  return out
}
const close = (a: ArrayLike<number>, b: ArrayLike<number>, digits = 9) => Array.from(a).forEach((x, k) => expect(x).toBeCloseTo(b[k], digits))

test('half way round a bend the run points half way between its legs', () => {
  const middle = 820 + 90 * Math.PI / 2
  close(direction(middle), [Math.SQRT1_2, Math.SQRT1_2, 0])
  close(point(middle), [820 + 180 * Math.SQRT1_2, 180 - 180 * Math.SQRT1_2, 0])
})

test('beyond its ends a run is measured at its ends', () => {
  close(point(-50), [0, 0, 0])
  close(point(1e9), [1000, 800, 600])
  close(direction(1e9), [0, 0, 1])
})

test('a stretch keeps the stations of the whole run', () => {
  for (const [from, to] of [[100, 2000], [850, 900], [820, 1000], [0, 1e9], [1200, 1700]]) {
    const part = clipped(run, from, to)
    const end = Math.min(to, run.lengthMm)
    expect(part.elements[STATION]).toBeCloseTo(from, 9)
    expect(part.lengthMm).toBeCloseTo(end - from, 9)
    for (let i = 0; i <= 20; i++) {
      const station = from + (end - from) * i / 20
      close(point(station, part), point(station))
      close(direction(station, part), direction(station))
    }
  }
})

test('a stretch from a place to itself is one point', () => {
  const part = clipped(run, 900, 900)
  expect([part.count, part.lengthMm, part.elements[STATION]]).toEqual([1, 0, 900])
  close(part.elements.subarray(START_X, START_X + 3), point(900))
})

test('a run walked backwards passes the same points the other way', () => {
  const back = reversed(run)
  expect(back.lengthMm).toBe(run.lengthMm)
  for (let station = 0; station <= run.lengthMm; station += 37.3) {
    close(point(run.lengthMm - station, back), point(station))
    if (station > 0) close(direction(run.lengthMm - station, back), direction(station).map((x) => -x), 6)
  }
  close(reversed(back).elements, run.elements)
})

test('a run moved rigidly keeps its lengths and carries its points along', () => {
  const m = [...axesOfRotation(20, -35, 110), 500, -20, 3000]
  const there = moved(run, m)
  for (let station = 0; station <= run.lengthMm; station += 41.7) {
    const [x, y, z] = point(station)
    close(point(station, there), [0, 1, 2].map((k) => m[k] * x + m[3 + k] * y + m[6 + k] * z + m[9 + k]))
  }
})

const SEED = 11
test(`the bounds of legs and bends are exact (seed ${SEED})`, () => {
  const draw = seeded(SEED), out = new Float64Array(6)
  for (let i = 0; i < 1000; i++) {
    const el = (i % 2 ? drawArc : drawLeg)(draw, [0, 0, 0], 500, axes(draw))
    elementBounds(el, 0, out)
    const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity]
    for (let j = 0; j <= 2000; j++) {
      elementPoint(el, 0, j / 2000).forEach((x, k) => {
        low[k] = Math.min(low[k], x)
        high[k] = Math.max(high[k], x)
      })
    }
    for (let k = 0; k < 3; k++) {
      // sampled bounds lie inside the true ones, by at most the sagitta of a sample: R (2 pi / 2000)^2 / 8
      expect(out[k]).toBeLessThanOrEqual(low[k] + 1e-9)
      expect(out[3 + k]).toBeGreaterThanOrEqual(high[k] - 1e-9)
      expect(low[k] - out[k]).toBeLessThan(3e-3)
      expect(out[3 + k] - high[k]).toBeLessThan(3e-3)
    }
  }
})

test('legs and arcs written by hand read back as a run', () => {
  const elements = new Float64Array(2 * ELEMENT_STRIDE)
  writeLeg(elements, 0, 0, 0, 0, 100, 0, 0, 5)
  writeArc(elements, ELEMENT_STRIDE, [100, 50, 0], [0, -1, 0], [1, 0, 0], 50, Math.PI / 2, 105)
  const curve = centrelineOf(elements)
  expect(curve.lengthMm).toBeCloseTo(100 + 25 * Math.PI, 9)
  close(elements.subarray(ELEMENT_STRIDE + END_X, ELEMENT_STRIDE + END_X + 3), [150, 50, 0])
  expect(() => centrelineOf(new Float64Array(0))).toThrow(/at least one element/)
})
