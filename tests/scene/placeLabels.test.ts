import { describe, expect, test } from 'vitest'
import { placeLabels, type LabelAsk } from '#scene/placeLabels.ts'
import { between, seeded } from '../oracle/drawnElements.ts'

const SEED = 3_107
const WIDTH = 900, HEIGHT = 600

function crowd(count: number): LabelAsk[] {
  const draw = seeded(SEED)
  return Array.from({ length: count }, (_, i) => ({
    anchorsXy: Array.from({ length: 6 }, (_, k) => between(draw, 0, k % 2 === 0 ? WIDTH : HEIGHT)), width: between(draw, 30, 180), height: 24, weight: i % 3,
  }))
}

describe(`names in the picture (seed ${SEED})`, () => {
  test('no two names lie on one another, and none sticks out of the picture', () => {
    const asks = crowd(120), at = placeLabels(asks, WIDTH, HEIGHT)
    const placed = asks.flatMap((ask, i) => Number.isNaN(at[2 * i]) ? [] : [{ left: at[2 * i], top: at[2 * i + 1], right: at[2 * i] + ask.width, bottom: at[2 * i + 1] + ask.height }])
    expect(placed.length).toBeGreaterThan(25)
    expect(placed.length).toBeLessThan(120)
    for (const [i, a] of placed.entries()) {
      expect(Math.min(a.left, a.top, WIDTH - a.right, HEIGHT - a.bottom)).toBeGreaterThanOrEqual(0)
      for (const b of placed.slice(i + 1)) expect(a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom).toBe(false)
    }
  })

  test('of two that want one place, the one that matters more has it and the other stands at its next', () => {
    const at = placeLabels([
      { anchorsXy: [400, 300, 100, 100], width: 100, height: 24, weight: 1 },
      { anchorsXy: [400, 300], width: 500, height: 24, weight: 2 },
    ], WIDTH, HEIGHT)
    expect([...at.subarray(2)]).toEqual([150, 270])
    // below the same anchor: 24 px of the other and the gap are cleared there
    expect([...at.subarray(0, 2)]).toEqual([350, 306])
  })

  test('a name whose only place is out of sight, or taken, is left out', () => {
    const only = (anchorsXy: number[]): LabelAsk => ({ anchorsXy, width: 60, height: 24, weight: 0 })
    expect([...placeLabels([only([NaN, NaN]), only([-20, 50])], WIDTH, HEIGHT)]).toEqual([NaN, NaN, NaN, NaN])
    expect([...placeLabels([only([400, 300])], WIDTH, HEIGHT, [{ left: 300, top: 200, width: 200, height: 200 }])]).toEqual([NaN, NaN])
  })
})
