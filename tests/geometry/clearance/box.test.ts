import { describe, expect, test } from 'vitest'
import { ANSWER_SIZE, ON_CURVE_X, ON_SOLID_X } from '#geometry/clearance/answer.ts'
import { arcBox } from '#geometry/clearance/arcBox.ts'
import { legBox } from '#geometry/clearance/legBox.ts'
import { BOX } from '#geometry/solid/solidSet.ts'
import { type Vec, arcFrom, drawArc, drawLeg, legFrom } from '../../oracle/drawnElements.ts'
import { drawBox, packBox } from '../../oracle/drawnSolids.ts'
import { type Kind, agreesWithSampling, clearanceOf, keepsItsProperties } from '../../oracle/kernelSuite.ts'

const X: Vec = [1, 0, 0], Y: Vec = [0, 1, 0], Z: Vec = [0, 0, 1]
const WORLD: [Vec, Vec, Vec] = [X, Y, Z]
const leg: Kind = { name: 'leg to box', kernel: legBox, kind: BOX, drawSolid: drawBox, drawElement: drawLeg, errorMm: 1e-9 }
const arc: Kind = { name: 'arc to box', kernel: arcBox, kind: BOX, drawSolid: drawBox, drawElement: drawArc, errorMm: 1e-9 }

describe('a straight leg and a box', () => {
  // Closed forms by the nearest face, edge or corner of a box to a segment (Ericson, Real-Time Collision Detection, 5.1.3 and 5.1.9);
  // the last by setting the slope of (1/2)^2 + (0.8 - 0.2 y)^2 + (y - 1)^2 to zero, nearest to a corner from inside the leg.
  const unitBox = packBox([0.5, 0.5, 0.5], [0.5, 0.5, 0.5], WORLD)
  test.each<[Vec, Vec, number]>([
    [[2, 0, 0], [2, 1, 1], 1],
    [[2, 2, 0.5], [3, 3, 0.5], Math.SQRT2],
    [[-1, 2, 0.5], [2, 2, 0.5], 1],
    [[0, 3, 0.5], [3, 0, 0.5], Math.SQRT1_2],
    [[3, 0, 1.5], [0, 3, 1.5], Math.sqrt(3) / 2],
    [[2, 2, 2], [3, 3, 3], Math.sqrt(3)],
    [[1.5, -1, 2], [1.5, 3, 1.2], Math.sqrt(31 / 52)],
  ])('from %j to %j clears the unit box by %d', (start, end, clearance) => {
    expect(clearanceOf(legBox, legFrom(start, end), unitBox)).toBeCloseTo(clearance, 14)
  })
  test('through the middle of the unit box is half a side deep, not merely touching', () => {
    expect(clearanceOf(legBox, legFrom([-1, 0.5, 0.5], [2, 0.5, 0.5]), unitBox)).toBe(-0.5) // every inner point is at most 1/2 from a face
  })

  const chord = packBox([0, 0, 0], [5000, 48.5, 23.5], WORLD) // 10 m of 97 x 47 mm
  test('a leg wholly inside a chord is as deep as its deepest point', () => {
    expect(clearanceOf(legBox, legFrom([-100, 10, 20], [100, 10, 5]), chord)).toBeCloseTo(-18.5, 12) // by hand: 23.5 - 5
  })
  test('a leg along the chord 60 mm over its face clears it by 60 mm everywhere', () => {
    expect(clearanceOf(legBox, legFrom([-300, 0, 83.5], [300, 0, 83.5]), chord)).toBe(60) // by hand
  })
  test('a leg lying in the face of the chord touches it', () => {
    expect(clearanceOf(legBox, legFrom([-300, 0, 23.5], [300, 0, 23.5]), chord)).toBe(0) // by hand
  })
  test('a leg of no length is a point, outside and inside', () => {
    expect(clearanceOf(legBox, legFrom([5003, 52.5, 0], [5003, 52.5, 0]), chord)).toBe(5) // by hand: 3-4-5
    expect(clearanceOf(legBox, legFrom([0, 40, 0], [0, 40, 0]), chord)).toBe(-8.5) // by hand
  })
  test('a leg through a plate of no thickness touches it and is never inside', () => {
    const plate = packBox([0, 0, 0], [150, 20, 0], WORLD)
    expect(clearanceOf(legBox, legFrom([10, 5, -40], [20, 5, 60]), plate)).toBe(0) // by hand
  })
  test('a leg nowhere near still gives a number, at any finite size', () => {
    const tiny = packBox([1e7, -1e7, 0], [1e-6, 1e-6, 1e-6], WORLD)
    expect(clearanceOf(legBox, legFrom([1e7 - 3, -1e7, 4], [1e7 - 3, -1e7, 1e7]), tiny)).toBeCloseTo(5, 5) // by hand: 3-4-5
  })
  agreesWithSampling(leg, 2500, 20_711)
  keepsItsProperties(leg, 400, 1907)
})

describe('a bend and a box', () => {
  const slab = packBox([0, 0, -50], [1000, 1000, 50], WORLD)
  test('a level bend over a flat chord clears it by the same everywhere', () => {
    expect(clearanceOf(arcBox, arcFrom([0, 0, 40], X, Y, 300, Math.PI / 2), slab)).toBe(40) // by hand
  })
  test('a level bend inside a slab is as deep as its level', () => {
    expect(clearanceOf(arcBox, arcFrom([0, 0, -30], X, Y, 300, Math.PI), slab)).toBe(-30) // by hand
  })
  test('a bend round a post, about its arris, clears it by its radius', () => {
    const post = packBox([-50, -50, 0], [50, 50, 1200], WORLD)
    expect(clearanceOf(arcBox, arcFrom([0, 0, 0], X, Y, 180, Math.PI / 2), post)).toBeCloseTo(180, 12) // by hand: arris at the centre
  })
  test('a bend hanging towards a chord is nearest at its lowest point', () => {
    expect(clearanceOf(arcBox, arcFrom([0, 0, 200], X, [0, 0, -1], 180, Math.PI), slab)).toBeCloseTo(20, 12) // by hand: 200 - 180
  })
  test('a bend that dips into a slab is as deep as its lowest point', () => {
    expect(clearanceOf(arcBox, arcFrom([0, 0, 170], X, [0, 0, -1], 180, Math.PI), slab)).toBeCloseTo(-10, 12) // by hand: 170 - 180
  })
  test('a bend standing on end over an arris is nearest to it along the line from its centre', () => {
    const answer = new Float64Array(ANSWER_SIZE)
    const el = arcFrom([300, 0, 400], [-1, 0, 0], [0, 0, -1], 180, Math.PI / 2)
    expect(arcBox(el, 0, packBox([-100, 0, -100], [100, 500, 100], WORLD), 0, Infinity, answer)).toBeCloseTo(320, 12) // by hand: 500 - 180
    expect(answer[ON_CURVE_X]).toBeCloseTo(192, 10) // 300 - 180 x 3/5
    expect(answer[ON_CURVE_X + 2]).toBeCloseTo(256, 10) // 400 - 180 x 4/5
    expect([answer[ON_SOLID_X], answer[ON_SOLID_X + 2]]).toEqual([0, 0])
  })
  test('a whole turn round a box touches it at no corner nearer than the circle allows', () => {
    const post = packBox([0, 0, 0], [30, 40, 500], WORLD)
    expect(clearanceOf(arcBox, arcFrom([0, 0, 0], X, Y, 120, 2 * Math.PI), post)).toBeCloseTo(70, 12) // by hand: 120 - 50
  })
  agreesWithSampling(arc, 2500, 20_712)
  keepsItsProperties(arc, 400, 1908)
})
