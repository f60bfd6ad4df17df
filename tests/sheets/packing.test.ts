import { describe, expect, test } from 'vitest'
import { leastLengths, packStock } from '#sheets/cutting/packing.ts'
import { seeded } from '../../fixtures/generate/seeded.ts'

/** Obviously right: every way of putting the pieces into lengths. */
function fewestByTrying(piecesMm: readonly number[], stockMm: number, kerfMm: number): number {
  let best = piecesMm.length
  const left: number[] = []
  const place = (k: number): void => {
    if (left.length >= best) return
    if (k === piecesMm.length) {
      best = left.length
      return
    }
    for (let bin = 0; bin < left.length; bin++) {
      // the first piece of a length was cut without a kerf, each further one costs one
      if (piecesMm[k] + kerfMm > left[bin] + 1e-9) continue
      left[bin] -= piecesMm[k] + kerfMm
      place(k + 1)
      left[bin] += piecesMm[k] + kerfMm
    }
    left.push(stockMm - piecesMm[k])
    place(k + 1)
    left.pop()
  }
  place(0)
  return best
}

describe('cutting from stock', () => {
  test('a first fit by length wastes what a better plan does not: 4 + 4 + 6 + 6 + 5 + 5 out of 10', () => {
    const { lengths, lowerBound } = packStock([6, 6, 5, 5, 4, 4], 10, 0)
    expect([lengths.length, lowerBound]).toEqual([3, 3])
    // longest first puts 44 with 24 and then needs a fourth (Martello and Toth, chapter 8, explain the like)
    expect(packStock([44, 24, 24, 22, 21, 17, 8, 8, 6, 6], 61, 0).lengths.length).toBe(3)
  })
  test('counts the kerf between two pieces and not after the last', () => {
    expect(packStock([1000, 1000, 994], 3000, 3).lengths).toEqual([{ pieces: [0, 1, 2], offcutMm: 0 }])
    expect(packStock([1000, 1000, 994.1], 3000, 3).lengths).toHaveLength(2)
    expect(packStock([1000], 3000, 3).lengths[0].offcutMm).toBe(1997)
    expect(packStock([3000], 3000, 3).lengths[0].offcutMm).toBe(0)
  })
  test('says which pieces are longer than the stock and packs the rest', () => {
    expect(packStock([500, 4000, 600], 3000, 3)).toMatchObject({ tooLong: [1], lengths: [{ pieces: [2, 0] }] })
    expect(packStock([], 3000, 3)).toEqual({ lengths: [], lowerBound: 0, tooLong: [] })
  })
  test('refuses what is no length', () => {
    expect(() => packStock([0], 3000, 3)).toThrow('packStock: pieces and stock must be > 0 mm')
    expect(() => packStock([NaN], 3000, 3)).toThrow()
  })
  test.each([1, 2, 3])('needs no more lengths than the best of all ways, and its bound is never above that, seed %i', (seed) => {
    console.log(`packing seed ${seed}`)
    const { next } = seeded(seed)
    let proved = 0
    for (let round = 0; round < 60; round++) {
      const count = 3 + Math.floor(next() * 6), kerf = round % 2 * 3
      const pieces = Array.from({ length: count }, () => 100 + Math.floor(next() * (round % 3 === 0 ? 2900 : 1500)))
      const { lengths, lowerBound, tooLong } = packStock(pieces, 3000, kerf)
      const fewest = fewestByTrying(pieces, 3000, kerf)
      expect([lengths.length, tooLong], JSON.stringify(pieces)).toEqual([fewest, []])
      expect(lowerBound).toBeLessThanOrEqual(fewest)
      if (lowerBound === fewest) proved++
      expect(lengths.flatMap((length) => length.pieces).sort((a, b) => a - b)).toEqual(pieces.map((_, i) => i))
      for (const length of lengths) {
        const used = length.pieces.reduce((sum, i) => sum + pieces[i], 0) + kerf * (length.pieces.length - 1)
        expect(used).toBeLessThanOrEqual(3000 + 1e-6)
        expect(length.offcutMm).toBeCloseTo(Math.max(0, 3000 - used - kerf), 6)
      }
    }
    expect(proved).toBeGreaterThan(50)
  })
  test('gives an answer with its bound for a large job at once', () => {
    const { next } = seeded(9), pieces = Array.from({ length: 400 }, () => 200 + next() * 2000)
    const { lengths, lowerBound } = packStock(pieces, 3000, 3)
    expect(lowerBound).toBe(leastLengths(pieces.map((mm) => mm + 3), 3003))
    expect(lengths.length / lowerBound).toBeLessThan(1.03)
  })
})
