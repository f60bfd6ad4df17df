import { describe, expect, test } from 'vitest'
import { THUMB_APART_PX, ringGroups } from '#scene/ringGroups.ts'
import type { Xyz } from '#scene/frame.ts'

/** one pixel to a millimetre, seen from above; below z 0 it is behind the eye */
const plan = ([x, y, z]: Xyz): [number, number] | null => z < 0 ? null : [x, y]

describe('rings under a thumb', () => {
  test('seven spigots that lie nearer than a thumb is wide are one, and the plenum away from them stands alone', () => {
    const spigots = Array.from({ length: 7 }, (_, i): Xyz => [10 + 5 * i, 20, 0])
    const groups = ringGroups([...spigots, [300, 200, 0]], plan)
    expect(groups.map(({ members }) => members)).toEqual([[0, 1, 2, 3, 4, 5, 6], [7]])
    expect(groups[0].at).toEqual([25, 20, 0])
  })

  test('once the camera is near enough each stands alone, and none is lost or told twice', () => {
    const spread = Array.from({ length: 7 }, (_, i): Xyz => [THUMB_APART_PX * i, 0, 0])
    expect(ringGroups(spread, plan).map(({ members }) => members)).toEqual([[0], [1], [2], [3], [4], [5], [6]])
    const crowd = Array.from({ length: 40 }, (_, i): Xyz => [(i * 37) % 101, (i * 53) % 89, 0])
    const groups = ringGroups(crowd, plan)
    expect(groups.flatMap(({ members }) => members).sort((a, b) => a - b)).toEqual(crowd.map((_, i) => i))
    expect(groups.length).toBeLessThan(crowd.length)
  })

  test('what is behind the eye joins no group', () => {
    expect(ringGroups([[10, 10, 0], [10, 10, -1], [12, 10, -1]], plan).map(({ members }) => members)).toEqual([[0], [1], [2]])
  })
})
