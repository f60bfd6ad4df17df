import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { airOfJob } from '#air/index.ts'
import { filledUpTo, volumeM3 } from '#air/rates.ts'
import { sentenceOf, ratesWords } from '#air/wording.ts'
import { FAMILY, assemblyOf, houseOf, type RoomWish } from './airHouse.ts'

const SEED = 41_377
const codes = (...house: Parameters<typeof assemblyOf>) => airOfJob(assemblyOf(...house)).remarks.filter(({ severity }) => severity === 'mend').map(({ code }) => code)

describe('the air of a dwelling (England, Approved Document F volume 1, 2021)', () => {
  // worked check A: 0.3 x 92 = 27.6 against 31; kitchen, utility, bathroom, en-suite and WC at the high rate 13 + 8 + 8 + 8 + 6
  test('three bedrooms on 92 m²: 31 l/s, and 43 l/s in boost, both balanced', () => {
    const { rates } = airOfJob(assemblyOf(FAMILY, { air: { floorAreaM2: 92 } }))
    expect(rates.tableLps).toBe(31)
    expect(rates.normal.supplyLps).toBeCloseTo(31, 9)
    expect(rates.normal.extractLps).toBeCloseTo(31, 9)
    expect(rates.boost.supplyLps).toBeCloseTo(43, 9)
    expect(rates.boost.extractLps).toBeCloseTo(43, 9)
  })
  // worked check D, also a published sample question (restated): 13 by the rule for one room, 21 = 13 + 8 in boost
  test('a studio: 13 l/s, 21 l/s in boost', () => {
    const { rates } = airOfJob(assemblyOf([{ id: 'one', use: 'living', m2: 20, ductsMm: [3_000] }, { id: 'k', use: 'kitchen', m2: 6, ductsMm: [2_000] }, { id: 'b', use: 'bathroom', m2: 4, ductsMm: [2_000] }]))
    expect(rates.normal.supplyLps).toBeCloseTo(13, 9)
    expect(rates.boost.extractLps).toBeCloseTo(21, 9)
  })
  // worked check F: 31 l/s over 50, 35, 30 and 20 m³ (1.67)
  test('supply is shared by the rooms’ volumes', () => {
    const rooms: RoomWish[] = [50, 35, 30, 20].map((m3, i) => ({ id: `r${i}`, use: i === 0 ? 'living' : 'bedroom', m2: m3 / 2.5, heightMm: 2_500, ductsMm: [3_000] }))
    const { rates } = airOfJob(assemblyOf([...rooms, { id: 'b', use: 'bathroom', ductsMm: [3_000] }], { air: { floorAreaM2: 77 } }))
    const shares = rates.rooms.slice(0, 4).map(({ supply }) => supply!.normalLps)
    ;[11.481, 8.037, 6.889, 4.593].forEach((share, i) => expect(Math.abs(shares[i] - share)).toBeLessThanOrEqual(0.0005))
  })
  // worked check G: a 125 mm duct wants 0.9 x 12,272 = 11,045 mm² (1.76 to 1.81)
  test('a terminal on a 125 mm duct needs 11,045 mm² free', () => {
    const types = [
      { kind: 'semi-rigid', id: 'd75', name: '125', innerDiameterMm: 125, outerDiameterMm: 130, minBendRadiusMm: 150 },
      { kind: 'semi-rigid', id: 'd160', name: '160', innerDiameterMm: 160, outerDiameterMm: 165, minBendRadiusMm: 150 },
    ] as const
    const small = airOfJob(assemblyOf([{ id: 'b', use: 'bedroom', ductsMm: [3_000], terminal: { freeAreaMm2: 11_044 } }], { ductTypes: [...types] })).remarks.find(({ code }) => code === 'free-area-small')!
    expect(small.required).toBeCloseTo(11_045, 0)
    expect(codes([{ id: 'b', use: 'bedroom', ductsMm: [3_000], terminal: { freeAreaMm2: 11_045 } }], { ductTypes: [...types] })).not.toContain('free-area-small')
  })
  test('every wet room has at least its high rate in boost, and a kitchen with two valves shares it', () => {
    const { rates } = airOfJob(assemblyOf(FAMILY))
    for (const { highLps, extract } of rates.rooms) if (highLps !== null) expect(extract!.boostLps).toBeGreaterThanOrEqual(highLps - 1e-9)
    const kitchen = rates.terminals.filter(({ room }) => room?.id === 'kitchen')
    expect(kitchen.map(({ boostLps }) => boostLps)).toEqual([6.5, 6.5])
  })
  test('a dwelling whose floor asks for more than all wet rooms together boosts nothing', () => {
    const { rates } = airOfJob(assemblyOf([{ id: 'l', use: 'living', ductsMm: [3_000] }, { id: 'b', use: 'bathroom', ductsMm: [3_000] }], { air: { floorAreaM2: 200 } }))
    expect(rates.normal.extractLps).toBeCloseTo(60, 9)
    expect(rates.boost.extractLps).toBeCloseTo(60, 9)
  })
})

describe('the user’s own figures', () => {
  test('stand in place of the table’s, and the sheet says so', () => {
    const { rates } = airOfJob(assemblyOf(FAMILY, { air: { wholeLps: 40, floorAreaM2: 92 } }))
    expect(rates.normal.supplyLps).toBeCloseTo(40, 9)
    expect(rates.tableLps).toBe(31)
    expect(ratesWords(rates).join(' ')).toMatch(/ENTERED BY HAND in its place: 40\.0 l\/s/)
    expect(ratesWords(airOfJob(assemblyOf(FAMILY)).rates).join(' ')).not.toMatch(/BY HAND/)
  })
  test('less than the table asks is said', () => {
    expect(codes(FAMILY, { air: { wholeLps: 20 } })).toEqual(['below-table'])
  })
  test('a room’s own flow stays, and the rest is shared over the others', () => {
    const { rates } = airOfJob(assemblyOf(FAMILY.map((room) => room.id === 'living' ? { ...room, airflow: { supplyLps: 20 } } : room), { air: { floorAreaM2: 92 } }))
    expect(rates.rooms[0].supply).toMatchObject({ normalLps: 20, from: 'entered' })
    expect(rates.normal.supplyLps).toBeCloseTo(31, 9)
  })
  test('a terminal’s own flow that throws the balance out is said', () => {
    const wishes = FAMILY.map((room) => room.id === 'bath' ? { ...room, terminal: { normalLps: 2 } } : room)
    const report = airOfJob(assemblyOf(wishes))
    expect(report.remarks.map(({ code }) => code)).toContain('unbalanced')
  })
})

describe('limits of terminals', () => {
  test('what one may not carry goes to the others of its room', () => {
    expect(filledUpTo(30, [1, 1, 1], [5, null, null])).toEqual([5, 12.5, 12.5])
    expect(filledUpTo(30, [1, 2, 3], [20, 20, 20])).toEqual([5, 10, 15])
    expect(filledUpTo(30, [1, 1], [null, null], [7, undefined])).toEqual([7, 23])
  })
  test('no terminal passes its limit and nothing is lost below the sum of limits, whatever the weights', () => {
    fc.assert(fc.property(fc.array(fc.tuple(fc.double({ min: 0.1, max: 10, noNaN: true }), fc.double({ min: 0.1, max: 30, noNaN: true })), { minLength: 1, maxLength: 8 }), fc.double({ min: 0.1, max: 100, noNaN: true }), (terminals, total) => {
      const limits = terminals.map(([, limit]) => limit)
      const shares = filledUpTo(total, terminals.map(([weight]) => weight), limits)
      shares.forEach((share, i) => expect(share).toBeLessThanOrEqual(limits[i] * (1 + 1e-12)))
      const most = limits.reduce((sum, limit) => sum + limit, 0), given = shares.reduce((sum, share) => sum + share, 0)
      expect(Math.abs(given - Math.min(total, most))).toBeLessThan(1e-9)
    }), { seed: SEED })
  })
  test('a room that its terminals cannot serve is said', () => {
    expect(codes(FAMILY, { air: { mostPerTerminalLps: 7.9 } })).toContain('over-limit')
  })
})

describe('what rooms lack', () => {
  const without = (id: string): RoomWish[] => FAMILY.map((room) => room.id === id ? { ...room, ductsMm: [] } : room)
  test('nothing, in a house with a terminal in every room and gaps under its doors', () => {
    const { remarks } = airOfJob(assemblyOf(FAMILY.map((room) => ({ ...room, undercutMm: 10 }))))
    // that a duct to a bedroom is fast in boost, and that terminals are assumed, is no lack
    expect(remarks.filter(({ code }) => !['terminal-assumed', 'roughness-assumed', 'near-the-door', 'too-fast'].includes(code))).toEqual([])
  })
  test('supply in a bedroom, extract in a bathroom, each with its rule', () => {
    expect(codes(without('bed3'))).toEqual(['no-supply'])
    const [lack] = airOfJob(assemblyOf(without('bath'))).remarks
    expect(lack).toMatchObject({ code: 'no-extract', required: 8 })
    expect(sentenceOf(lack)).toMatch(/Room bath needs extract, 8\.0 l\/s at the high rate.*Table 1\.2/)
  })
  test('the balance holds all the same', () => {
    const { normal, boost } = airOfJob(assemblyOf(without('bed3'))).rates
    expect(normal.supplyLps).toBeCloseTo(normal.extractLps, 9)
    expect(boost.supplyLps).toBeCloseTo(boost.extractLps, 9)
  })
  test('a gap of 9.9 mm under a 760 mm door is too little, 10 mm is enough; none entered is asked for once', () => {
    expect(codes(FAMILY.map((room) => ({ ...room, undercutMm: room.id === 'bed1' ? 9.9 : 10 })))).toEqual(['undercut-small'])
    expect(codes(FAMILY.map((room) => ({ ...room, undercutMm: 10 })))).toEqual([])
    expect(airOfJob(assemblyOf(FAMILY)).remarks.filter(({ code }) => code === 'undercut-unknown')).toHaveLength(1)
  })
})

test('supply equals extract in both speeds, to rounding, in any house', () => {
  const wish = fc.record({ use: fc.constantFrom('living', 'bedroom', 'study', 'kitchen', 'bathroom', 'wc', 'utility', 'store', 'hall'), m2: fc.integer({ min: 2, max: 60 }), ducts: fc.integer({ min: 0, max: 3 }) })
  fc.assert(fc.property(fc.array(wish, { minLength: 2, maxLength: 10 }), fc.constantFrom('england-ad-f-2021', 'ashrae-62-2', 'irc-m1505'), (wishes, table) => {
    const rooms: RoomWish[] = wishes.map(({ use, m2, ducts }, i) => ({ id: `r${i}`, use: use as RoomWish['use'], m2, ductsMm: Array.from({ length: ducts }, () => 2_000) }))
    const { rates } = airOfJob(assemblyOf(rooms, { air: { table: table as 'irc-m1505' } }))
    const has = (stream: string) => rates.terminals.some((terminal) => terminal.stream === stream)
    if (!has('supply') || !has('extract')) return
    for (const { supplyLps, extractLps } of [rates.normal, rates.boost]) expect(Math.abs(supplyLps - extractLps)).toBeLessThan(1e-9)
    expect(Math.abs(rates.normal.supplyLps - rates.wholeLps)).toBeLessThan(1e-9)
    expect(rates.boost.supplyLps).toBeGreaterThanOrEqual(rates.normal.supplyLps - 1e-9)
  }), { seed: SEED, numRuns: 100 })
})

test('a room’s volume is its floor times its height', () => {
  expect(volumeM3(houseOf([{ id: 'a', use: 'living', m2: 20, heightMm: 2_500 }]).rooms[0])).toBeCloseTo(50, 9)
})
