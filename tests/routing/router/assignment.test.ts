import { describe, expect, test } from 'vitest'
import { cheapestAssignment } from '#routing/router/assignment.ts'
import { seeded } from '../../../fixtures/generate/seeded.ts'

function bestByTrying(cost: readonly (readonly number[])[], row = 0, used = new Set<number>()): number {
  if (row === cost.length) return 0
  let best = Infinity
  cost[row].forEach((mm, column) => {
    if (!used.has(column)) best = Math.min(best, mm + bestByTrying(cost, row + 1, new Set([...used, column])))
  })
  return best
}

describe('which spigot serves which run', () => {
  test('is the cheapest of all ways to share them out, tried one by one', () => {
    const seed = 41, random = seeded(seed)
    for (let k = 0; k < 60; k++) {
      const rows = random.whole(1, 6), columns = random.whole(rows, 7)
      const cost = Array.from({ length: rows }, () => Array.from({ length: columns }, () => random.whole(0, 50)))
      const chosen = cheapestAssignment(cost)
      expect(new Set(chosen).size, `seed ${seed}, case ${k}`).toBe(rows)
      expect(chosen.reduce((sum, column, row) => sum + cost[row][column], 0), `seed ${seed}, case ${k}`).toBe(bestByTrying(cost))
    }
  })

  test('refuses fewer spigots than runs', () => {
    expect(() => cheapestAssignment([[1], [2]])).toThrow('2 rows need as many columns, got 1')
  })
})
