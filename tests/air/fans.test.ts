import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { fanPa, fanSpeedFor } from '#air/fans.ts'
import { airOfJob } from '#air/index.ts'
import { fanWords } from '#air/wording.ts'
import { FAMILY, assemblyOf } from './airHouse.ts'

const SEED = 12_881
const CURVE = [{ flowLps: 0, pressurePa: 400 }, { flowLps: 50, pressurePa: 300 }, { flowLps: 100, pressurePa: 0 }]

describe('where a fan must run', () => {
  test('the curve as entered, straight between its points', () => {
    expect([0, 25, 50, 75, 100].map((lps) => fanPa(CURVE, lps))).toEqual([400, 350, 300, 150, 0])
  })
  // affinity laws: flow goes as speed, pressure as its square (any text on fans)
  test('on its own curve it turns at full speed, and at half speed it gives half the flow at a quarter of the pressure', () => {
    expect(fanSpeedFor(CURVE, 50, 300, 1.2)).toMatchObject({ ok: true, speedRatio: expect.closeTo(1, 12) })
    expect(fanSpeedFor(CURVE, 25, 75, 1.2)).toMatchObject({ ok: true, speedRatio: expect.closeTo(0.5, 12) })
    expect(fanSpeedFor(CURVE, 45, 0.81 * 0 + 243, 1.2)).toMatchObject({ ok: true, speedRatio: expect.closeTo(0.9, 12) })
  })
  test('too much is refused with what it has', () => {
    expect(fanSpeedFor(CURVE, 50, 301, 1.2)).toMatchObject({ ok: false, availablePa: expect.closeTo(300, 9) })
    expect(fanSpeedFor(CURVE, 101, 10, 1.2)).toMatchObject({ ok: false, availablePa: null })
  })
  test('thin air is pushed less hard', () => {
    expect(fanSpeedFor(CURVE, 40, 100, 1.0).speedRatio).toBeGreaterThan(fanSpeedFor(CURVE, 40, 100, 1.2).speedRatio)
  })
  test('at the speed found it gives just what is needed, and more flow or pressure takes more speed', () => {
    fc.assert(fc.property(fc.double({ min: 1, max: 90, noNaN: true }), fc.double({ min: 0.1, max: 250, noNaN: true }), (lps, pa) => {
      const { speedRatio } = fanSpeedFor(CURVE, lps, pa, 1.2)
      expect(Math.abs(speedRatio ** 2 * fanPa(CURVE, lps / speedRatio) / pa - 1)).toBeLessThan(1e-9)
      expect(fanSpeedFor(CURVE, lps, pa * 1.1, 1.2).speedRatio).toBeGreaterThan(speedRatio)
      expect(fanSpeedFor(CURVE, lps * 1.1, pa, 1.2).speedRatio).toBeGreaterThanOrEqual(speedRatio)
    }), { seed: SEED, numRuns: 300 })
  })
})

describe('in the whole house', () => {
  const report = (fan: typeof CURVE) => airOfJob(assemblyOf(FAMILY, { air: { floorAreaM2: 92 } }, { fan }))
  test('the share of full speed is said for normal and boost, supply and extract', () => {
    const { normal, boost } = report(CURVE)
    const ratios = [...normal.fans, ...boost.fans].map(({ answer }) => answer!.speedRatio)
    expect(ratios).toHaveLength(4)
    expect(ratios[2]).toBeGreaterThan(ratios[0])
    expect(fanWords(normal.fans[0])).toMatch(/Unit, supply fan: 31\.0 l\/s against [\d.]+ Pa .* \d+ % of full speed/)
  })
  test('a fan that is too weak in boost is said, with what it has', () => {
    const weak = report([{ flowLps: 0, pressurePa: 40 }, { flowLps: 60, pressurePa: 0 }])
    expect(weak.remarks.filter(({ code }) => code === 'fan-too-weak').map(({ severity }) => severity)).toEqual(['mend', 'mend'])
  })
  // common practice: 40 to 60 % of full speed at trickle
  test('a share outside 40 to 60 % in normal running is worth a look', () => {
    const big = report(CURVE.map(({ flowLps, pressurePa }) => ({ flowLps: flowLps * 5, pressurePa: pressurePa * 3 })))
    expect(big.remarks.filter(({ code }) => code === 'trickle-share')).toHaveLength(2)
  })
  test('at a trickle rate of its own the fan turns slower, and the share told is of that speed', () => {
    const slow = airOfJob(assemblyOf(FAMILY, { air: { floorAreaM2: 92, trickleLps: 15.5 } }, { fan: CURVE }))
    expect(slow.trickle.fans[0].lps).toBeCloseTo(15.5, 9)
    expect(slow.trickle.fans[0].answer!.speedRatio).toBeLessThan(slow.normal.fans[0].answer!.speedRatio)
    // half the flow of what is mostly a square law: a quarter of the pressure and some more for friction
    expect(slow.trickle.fans[0].neededPa / slow.normal.fans[0].neededPa).toBeGreaterThan(0.25)
    expect(slow.trickle.fans[0].neededPa / slow.normal.fans[0].neededPa).toBeLessThan(0.32)
    const told = slow.remarks.filter(({ code }) => code === 'trickle-share').map(({ measured }) => measured!)
    expect(told.sort()).toEqual(slow.trickle.fans.map(({ answer }) => answer!.speedRatio * 100).sort())
    // less than the table asks without a break, and that is said
    expect(slow.remarks.find(({ code }) => code === 'trickle-below-table')).toMatchObject({ measured: expect.closeTo(15.5, 9), required: 31 })
  })
  test('without a trickle rate trickle is normal running', () => {
    const { trickle, normal } = report(CURVE)
    expect(trickle).toEqual({ ...normal, speed: 'trickle' })
  })
})
