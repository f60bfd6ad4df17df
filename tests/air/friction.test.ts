import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { airAt } from '#air/density.ts'
import { LAMINAR_BELOW, TURBULENT_FROM, colebrook, flowInDuct, frictionFactor, haaland } from '#air/friction.ts'

const SEED = 50_521

/** Colebrook-White by bisection in 1/sqrt f: slow, and shares nothing with the code under test. */
function bisected(reynolds: number, ratio: number): number {
  const off = (x: number) => x + 2 * Math.log10(ratio / 3.7 + 2.51 * x / reynolds)
  let low = 0.1, high = 100
  for (let i = 0; i < 200; i++) {
    const middle = (low + high) / 2
    if (off(middle) < 0) low = middle
    else high = middle
  }
  return 1 / (low * low)
}

describe('Colebrook-White', () => {
  // computed twice, by Newton in another program and by the Clamond solver of the `fluids` library (MIT), seven decimals
  const RATIOS = [0, 0.0005, 0.00072, 0.001, 0.0012, 0.002, 0.01]
  test.each([
    [5e3, [0.0373927, 0.0379482, 0.0381900, 0.0384954, 0.0387120, 0.0395660, 0.0472591]],
    [1e4, [0.0308830, 0.0316442, 0.0319716, 0.0323818, 0.0326707, 0.0337937, 0.0431266]],
    [2e4, [0.0258831, 0.0269465, 0.0273934, 0.0279457, 0.0283297, 0.0297883, 0.0407054]],
    [5e4, [0.0208914, 0.0225650, 0.0232279, 0.0240208, 0.0245571, 0.0265056, 0.0390816]],
    [1e5, [0.0179898, 0.0203270, 0.0211844, 0.0221745, 0.0228266, 0.0251066, 0.0385035]],
    [1e6, [0.0116450, 0.0172067, 0.0185454, 0.0199435, 0.0208066, 0.0236070, 0.0379647]],
  ])('at Re %d gives the published pairs', (reynolds, factors) => {
    RATIOS.forEach((ratio, i) => expect(Math.abs(colebrook(reynolds, ratio) - factors[i]), `e ${ratio}`).toBeLessThanOrEqual(0.5e-7))
  })
  test('gives the constants printed in the tests of the `fluids` library 1.3.1 (MIT) to 15 digits', () => {
    expect(colebrook(1e5, 1e-4) / 0.018513866077471648).toBeCloseTo(1, 14)
    expect(colebrook(1e5, 0) / 0.01798977308427384).toBeCloseTo(1, 14)
    expect(haaland(1e5, 1e-4) / 0.018265053014793857).toBeCloseTo(1, 14)
    expect(frictionFactor(128, 0)).toBe(0.5)
  })
  test('is met to machine precision over every duct there is', () => {
    fc.assert(fc.property(fc.double({ min: 3.6, max: 8, noNaN: true }), fc.double({ min: 0, max: 0.05, noNaN: true }), (power, ratio) => {
      const reynolds = 10 ** power, factor = colebrook(reynolds, ratio)
      expect(Math.abs(factor / bisected(reynolds, ratio) - 1)).toBeLessThan(4e-14)
    }), { seed: SEED, numRuns: 500 })
  })
  test('Haaland stays within its 1.5 % of it, so that it is only a start', () => {
    fc.assert(fc.property(fc.double({ min: 3.6, max: 8, noNaN: true }), fc.double({ min: 1e-6, max: 0.05, noNaN: true }), (power, ratio) => {
      expect(Math.abs(haaland(10 ** power, ratio) / colebrook(10 ** power, ratio) - 1)).toBeLessThan(0.02)
    }), { seed: SEED })
  })
})

describe('between laminar and turbulent', () => {
  test('the factor has no jump at either end', () => {
    for (const ratio of [0, 0.001, 0.01]) {
      for (const edge of [LAMINAR_BELOW, TURBULENT_FROM]) {
        expect(Math.abs(frictionFactor(edge * (1 + 1e-12), ratio) - frictionFactor(edge * (1 - 1e-12), ratio))).toBeLessThan(1e-12)
      }
    }
  })
  test('more air always costs more pressure', () => {
    const air = airAt(20, 0)
    fc.assert(fc.property(fc.double({ min: 0.01, max: 100, noNaN: true }), fc.double({ min: 1.0001, max: 2, noNaN: true }), fc.integer({ min: 40, max: 400 }), fc.double({ min: 0, max: 2, noNaN: true }), (lps, more, boreMm, roughnessMm) => {
      expect(flowInDuct(lps * more, boreMm, roughnessMm, air).frictionPaPerM).toBeGreaterThan(flowInDuct(lps, boreMm, roughnessMm, air).frictionPaPerM)
    }), { seed: SEED, numRuns: 500 })
  })
})

describe('worked examples', () => {
  // computed with density 1.2 kg/m³ and viscosity 1.82e-5 Pa s by the formulas of the ASHRAE Handbook Fundamentals, Duct Design
  const AIR = { density: 1.2, viscosity: 1.82e-5 }
  test.each([
    [125, 31, 0.09, 2.5261, 20_820, 0.027170, 3.829, 0.8322],
    [125, 31, 0.15, 2.5261, 20_820, 0.028121, 3.829, 0.8614],
    [150, 43, 0.09, 2.4333, 24_066, 0.026133, 3.553, 0.6189],
    [160, 50, 0.15, 2.4868, 26_234, 0.026442, 3.710, 0.6132],
    [100, 13, 0.15, 1.6552, 10_913, 0.032481, 1.644, 0.5339],
    [100, 8, 0.09, 1.0186, 6_716, 0.035533, 0.623, 0.2212],
    [63, 8, 0.007, 2.5664, 10_660, 0.030543, 3.952, 1.9158],
    [315, 400, 0.15, 5.1327, 106_603, 0.020060, 15.807, 1.0066],
  ])('a %d mm duct with %d l/s and %d mm roughness', (boreMm, lps, roughnessMm, velocityMps, reynolds, friction, velocityPa, paPerM) => {
    const flow = flowInDuct(lps, boreMm, roughnessMm, AIR)
    expect(Math.abs(flow.velocityMps - velocityMps)).toBeLessThanOrEqual(0.5e-4)
    expect(Math.abs(flow.reynolds - reynolds)).toBeLessThanOrEqual(0.5)
    expect(Math.abs(flow.friction - friction)).toBeLessThanOrEqual(0.5e-6)
    expect(Math.abs(flow.velocityPa - velocityPa)).toBeLessThanOrEqual(0.5e-3)
    expect(Math.abs(flow.frictionPaPerM - paPerM)).toBeLessThanOrEqual(0.5e-4)
  })
  test('warm air for 150 m through a smooth duct with 20 m of head: 267 mm (Çengel and Cimbala, Fluid Mechanics, Example 8-4, read)', () => {
    const air = { density: 1.145, viscosity: 1.895e-5 }
    const headM = (boreMm: number) => flowInDuct(350, boreMm, 0, air).frictionPaPerM * 150 / (air.density * 9.81)
    let low = 200, high = 400
    for (let i = 0; i < 100; i++) {
      const middle = (low + high) / 2
      if (headM(middle) > 20) low = middle
      else high = middle
    }
    const flow = flowInDuct(350, low, 0, air)
    expect(low).toBeCloseTo(267, 0)
    expect(flow.friction).toBeCloseTo(0.0180, 4)
    expect(flow.velocityMps).toBeCloseTo(6.24, 2)
    // printed as 100,800 from rounded figures; worked again in another program, 100,750
    expect(Math.abs(flow.reynolds - 100_750)).toBeLessThan(5)
    expect(Math.abs(flow.reynolds / 100_800 - 1)).toBeLessThan(1e-3)
  })
  test('water in a two-inch steel pipe: f 0.0174, 1,700 lbf/ft² in 200 ft (the same, Example 8-3; f read, the rest from memory)', () => {
    const footM = 0.3048, slug = 14.5939, lbfPerFt2 = 47.8803
    const flow = flowInDuct(0.2 * footM ** 3 * 1000, 2 / 12 * footM * 1000, 7e-6 * footM * 1000, { density: 62.36 / 32.174 * slug / footM ** 3, viscosity: 7.536e-4 * 1.488164 })
    expect(flow.friction).toBeCloseTo(0.0174, 4)
    expect(flow.reynolds / 126_400).toBeCloseTo(1, 3)
    expect(Math.abs(flow.frictionPaPerM * 200 * footM / lbfPerFt2 / 1_700 - 1)).toBeLessThan(0.002)
  })
  test('air in a nine-inch square duct by its effective diameter: f 0.0177 (White, Fluid Mechanics, from memory)', () => {
    const footM = 0.3048
    // 25 ft³/s through 0.5625 ft² at the diameter 0.843 ft that friction is reckoned on: the velocity is the duct's own
    const velocityMps = 25 / 0.5625 * footM, effectiveM = 0.843 * footM
    const flow = flowInDuct(velocityMps * Math.PI / 4 * effectiveM ** 2 * 1000, effectiveM * 1000, 0.0003 * footM * 1000, { density: 1.2047, viscosity: 1.81e-5 })
    expect(Math.abs(flow.friction - 0.0177)).toBeLessThan(0.0002)
  })
  test('10 kg/s of a liquid in a smooth pipe of 100 mm loses 63.43447321097365 Pa in a metre (one-phase constant in the tests of `fluids` 1.3.1)', () => {
    expect(flowInDuct(10, 100, 0, { density: 1000, viscosity: 1e-5 }).frictionPaPerM / 63.43447321097365).toBeCloseTo(1, 13)
  })
})
