import { describe, expect, test } from 'vitest'
import { RATES, wholeRateLps, type Dwelling } from '#air/rateTables.ts'

const dwelling = (bedrooms: number, floorAreaM2: number, habitableRooms = bedrooms + 1): Dwelling => ({ bedrooms, floorAreaM2, habitableRooms })
const CFM = 0.4719474432
const FT2 = 0.09290304

describe('England, Approved Document F volume 1, 2021 (read)', () => {
  const table = RATES['england-ad-f-2021']
  // Table 1.3; the sixth bedroom and on are its note: 6 l/s each
  test.each([[1, 19], [2, 25], [3, 31], [4, 37], [5, 43], [6, 49], [7, 55], [8, 61], [10, 73]])('%d bedrooms: %d l/s', (bedrooms, lps) => {
    expect(wholeRateLps(table, dwelling(bedrooms, 1))).toEqual({ lps, decidedBy: 'bedrooms' })
  })
  test('one habitable room: 13 l/s (Table 1.3 note 1), unless the floor asks for more', () => {
    expect(wholeRateLps(table, dwelling(0, 30, 1))).toEqual({ lps: 13, decidedBy: 'one habitable room' })
    expect(wholeRateLps(table, dwelling(1, 30, 1)).lps).toBe(13)
    expect(wholeRateLps(table, dwelling(0, 50, 1))).toEqual({ lps: 15, decidedBy: 'floor area' })
  })
  // worked by 1.24: the larger of 0.3 l/s per m² and the table; E is a published sample (restated), D gives 21 l/s extract in one too
  test.each([['A', 3, 92, 31], ['B', 2, 110, 33], ['C', 6, 120, 49], ['E', 3, 77, 31]])('worked check %s: %d bedrooms, %d m²: %d l/s', (_, bedrooms, m2, lps) => {
    expect(wholeRateLps(table, dwelling(bedrooms, m2)).lps).toBeCloseTo(lps, 12)
  })
  test('high rates by room (Table 1.2) and nothing for other rooms', () => {
    expect(table.extract.highLps).toEqual({ kitchen: 13, utility: 8, bathroom: 8, wc: 6 })
  })
  test('the gap under a door: 7,600 mm² (1.25)', () => expect(table.undercut.mm2).toBe(10 * 760))
})

describe('ASHRAE 62.2, equation 4.1b (restated)', () => {
  test('2,400 ft² and 3 bedrooms: 102 cfm, 48.1 l/s', () => {
    const { lps } = wholeRateLps(RATES['ashrae-62-2'], dwelling(3, 2_400 * FT2))
    // the metric form is rounded: 47.4 for the 48.1 of the inch-pound one
    expect(lps).toBeCloseTo(0.15 * 2_400 * FT2 + 3.5 * 4, 9)
    expect(Math.abs(lps / (102 * CFM) - 1)).toBeLessThan(0.02)
  })
  test('no bedroom counts as one', () => expect(wholeRateLps(RATES['ashrae-62-2'], dwelling(0, 50)).lps).toBe(wholeRateLps(RATES['ashrae-62-2'], dwelling(1, 50)).lps))
})

describe('International Residential Code, Table M1505.4.3(1) (restated)', () => {
  const table = RATES['irc-m1505']
  const COLUMNS = [[0, 1], [2, 3], [4, 5], [6, 7], [8, 12]]
  test.each([
    [[400, 1_500], [30, 45, 60, 75, 90]], [[1_501, 3_000], [45, 60, 75, 90, 105]], [[3_001, 4_500], [60, 75, 90, 105, 120]],
    [[4_501, 6_000], [75, 90, 105, 120, 135]], [[6_001, 7_500], [90, 105, 120, 135, 150]], [[7_501, 20_000], [105, 120, 135, 150, 165]],
  ])('floors of %j ft²: %j cfm', (areasFt2, cfm) => {
    for (const ft2 of areasFt2) {
      COLUMNS.forEach((bedrooms, c) => {
        for (const count of bedrooms) expect(wholeRateLps(table, dwelling(count, ft2 * FT2)).lps / CFM).toBeCloseTo(cfm[c], 6)
      })
    }
  })
  test('2,400 ft² and 3 bedrooms: 60 cfm', () => expect(wholeRateLps(table, dwelling(3, 2_400 * FT2)).lps / CFM).toBeCloseTo(60, 6))
})

// kitchen 100 and bathroom 50 cfm on demand: ASHRAE 62.2 Table 5.1, and the IMC's 403.3 (both restated); other rooms have no row
test.each(['ashrae-62-2', 'irc-m1505'] as const)('%s: a kitchen 100 cfm, a bathroom 50 cfm, and nothing for other rooms', (id) => {
  const { highLps } = RATES[id].extract
  expect(Object.keys(highLps).sort()).toEqual(['bathroom', 'kitchen'])
  expect(highLps.kitchen! / CFM).toBeCloseTo(100, 6)
  expect(highLps.bathroom! / CFM).toBeCloseTo(50, 6)
})

test('every table names its document, its edition and its place in it, and how far it was seen', () => {
  for (const [id, table] of Object.entries(RATES)) {
    expect(table.id).toBe(id)
    expect(table.whole.source).toMatchObject({ document: expect.stringMatching(/./), edition: expect.stringMatching(/\d{4}/), at: expect.stringMatching(/\d/), mark: expect.stringMatching(/./) })
    expect(table.extract.source).toMatchObject({ at: expect.stringMatching(/\d/) })
  }
})
