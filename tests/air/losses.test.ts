import { describe, expect, test } from 'vitest'
import { colebrook } from '#air/friction.ts'
import { INTO_DUCT, OUT_OF_DUCT, UNKNOWN_TERMINAL, between, bendLoss, partDropPa } from '#air/losses.ts'
import { BEND_METHODS } from '#model/air.ts'

const RIGHT = Math.PI / 2

describe('bends', () => {
  // computed with the `fluids` library (its Rennels bend): 125 mm duct, Re 30,000, roughness 0.09 mm, friction in the bend included
  test.each([[1, 0.412], [1.5, 0.288], [2, 0.258]])('by the formula, radius %d diameters: %d', (ratio, zeta) => {
    const loss = bendLoss('bend-formula', RIGHT, ratio, colebrook(30_000, 0.09 / 125))
    expect(Math.abs(loss.zeta - zeta)).toBeLessThan(1e-3)
    expect(loss.holdsFriction).toBe(true)
  })
  // SMACNA Table 14-10A, from memory
  test.each([[0.5, 0.71], [0.75, 0.33], [1, 0.22], [1.5, 0.15], [2, 0.13], [2.5, 0.12]])('smooth elbow, radius %d diameters: %d', (ratio, zeta) => {
    expect(bendLoss('smooth-elbow-table', RIGHT, ratio, 0.03)).toEqual({ zeta, holdsFriction: false })
  })
  // ASHRAE CR3-1, restated
  test.each([[20, 0.31], [30, 0.45], [45, 0.6], [60, 0.78], [75, 0.9], [90, 1]])('%d degrees lose %d of a right angle', (deg, share) => {
    expect(bendLoss('smooth-elbow-table', deg * Math.PI / 180, 1, 0.03).zeta).toBeCloseTo(0.22 * share, 12)
  })
  // engineering reference table of minor losses for air ducts, read
  test.each([[90, 0.8, 0.5], [90, 1.2, 0.25], [45, 0.8, 0.2], [45, 1.2, 0.05], [90, 0.2, 1.3], [45, 0.2, 0.5]])('round figures: %d degrees, radius %d diameters: %d', (deg, ratio, zeta) => {
    expect(bendLoss('round-figures', deg * Math.PI / 180, ratio, 0.03).zeta).toBeCloseTo(zeta, 12)
  })
  test.each(BEND_METHODS)('%s: a sharper turn and a tighter radius never cost less', (method) => {
    // beyond 150 degrees the formula itself falls by a thousandth
    for (let deg = 5; deg <= 145; deg += 5) {
      expect(bendLoss(method, (deg + 5) * Math.PI / 180, 1.2, 0.03).zeta).toBeGreaterThanOrEqual(bendLoss(method, deg * Math.PI / 180, 1.2, 0.03).zeta)
    }
    for (let ratio = 0.5; ratio < 1.8; ratio += 0.1) {
      expect(bendLoss(method, RIGHT, ratio + 0.1, 0.03).zeta).toBeLessThanOrEqual(bendLoss(method, RIGHT, ratio, 0.03).zeta)
    }
  })
})

describe('other parts', () => {
  test('into a duct, out of it, and a grille of free-area ratio 0.7', () => {
    // ASHRAE, Principles of HVAC, supplement 1-1 (restated); the engineering reference table (read)
    expect([INTO_DUCT.zeta, OUT_OF_DUCT.zeta, UNKNOWN_TERMINAL.zeta]).toEqual([0.5, 1, 3])
  })
  test('an entered part goes with its own power of the flow, and with density where it goes with the square', () => {
    const silencer = { name: 'silencer', kind: 'silencer', dropPa: 10, atLps: 30, exponent: 2 } as const
    expect(partDropPa(silencer, 30, 1.2)).toBeCloseTo(10, 12)
    expect(partDropPa(silencer, 60, 1.2)).toBeCloseTo(40, 12)
    expect(partDropPa(silencer, 30, 0.6)).toBeCloseTo(5, 12)
    expect(partDropPa({ ...silencer, exponent: 1 }, 60, 0.6)).toBeCloseTo(20, 12)
  })
  test('rows are joined by straight lines and held at the ends', () => {
    const rows = [[1, 10], [3, 30]] as const
    expect([0, 1, 2, 3, 4].map((x) => between(rows, x))).toEqual([10, 10, 20, 30, 30])
  })
})
