import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { formatLength, parseLength } from '#commands/typedLength.ts'

const SEED = 20_417

describe('a typed length', () => {
  test.each<[text: string, mm: number]>([
    ['1245', 1245], [' 1245 ', 1245], ['1245mm', 1245], ['1245 mm', 1245], ['1245 MM', 1245], ['1245 millimetres', 1245], ['0', 0], ['12.5', 12.5], ['12,5', 12.5], ['.5', 0.5], ['+40', 40],
    ['1.245 m', 1245], ['1.245m', 1245], ['1.2 m', 1200], ['1,2 m', 1200], ['1.1 m', 1100], ['0.5 metres', 500], ['0,125 m', 125], ['0.125', 0.125], ['12.3456', 12.3456], ['3 metre', 3000],
    ['124.5 cm', 1245], ['124,5cm', 1245],
    // marks between thousands
    ['1 245', 1245], ['1\u00a0245 mm', 1245], ['1\u202f245,5', 1245.5], ['1,245.5', 1245.5], ['1.245,5', 1245.5], ['123,456', 123_456], ['1,245', 1245], ['1,245 mm', 1245], ['1.000.000', 1_000_000], ['1,000,000', 1_000_000],
    // a foot is 304.8 mm and an inch 25.4 mm exactly: international yard and pound agreement, 1959
    ['4\' 1"', 1244.6], ['4\'1"', 1244.6], ['4ft 1in', 1244.6], ['4ft1in', 1244.6], ['4 feet 1 inch', 1244.6], ['4 FT', 1219.2], ["4'", 1219.2], ['49"', 1244.6], ['49 in', 1244.6], ['49 inches', 1244.6],
    ['4\' 1 1/2"', 1257.3], ['4\'-1 1/2"', 1257.3], ['4\' 1-1/2"', 1257.3], ['4′ 1½″', 1257.3], ['4’ 1”', 1244.6], ["4' 1''", 1244.6], ['1/2"', 12.7], ['½"', 12.7], ['3⁄8″', 9.525], ['4\' 0"', 1219.2], ['4.5 ft', 1371.6], ['1.5"', 38.1], ['15/16 in', 23.8125],
  ])('%s is understood', (text, mm) => {
    expect(parseLength(text)).toEqual({ ok: true, mm })
  })
  test.each<[text: string, why: RegExp]>([
    ['', /^type a length/], ['  ', /^type a length/],
    // a thousandth of a millimetre is on no tape: metres were meant, or a mark between thousands
    ['1.245', /two ways: type 1245 mm, or 1.245 m/], ['1.245 mm', /two ways: type 1245 mm, or 1.245 m/], ['1.245 cm', /two ways: type 1245 cm, or 1.245 m/],
    ['1,245 m', /two ways: type 1245 m, or 1.245 m/], ['1,245 cm', /two ways: type 1245 cm, or 1.245 cm/],
    ['12 45', /more than one number/], ['1 245 3', /more than one number/], ['1 m 245', /is no length/], ['1.2.3', /no number/], ['1,2,3', /no number/], ['1,24.5', /no number/],
    ['100+20', /sums/], ['100-20', /sums/], ['2 x 400', /sums/], ['1e3', /is no length/], ['abc', /is no length/], ['12 miles', /is no length/], ['mm', /is no length/], ['NaN', /is no length/], ['Infinity', /is no length|cannot be read/], ['٣', /is no length/],
    ['4\' 1', /add " after the inches: “4' 1"”/], ['1/2', /needs its unit/], ['4\' 12"', /12 inches or more/], ['4\' 49"', /12 inches or more/], ['4.5\' 3"', /part of a foot and inches/],
    ['1/3"', /no part of an inch/], ['⅓"', /no part of an inch/], ['9/8"', /no part of an inch/], ['1/0"', /no part of an inch/], ['0/2"', /no part of an inch/], ['1"2"', /cannot be read as feet/], ['4\' 3\'', /cannot be read as feet/], ['1,5"', /cannot be read as feet/], ["1'245", /add " after the inches/],
    ['-5', /below 0/], ['-0.1 m', /below 0/], ['--5', /is no length/], ['1001 m', /more than a kilometre/], ['1'.repeat(400), /too long/],
  ])('%s is refused with a reason', (text, why) => {
    const read = parseLength(text)
    expect(read).toEqual({ ok: false, why: expect.stringMatching(why) })
  })
  test('below 0 is understood where that makes sense', () => {
    expect(parseLength('-110', { negative: true })).toEqual({ ok: true, mm: -110 })
    expect(parseLength('\u2212110 mm', { negative: true })).toEqual({ ok: true, mm: -110 })
    expect(parseLength('- 4\' 1"', { negative: true })).toEqual({ ok: true, mm: -1244.6 })
    expect(parseLength('-0', { negative: true })).toEqual({ ok: true, mm: 0 })
    expect(parseLength('-0')).toEqual({ ok: true, mm: 0 })
  })
  test(`written and read again is the same to the tenth of a millimetre (seed ${SEED})`, () => {
    fc.assert(fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (mm) => {
      const read = parseLength(formatLength(mm), { negative: true })
      expect(read.ok && Math.abs(read.mm - mm)).toBeLessThanOrEqual(0.05 + 1e-9)
    }), { seed: SEED, numRuns: 2000 })
    expect(formatLength(1245)).toBe('1245 mm')
    expect(formatLength(-12.54)).toBe('-12.5 mm')
    expect(formatLength(-0.01)).toBe('0 mm')
  })
  test(`of any text is a number within a kilometre, or a reason (seed ${SEED})`, () => {
    const scrap = fc.constantFrom('1', '24', '245', '0', '.', ',', ' ', "'", '"', '/', '-', 'ft', 'in', 'm', 'mm', 'cm', '½', '′', '″', 'x', '\u00a0')
    let understood = 0, refused = 0
    fc.assert(fc.property(fc.oneof(fc.array(scrap, { maxLength: 8 }).map(parts => parts.join('')), fc.string()), (text) => {
      const read = parseLength(text)
      if (read.ok) {
        understood++
        expect(read.mm).toBeGreaterThanOrEqual(0)
        expect(read.mm).toBeLessThanOrEqual(1e6)
        // nothing but these may stand in what was understood
        expect(text.toLowerCase()).toMatch(/^[\d.,\s'"/½¼¾⅛⅜⅝⅞\u2018\u2019\u201c\u201d\u2032\u2033\u02b9\u02ba`´⁄\u2215+\u2010-\u2014\u2212a-z-]*$/)
        expect(text).toMatch(/[\d½]/)
      } else {
        refused++
        expect(read.why.length).toBeGreaterThan(5)
      }
    }), { seed: SEED, numRuns: 5000 })
    expect(understood).toBeGreaterThan(100)
    expect(refused).toBeGreaterThan(100)
  })
})
