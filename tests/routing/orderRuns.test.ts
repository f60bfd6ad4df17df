/** Orders under wishes: kept where they can all be kept, and broken as little as any order breaks them. */
import { describe, expect, it } from 'vitest'
import { EXACT_MEMBERS, orderRuns, type Wishes } from '#routing/orderRuns.ts'
import { seeded } from '../oracle/seeded.ts'

const SEED = 1_964

const wishesOf = (count: number, pairs: readonly (readonly [number, number, number?])[]): Wishes => {
  const rows = Array.from({ length: count }, () => new Map<number, number>())
  for (const [a, b, weight = 1] of pairs) rows[a].set(b, weight)
  return rows
}
const inTurn = (count: number): number[] => Array.from({ length: count }, (_, k) => k)

describe('an order under wishes', () => {
  it('without wishes is the rank’s own', () => {
    expect(orderRuns(wishesOf(4, []), [2, 0, 3, 1]).order).toEqual([1, 3, 0, 2])
  })

  it('keeps every wish where that can be, and the rank where nothing is wished', () => {
    const { order, rings } = orderRuns(wishesOf(5, [[4, 0], [3, 4], [2, 1]]), inTurn(5))
    expect(order).toEqual([2, 1, 3, 4, 0])
    expect(rings).toEqual([])
  })

  it('of a ring of three breaks the lightest and tells the ring, the broken wish last', () => {
    const { order, rings, isLeast } = orderRuns(wishesOf(3, [[0, 1, 2], [1, 2, 1], [2, 0, 2]]), inTurn(3))
    expect(order).toEqual([2, 0, 1])
    expect(rings).toEqual([[2, 0, 1]])
    expect(isLeast).toBe(true)
  })

  it('of two that each should come before the other the lighter wish is broken', () => {
    expect(orderRuns(wishesOf(2, [[0, 1, 1], [1, 0, 3]]), [0, 1])).toEqual({ order: [1, 0], rings: [[1, 0]], isLeast: true })
  })

  it(`breaks as little as the best of all orders of up to seven, seed ${SEED}`, () => {
    const random = seeded(SEED)
    let broken = 0
    for (let k = 0; k < 60; k++) {
      const count = 3 + Math.floor(5 * random())
      const wishes = wishesOf(count, inTurn(count).flatMap((a) => inTurn(count).flatMap((b): [number, number, number][] => a !== b && random() < 0.4 ? [[a, b, 1 + Math.floor(3 * random())]] : [])))
      const { order, isLeast, rings } = orderRuns(wishes, inTurn(count))
      const best = Math.min(...permutations(inTurn(count)).map((other) => cost(other, wishes)))
      expect([...order].sort((a, b) => a - b)).toEqual(inTurn(count))
      expect(isLeast).toBe(true)
      expect(cost(order, wishes)).toBe(best)
      if (best > 0) broken++
      for (const ring of rings) ring.forEach((a, i) => expect(wishes[a].has(ring[(i + 1) % ring.length])).toBe(true))
      expect(rings.length > 0).toBe(best > 0)
    }
    expect(broken).toBeGreaterThan(20)
  })

  it('a knot too large to look at every order of is undone all the same, and says that it is not proved', () => {
    const count = EXACT_MEMBERS + 6
    const { order, rings, isLeast } = orderRuns(wishesOf(count, inTurn(count).map((a) => [a, (a + 1) % count])), inTurn(count))
    // one ring: one broken wish is least
    expect(rings).toHaveLength(1)
    expect(rings[0]).toHaveLength(count)
    expect(order).toHaveLength(count)
    expect(isLeast).toBe(false)
  })
})

function cost(order: readonly number[], wishes: Wishes): number {
  return order.reduce((sum, a, k) => sum + order.slice(0, k).reduce((own, before) => own + (wishes[a].get(before) ?? 0), 0), 0)
}

function permutations(list: readonly number[]): number[][] {
  if (list.length === 0) return [[]]
  return list.flatMap((first, k) => permutations([...list.slice(0, k), ...list.slice(k + 1)]).map((rest) => [first, ...rest]))
}
