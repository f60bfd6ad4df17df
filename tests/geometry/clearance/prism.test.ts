import { describe, expect, test } from 'vitest'
import { arcPrism } from '#geometry/clearance/arcPrism.ts'
import { legPrism } from '#geometry/clearance/legPrism.ts'
import { PRISM } from '#geometry/solid/solidSet.ts'
import { type Vec, arcFrom, drawArc, drawLeg, legFrom } from '../../oracle/drawnElements.ts'
import { drawPrism, packPrism } from '../../oracle/drawnSolids.ts'
import { type Kind, agreesWithSampling, clearanceOf, keepsItsProperties } from '../../oracle/kernelSuite.ts'

const X: Vec = [1, 0, 0], Y: Vec = [0, 1, 0], Z: Vec = [0, 0, 1]
const WORLD: [Vec, Vec, Vec] = [X, Y, Z]
const leg: Kind = { name: 'leg to prism', kernel: legPrism, kind: PRISM, drawSolid: drawPrism, drawElement: drawLeg, errorMm: 1e-9 }
const arc: Kind = { name: 'arc to prism', kernel: arcPrism, kind: PRISM, drawSolid: drawPrism, drawElement: drawArc, errorMm: 1e-7 }

/** an L, 4 m a side with 2 m legs, 200 mm deep, its inner corner at the origin */
const ell = packPrism([0, 0, 0], WORLD, -100, 100, [[[-2000, -2000], [2000, -2000], [2000, 0], [0, 0], [0, 2000], [-2000, 2000]]])
/** a slab 4 m square, 200 mm deep, with a hole 1 m square in the middle */
const holed = packPrism([0, 0, 0], WORLD, -100, 100, [
  [[-2000, -2000], [2000, -2000], [2000, 2000], [-2000, 2000]], [[-500, -500], [-500, 500], [500, 500], [500, -500]],
])

describe('a straight leg and an extruded polygon', () => {
  test('a leg across the notch of an L clears it by what its ends leave to the walls', () => {
    expect(clearanceOf(legPrism, legFrom([30, 100, 0], [100, 30, 0]), ell)).toBeCloseTo(30, 12) // by hand: its ends are 30 off them
  })
  test('a leg down through the hole clears the slab by the distance to the hole', () => {
    expect(clearanceOf(legPrism, legFrom([200, 0, -900], [200, 0, 900]), holed)).toBe(300) // by hand: 500 - 200
  })
  test('a leg over the slab clears it by its height', () => {
    expect(clearanceOf(legPrism, legFrom([700, 0, 130], [1200, 0, 160]), holed)).toBe(30) // by hand
  })
  test('a leg over the hole clears its arris, not the missing slab', () => {
    expect(clearanceOf(legPrism, legFrom([-200, 0, 500], [200, 0, 500]), holed)).toBeCloseTo(500, 12) // by hand: 300 across, 400 up
  })
  test('a leg along the middle of the slab is half its depth down everywhere', () => {
    expect(clearanceOf(legPrism, legFrom([-1800, 1200, 0], [1800, 1200, 0]), holed)).toBe(-100) // by hand
  })
  test('a leg crossing the hole is deepest in the slab either side', () => {
    expect(clearanceOf(legPrism, legFrom([-560, 0, 0], [540, 0, 0]), holed)).toBeCloseTo(-60, 12) // by hand: 560 - 500
  })
  test('a leg inside, past the inner corner of an L, has that corner for its nearest', () => {
    expect(clearanceOf(legPrism, legFrom([-30, -40, 0], [-30, -40, 0]), ell)).toBe(-50) // by hand: 3-4-5
  })
  test('a leg along a wall touches it', () => {
    expect(clearanceOf(legPrism, legFrom([100, 0, 0], [900, 0, 50]), ell)).toBe(0) // by hand
  })
  test('a leg along a wall line that runs on into the slab is as deep as the slab there', () => {
    expect(clearanceOf(legPrism, legFrom([1000, 0, 0], [-1000, 0, 0]), ell)).toBeCloseTo(-100, 12) // by hand: 100 to the top beyond x = -100
  })
  test('a sheet of no depth can be touched but not entered', () => {
    const sheet = packPrism([0, 0, 0], WORLD, 50, 50, [[[0, 0], [600, 0], [600, 600], [0, 600]]])
    expect(clearanceOf(legPrism, legFrom([300, 300, 0], [320, 300, 90]), sheet)).toBe(0) // by hand
    expect(clearanceOf(legPrism, legFrom([300, 300, 60], [320, 300, 90]), sheet)).toBe(10) // by hand
  })
  agreesWithSampling(leg, 2500, 20_715)
  keepsItsProperties(leg, 400, 1911)
})

describe('a bend and an extruded polygon', () => {
  test('a level bend along the middle of a slab is half its depth down everywhere', () => {
    expect(clearanceOf(arcPrism, arcFrom([-1000, 1000, 0], X, Y, 200, Math.PI), ell)).toBeCloseTo(-100, 12) // by hand
  })
  test('a bend inside, about the inner corner of an L, is its radius deep everywhere', () => {
    expect(clearanceOf(arcPrism, arcFrom([0, 0, 0], [0, -1, 0], [-1, 0, 0], 70, Math.PI / 2), ell)).toBeCloseTo(-70, 10) // by hand: nearer than top and bottom at 100
  })
  test('a bend inside, drawn a little off the inner corner of an L, is deepest in its middle, wherever the outline starts', () => {
    const outline: [number, number][] = [[-2000, -2000], [2000, -2000], [2000, 0], [0, 0], [0, 2000], [-2000, 2000]]
    for (let first = 0; first < 6; first++) {
      const turned = packPrism([0, 0, 0], WORLD, -100, 100, [[...outline.slice(first), ...outline.slice(0, first)]])
      for (const turn of [Math.PI / 2, 0.6]) {
        const from = 1.25 * Math.PI + turn / 2 // clockwise past 225 degrees, straight away from the corner
        const el = arcFrom([-5, -5, 0], [Math.cos(from), Math.sin(from), 0], [Math.sin(from), -Math.cos(from), 0], 70, turn)
        expect(clearanceOf(arcPrism, el, turned)).toBeCloseTo(-70 - Math.sqrt(50), 6) // by hand
      }
    }
  })
  test('a bend in the notch of an L, about its corner, ends square on both walls', () => {
    expect(clearanceOf(arcPrism, arcFrom([0, 0, 0], X, Y, 180, Math.PI / 2), ell)).toBeCloseTo(0, 10) // by hand
  })
  test('a level bend over a slab clears it by its height', () => {
    expect(clearanceOf(arcPrism, arcFrom([1200, 1200, 140], X, Y, 300, 2 * Math.PI), holed)).toBeCloseTo(40, 12) // by hand
  })
  test('a standing bend is nearest to the slab below where it turns over', () => {
    expect(clearanceOf(arcPrism, arcFrom([1200, 0, 400], X, [0, 0, -1], 180, Math.PI), holed)).toBeCloseTo(120, 12) // by hand: 400 - 180 - 100
  })
  test('a bend turning inside the hole clears its sides by what the radius leaves', () => {
    expect(clearanceOf(arcPrism, arcFrom([0, 0, 0], X, Y, 180, 2 * Math.PI), holed)).toBeCloseTo(320, 12) // by hand: 500 - 180
  })
  test('a bend that just fills the hole, or just reaches the top, touches the slab and is nowhere inside', () => {
    for (const turn of [Math.PI, 2 * Math.PI]) expect(clearanceOf(arcPrism, arcFrom([0, 0, 0], X, Y, 500, turn), holed)).toBeCloseTo(0, 10) // by hand
    expect(clearanceOf(arcPrism, arcFrom([1200, 0, 280], X, [0, 0, -1], 180, Math.PI), holed)).toBeCloseTo(0, 10) // by hand: from above
  })
  agreesWithSampling(arc, 2500, 20_716)
  keepsItsProperties(arc, 400, 1912)
})
