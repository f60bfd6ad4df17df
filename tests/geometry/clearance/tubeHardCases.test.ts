import { beforeEach, describe, expect, test } from 'vitest'
import { arcArc } from '#geometry/clearance/arcArc.ts'
import { ALONG, PAIR_ANSWER_SIZE } from '#geometry/clearance/answer.ts'
import { effort } from '#geometry/clearance/leastToCircle.ts'
import { legArc } from '#geometry/clearance/legArc.ts'
import { legLeg } from '#geometry/clearance/legLeg.ts'
import { axesOfRotation } from '#geometry/solid/rotation.ts'
import { type Vec, arcFrom, legFrom } from '../../oracle/drawnElements.ts'

const answer = new Float64Array(PAIR_ANSWER_SIZE)
const legs = (a0: Vec, a1: Vec, b0: Vec, b1: Vec) => legLeg(legFrom(a0, a1), 0, legFrom(b0, b1), 0, Infinity, answer)
const legToArc = (from: Vec, to: Vec, arc: Float64Array) => legArc(legFrom(from, to), 0, arc, 0, Infinity, answer)
const arcs = (a: Float64Array, b: Float64Array) => arcArc(a, 0, b, 0, Infinity, answer)
/** An arc in plan about a centre, from +x, counter-clockwise. */
const flat = (centre: Vec, radius: number, turnDeg: number, fromDeg = 0) => {
  const [ux, uy, uz, vx, vy, vz] = axesOfRotation(0, 0, fromDeg)
  return arcFrom(centre, [ux, uy, uz], [vx, vy, vz], radius, turnDeg * Math.PI / 180)
}

describe('legs', () => {
  test.each<[string, Vec, Vec, Vec, Vec, number]>([
    ['side by side', [0, 0, 0], [1000, 0, 0], [200, 100, 0], [1200, 100, 0], 100],
    ['side by side, the other way round', [0, 0, 0], [1000, 0, 0], [1200, 100, 0], [200, 100, 0], 100],
    ['parallel but past each other', [0, 0, 0], [1000, 0, 0], [1300, 400, 0], [2000, 400, 0], 500], // 3-4-5
    ['in one line with a gap', [0, 0, 0], [1000, 0, 0], [1250, 0, 0], [3000, 0, 0], 250],
    ['in one line, overlapping', [0, 0, 0], [1000, 0, 0], [500, 0, 0], [3000, 0, 0], 0],
    ['the same leg', [3, 4, 5], [1000, 70, 8], [3, 4, 5], [1000, 70, 8], 0],
    ['crossing at right angles, one above the other', [-500, 0, 0], [500, 0, 0], [0, -500, 120], [0, 500, 120], 120],
    ['crossing', [-500, -500, 7], [500, 500, 7], [-500, 500, 7], [500, -500, 7], 0],
    ['one of no length', [0, 0, 0], [1000, 0, 0], [500, 30, 40], [500, 30, 40], 50],
    ['both of no length', [0, 0, 0], [0, 0, 0], [2, 3, 6], [2, 3, 6], 7],
    ['end to end square', [0, 0, 0], [1000, 0, 0], [1000, 0, 0], [1000, 800, 0], 0],
  ])('%s', (_, a0, a1, b0, b1, gap) => {
    expect(legs(a0, a1, b0, b1)).toBeCloseTo(gap, 10)
    expect(legs(b0, b1, a0, a1)).toBeCloseTo(gap, 10)
  })

  test.each([1e-3, 1e-6, 1e-8, 1e-10, 1e-13, 1e-15])('10 m legs 50 mm apart that lean by %f rad to each other', (lean) => {
    // the second leg passes 50 mm above the first half way along both and turns in its own level
    const dy = 5000 * Math.sin(lean), dx = 5000 * Math.cos(lean)
    expect(legs([-5000, 0, 0], [5000, 0, 0], [-dx, -dy, 50], [dx, dy, 50])).toBeCloseTo(50, 9)
    // leaning towards it: touches the 50 mm only at the near end
    expect(legs([0, 0, 0], [10000, 0, 0], [0, 0, 50], [10000 * Math.cos(lean), 0, 50 + 10000 * Math.sin(lean)])).toBeCloseTo(50, 9)
  })

  test('from a hundredth of a millimetre to ten kilometres the answer only scales', () => {
    for (const scale of [1e-2, 1, 1e3, 1e7]) {
      const by = (...v: Vec): Vec => [v[0] * scale, v[1] * scale, v[2] * scale]
      expect(legs(by(0, 0, 0), by(1, 0, 0), by(0.5, -1, 0.25), by(0.5, 1, 0.25)) / scale).toBeCloseTo(0.25, 12)
      expect(legs(by(0, 0, 0), by(1, 0, 0), by(0, 1, 0), by(1, 1 + 1e-9, 0)) / scale).toBeCloseTo(1, 12)
    }
  })
})

describe('a leg and a bend', () => {
  const ring = flat([0, 0, 0], 200, 360)
  test.each<[string, Vec, Vec, Float64Array, number]>([
    ['along the axis of a whole circle: 200 mm everywhere', [0, 0, -500], [0, 0, 500], ring, 200],
    ['along the axis, but stopping short', [0, 0, 150], [0, 0, 900], ring, 250], // 3-4-5
    ['touching the circle from outside', [-500, 200, 0], [500, 200, 0], ring, 0],
    ['crossing the circle', [-500, 20, 0], [500, 20, 0], ring, 0],
    ['inside the circle, off its centre', [-50, 30, 0], [70, 30, 0], ring, 200 - Math.hypot(70, 30)],
    ['above the circle, over its edge', [-900, 200, 75], [900, 200, 75], ring, 75],
    ['carrying on from a bend it is tangent to', [200, 0, 0], [200, -600, 0], flat([0, 0, 0], 200, 90), 0],
    ['facing the missing half of a half circle', [0, -300, 0], [0, -900, 0], flat([0, 0, 0], 200, 180), Math.hypot(200, 300)],
    ['of no length, at the centre', [0, 0, 0], [0, 0, 0], flat([0, 0, 0], 200, 70), 200],
    ['a kilometre long, past a small bend', [-5e5, 60, 8], [5e5, 60, 8], flat([0, 0, 0], 52, 180), Math.hypot(8, 8)],
  ])('%s', (_, from, to, arc, gap) => {
    expect(legToArc(from, to, arc)).toBeCloseTo(gap, 8)
    expect(legToArc(to, from, arc)).toBeCloseTo(gap, 8)
  })
})

describe('two bends', () => {
  beforeEach(() => { effort.intervals = 0 })

  test.each<[string, Float64Array, Float64Array, number]>([
    ['one inside the other: 60 mm all the way', flat([0, 0, 0], 180, 90), flat([0, 0, 0], 240, 90), 60],
    ['stacked and turning together: 110 mm all the way', flat([0, 0, 0], 180, 90), flat([0, 0, 110], 180, 90), 110],
    ['stacked, of two radii', flat([0, 0, 0], 180, 90), flat([0, 0, 80], 240, 90), 100],
    ['on one axis, but turning apart', flat([0, 0, 0], 180, 90), flat([0, 0, 110], 180, 90, 180), Math.hypot(110, 180 * Math.SQRT2)],
    ['two whole circles on one axis', flat([0, 0, 0], 100, 360), flat([0, 0, 300], 500, 360), 500],
    ['the same bend', flat([5, 6, 7], 180, 90), flat([5, 6, 7], 180, 90), 0],
    ['two arcs of one circle, 90 degrees apart at both ends', flat([0, 0, 0], 100, 90), flat([0, 0, 0], 100, 90, 180), 100 * Math.SQRT2],
    ['two circles side by side', flat([0, 0, 0], 100, 360), flat([350, 0, 0], 200, 360), 50],
    ['two circles that touch', flat([0, 0, 0], 100, 360), flat([300, 0, 0], 200, 360), 0],
    ['two circles that cross', flat([0, 0, 0], 100, 360), flat([250, 0, 0], 200, 360), 0],
    ['links of a chain, each through the middle of the other: 100 mm all the way', flat([0, 0, 0], 100, 360),
      arcFrom([100, 0, 0], [1, 0, 0], [0, 0, 1], 100, 2 * Math.PI), 100],
    ['a bend about the other one\'s axis, square to it', flat([0, 0, 0], 200, 360), arcFrom([0, 0, 0], [0, 0, 1], [1, 0, 0], 50, 2 * Math.PI), 150],
  ])('%s', (_, a, b, gap) => {
    expect(arcs(a, b)).toBeCloseTo(gap, 8)
    expect(arcs(b, a)).toBeCloseTo(gap, 8)
    expect(effort.intervals).toBeLessThan(400)
  })

  test('a slanting circle on a torus is one tube radius from its core everywhere', () => { // Villarceau's circles (1848): radius R, through a plane that leans by asin(r / R)
    const core = 300, tube = 120, lean = Math.asin(tube / core)
    const villarceau = arcFrom([0, tube, 0], [Math.cos(lean), 0, Math.sin(lean)], [0, 1, 0], core, 2 * Math.PI)
    expect(arcs(villarceau, flat([0, 0, 0], core, 360))).toBeCloseTo(tube, 8)
    expect(arcs(flat([0, 0, 0], core, 360), villarceau)).toBeCloseTo(tube, 8)
    for (let i = 0; i < 12; i++) {
      const piece = flat([0, 0, 0], core, 20, 30 * i)
      expect(arcs(piece, villarceau)).toBeCloseTo(tube, 8)
    }
    expect(effort.intervals).toBeLessThan(1500)
  })

  test.each([1e-12, 1e-9, 1e-6, 1e-4, 1e-2, 1])('stacked bends %f mm from constant distance', (off) => {
    const exact = arcs(flat([0, 0, 0], 180, 90), flat([0, 0, 110], 180, 90))
    const bumped = arcs(flat([0, 0, 0], 180, 90), flat([off, 0, 110], 180, 90))
    // moving one bend by `off` changes the gap by no more
    expect(Math.abs(bumped - exact)).toBeLessThanOrEqual(off + 1e-9)
    expect(effort.intervals).toBeLessThan(300)
  })

  test('bends of 50 m radius a hair apart are still told apart', () => {
    expect(arcs(flat([0, 0, 0], 50_000, 90), flat([0, 0, 0.5], 50_000, 90))).toBeCloseTo(0.5, 4)
    expect(arcs(flat([0, 0, 0], 50_000, 90), flat([0, 0, 0], 50_010, 90))).toBeCloseTo(10, 4)
    expect(effort.intervals).toBeLessThan(1000)
  })

  test('above the cutoff any larger number will do, and the answer is left alone', () => {
    answer.fill(-7)
    expect(arcArc(flat([0, 0, 0], 180, 90), 0, flat([0, 0, 110], 180, 90), 0, 109, answer)).toBeGreaterThan(109)
    expect(legArc(legFrom([0, 0, -500], [0, 0, 500]), 0, flat([0, 0, 0], 200, 360), 0, 150, answer)).toBeGreaterThan(150)
    expect(legLeg(legFrom([0, 0, 0], [9, 0, 0]), 0, legFrom([0, 40, 0], [9, 40, 0]), 0, 39, answer)).toBeGreaterThan(39)
    expect(Array.from(answer)).toEqual(new Array(PAIR_ANSWER_SIZE).fill(-7))
    expect(arcArc(flat([0, 0, 0], 180, 90), 0, flat([0, 0, 110], 180, 90), 0, 110, answer)).toBe(110)
    expect(answer[ALONG]).toBeGreaterThanOrEqual(0)
  })
})
