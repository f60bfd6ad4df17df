import { describe, expect, test } from 'vitest'
import { webMembers } from '#assembly/openWeb.ts'
import { largestStraight } from '#geometry/fit/largestDuct.ts'
import type { JoistField, OpenWebSection } from '#model/index.ts'
import { assemblyOf, oneJoist, OPEN_WEB } from '../checks/smallJob.ts'

const members = (firstNodeMm: number, endBlockMm = 0, lengthMm = 2_400) => webMembers(
  { ...OPEN_WEB, endBlockMm, posts: 'none' } as OpenWebSection, { firstNodeMm, flip: false } as JoistField, { webFree: [] } as unknown as Parameters<typeof webMembers>[2], lengthMm)

describe('webs at the ends of a joist', () => {
  test('from a node at the very end, eight whole webs stand on 2400 mm', () => {
    const all = members(0)
    expect(all).toHaveLength(8)
    expect(all[0]).toMatchObject({ x0: 0, y0: 47, x1: 300, y1: 207, number: 1 })
  })

  test('a web that runs 1 mm past the end is there up to the end', () => {
    const [first] = members(-1)
    // 160 up in 300 along: at the end it stands 160 / 300 above the chord
    expect(first.x0).toBe(0)
    expect(first.y0).toBeCloseTo(47 + 160 / 300, 9)
    expect(first).toMatchObject({ x1: 299, y1: 207 })
  })

  test('a web that starts inside the end block is there from the face of the block', () => {
    const [first, second] = members(100, 120)
    expect(first).toMatchObject({ x0: 120, x1: 400 })
    expect(second.x0).toBe(400)
  })

  test('1 mm of node more or less changes the first opening by less than 2 mm, not by a web', () => {
    const firstOpening = (firstNodeMm: number): number => {
      const out = new Float64Array(3)
      largestStraight(assemblyOf(oneJoist(OPEN_WEB, { firstNodeMm })).joists[0].openings[0].opening, out)
      return out[0]
    }
    for (const node of [-1, 0, 1, 2, 299, 300, 301]) expect(Math.abs(firstOpening(node) - firstOpening(node + 1)), `node at ${node}`).toBeLessThan(2)
  })
})
