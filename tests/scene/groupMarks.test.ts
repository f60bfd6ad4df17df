import { describe, expect, test } from 'vitest'
import { MORE_WORDS, groupMarks, moreStep } from '#scene/groupMarks.ts'
import { seeded } from '../oracle/seeded.ts'

const SEED = 31_415

describe('marks that would cover one another', () => {
  test('stand as the first of them, with how many more there are; one out of sight is in none', () => {
    expect(groupMarks([100, 100, 110, 100, 400, 100, NaN, NaN, 104, 95], [0, 1, 2, 3, 4], 24)).toEqual([{ lead: 0, more: 2 }, { lead: 2, more: 0 }])
    expect(groupMarks([100, 100, 110, 100], [1, 0], 24)).toEqual([{ lead: 1, more: 1 }])
  })

  test(`never stand nearer than that, each is counted once, and none goes under one that it does not touch (seed ${SEED})`, () => {
    const next = seeded(SEED), apart = 24
    for (let round = 0; round < 30; round++) {
      const count = Math.floor(next() * 200), at = Array.from({ length: 2 * count }, () => next() * 500 - 50)
      const groups = groupMarks(at, at.slice(count).map((_, i) => i), apart)
      expect(groups.reduce((sum, { more }) => sum + 1 + more, 0)).toBe(count)
      const away = (a: number, b: number): number => Math.hypot(at[2 * a] - at[2 * b], at[2 * a + 1] - at[2 * b + 1])
      for (const { lead } of groups) for (const other of groups) if (other.lead !== lead) expect(away(lead, other.lead)).toBeGreaterThanOrEqual(apart)
      const leads = new Set(groups.map(({ lead }) => lead))
      for (let i = 0; i < count; i++) if (!leads.has(i)) expect(Math.min(...[...leads].map((lead) => away(i, lead)))).toBeLessThan(apart)
    }
  })

  test('a badge never says more than there are, nor that there are ten fewer than ten', () => {
    expect([1, 9, 10, 19, 20, 50, 98, 99, 4_000].map((more) => MORE_WORDS[moreStep(more)])).toEqual(['+1', '+9', '10+', '10+', '20+', '50+', '50+', '99+', '99+'])
  })
})
