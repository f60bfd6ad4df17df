import { describe, expect, test } from 'vitest'
import { arcCylinder } from '#geometry/clearance/arcCylinder.ts'
import { legCylinder } from '#geometry/clearance/legCylinder.ts'
import { CYLINDER } from '#geometry/solid/solidSet.ts'
import { type Vec, arcFrom, drawArc, drawLeg, legFrom, unit } from '../../oracle/drawnElements.ts'
import { drawCylinder, packCylinder } from '../../oracle/drawnSolids.ts'
import { type Kind, agreesWithSampling, clearanceOf, keepsItsProperties } from '../../oracle/kernelSuite.ts'

const X: Vec = [1, 0, 0], Y: Vec = [0, 1, 0], Z: Vec = [0, 0, 1]
const leg: Kind = { name: 'leg to cylinder', kernel: legCylinder, kind: CYLINDER, drawSolid: drawCylinder, drawElement: drawLeg, errorMm: 1e-9 }
const arc: Kind = { name: 'arc to cylinder', kernel: arcCylinder, kind: CYLINDER, drawSolid: drawCylinder, drawElement: drawArc, errorMm: 1e-7 }
const stack = packCylinder([0, 0, 0], Z, 55, 1300) // a 110 mm soil stack, 2.6 m

describe('a straight leg and a cylinder', () => {
  test('a level leg passing a stack clears it by the offset less the radius', () => {
    expect(clearanceOf(legCylinder, legFrom([-500, 120, 0], [800, 120, 0]), stack)).toBeCloseTo(65, 12) // by hand: 120 - 55
  })
  test('a leg along the stack clears it by the same everywhere', () => {
    expect(clearanceOf(legCylinder, legFrom([90, 120, -400], [90, 120, 400]), stack)).toBeCloseTo(95, 12) // by hand: 150 - 55
  })
  test('a leg down the middle of the stack is a radius deep', () => {
    expect(clearanceOf(legCylinder, legFrom([0, 0, -400], [0, 0, 400]), stack)).toBe(-55) // by hand
  })
  test('a leg just under the lid is as deep as it is under the lid', () => {
    expect(clearanceOf(legCylinder, legFrom([-500, 0, 1288], [500, 0, 1288]), stack)).toBeCloseTo(-12, 12) // by hand
  })
  test('a leg over the lid clears it by its height', () => {
    expect(clearanceOf(legCylinder, legFrom([-500, 20, 1325], [500, 20, 1325]), stack)).toBeCloseTo(25, 12) // by hand
  })
  test('a leg across the rim, square to the line from it, clears it by that line', () => {
    // By hand: in the plane y = 0 the rim is the point (55, 1300); a line at slope -3/4 at distance 5 from it, towards (3, 4).
    expect(clearanceOf(legCylinder, legFrom([58 - 400, 0, 1304 + 300], [58 + 400, 0, 1304 - 300]), stack)).toBeCloseTo(5, 12)
  })
  test('a leg steep through the lid is deepest where lid and side are equally near', () => {
    // By hand: from (0, 0, 1300) with equal outward and downward steps, depth d under the lid leaves 55 - d to the side.
    expect(clearanceOf(legCylinder, legFrom([-60, 0, 1240], [0, 0, 1300]), stack)).toBeCloseTo(-27.5, 12)
  })
  test('a point on the axis has a nearest point like any other', () => {
    expect(clearanceOf(legCylinder, legFrom([0, 0, 0], [0, 0, 0]), stack)).toBe(-55) // by hand
  })
  test('a disc of no thickness can be touched but not entered', () => {
    expect(clearanceOf(legCylinder, legFrom([10, 0, -50], [10, 0, 70]), packCylinder([0, 0, 0], Z, 40, 0))).toBe(0) // by hand
  })
  agreesWithSampling(leg, 2500, 20_713)
  keepsItsProperties(leg, 400, 1909)
})

describe('a bend and a cylinder', () => {
  test('a bend about the stack clears it by the same everywhere', () => {
    expect(clearanceOf(arcCylinder, arcFrom([0, 0, 0], X, Y, 200, Math.PI / 2), stack)).toBeCloseTo(145, 12) // by hand: 200 - 55
  })
  test('a bend inside the stack and about its axis is as deep as the side is near', () => {
    expect(clearanceOf(arcCylinder, arcFrom([0, 0, 0], X, Y, 40, 2 * Math.PI), stack)).toBeCloseTo(-15, 12) // by hand
  })
  test('a level bend over the lid clears it by its height', () => {
    expect(clearanceOf(arcCylinder, arcFrom([100, 0, 1330], [-1, 0, 0], Y, 90, Math.PI), stack)).toBeCloseTo(30, 12) // by hand
  })
  test('a bend about the axis, over the lid and wider than it, clears the rim by the same everywhere', () => {
    expect(clearanceOf(arcCylinder, arcFrom([0, 0, 1304], X, Y, 58, Math.PI), stack)).toBeCloseTo(5, 10) // by hand: 3-4-5
  })
  test('a standing bend that turns over above the lid is nearest at its lowest point', () => {
    expect(clearanceOf(arcCylinder, arcFrom([10, 0, 1600], X, [0, 0, -1], 180, Math.PI), stack)).toBeCloseTo(120, 12) // by hand
  })
  test('a bend in the plane of the axis is nearest to the rim along the line from its centre', () => {
    expect(clearanceOf(arcCylinder, arcFrom([55 + 300, 0, 1300 + 400], [-1, 0, 0], [0, 0, -1], 180, Math.PI / 2), stack)).toBeCloseTo(320, 7) // by hand: 500 - 180
  })
  test('a bend crossing the axis inside is a radius deep there', () => {
    expect(clearanceOf(arcCylinder, arcFrom([180, 0, 0], unit([-1, 1, 0]), unit([-1, -1, 0]), 180, Math.PI / 2), stack)).toBeCloseTo(-55, 10) // by hand
  })
  agreesWithSampling(arc, 2500, 20_714)
  keepsItsProperties(arc, 400, 1910)
})
