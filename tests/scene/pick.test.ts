import { describe, expect, test } from 'vitest'
import { frameOf } from '#scene/frame.ts'
import type { Xyz } from '#scene/frame.ts'
import { mergedRuns, mergedShapes, mergedThinShapes } from '#scene/meshSpans.ts'
import { openingBehind } from '#scene/openings.ts'
import { nearestMarker, pick } from '#scene/pick.ts'
import { smallVoid } from './smallVoid.ts'

describe('what a finger touches', () => {
  const assembly = smallVoid()
  const frame = frameOf(assembly)
  const runs = mergedRuns(assembly, frame)
  const shapes = { spans: [...mergedShapes(assembly, frame).spans, ...mergedThinShapes(assembly, frame).spans] }
  const touch = (from: Xyz, direction: Xyz) => pick(assembly, runs.spans, shapes.spans, { from, direction })
  const nameOf = (hit: ReturnType<typeof touch>) => hit?.kind === 'solid' ? assembly.parts.describe(hit.solidIndex).name : hit?.kind === 'run' ? assembly.runs[hit.runIndex].run.name : null

  test('the top chord of joist J2 from above, at its top face', () => {
    const hit = touch([2_000, 1_000, 5_000], [0, 0, -1])
    expect(nameOf(hit)).toBe('joist J2, top chord')
    expect(hit!.at[2]).toBeCloseTo(2_704, 9) // 2,400 + 304
  })
  test('the bottom chord of the same joist from below', () => {
    const hit = touch([2_000, 1_000, 0], [0, 0, 1])
    expect(nameOf(hit)).toBe('joist J2, bottom chord')
    expect(hit!.at[2]).toBeCloseTo(2_400, 9)
  })
  test('a run between the joists, on the surface of its tube', () => {
    const hit = touch([975, 700, 5_000], [0, 0, -1])
    expect(nameOf(hit)).toBe('Run 1')
    expect(hit!.at[2]).toBeCloseTo(2_545, 0) // axis at 2,500 and 45 mm of radius; the drawn tube is within 1 mm
    expect(hit!.at[2]).toBeLessThanOrEqual(2_545 + 1e-3)
  })
  test('a run hidden under a chord is not touched through it', () => {
    expect(nameOf(touch([975, 400, 5_000], [0, 0, -1]))).toBe('joist J1, top chord')
  })
  test('the soil stack from the side, and the gable wall', () => {
    expect(nameOf(touch([6_000, 700, 2_900], [-1, 0, 0]))).toBe('Soil stack')
    expect(nameOf(touch([-5_000, 1_000, 1_000], [1, 0, 0]))).toBe('Gable wall')
  })
  test('nothing where there is nothing, and nothing behind the eye', () => {
    expect(touch([10_000, 10_000, 5_000], [0, 0, -1])).toBeNull()
    expect(touch([2_000, 1_000, 5_000], [0, 0, 1])).toBeNull()
  })
  test('an opening between the webs is told by its joist and its number', () => {
    const joist = assembly.joists[0]
    const { number, opening } = joist.openings[2]
    const corners = opening.verticesXy.length / 2
    const x = opening.verticesXy.reduce((sum, value, i) => i % 2 === 0 ? sum + value / corners : sum, 0)
    const y = opening.verticesXy.reduce((sum, value, i) => i % 2 === 1 ? sum + value / corners : sum, 0)
    const through = openingBehind(assembly, { from: [x, -3_000, 2_400 + y], direction: [0, 1, 0] })
    expect(through).toMatchObject({ kind: 'opening', joistIndex: 0, number })
    // along a chord there is none
    expect(openingBehind(assembly, { from: [x, -3_000, 2_410], direction: [0, 1, 0] })).toBeNull()
  })
  test('the nearest marker within reach, never one behind the eye', () => {
    expect(nearestMarker([100, 100, 110, 100, NaN, NaN], 108, 100, 20)).toBe(1)
    expect(nearestMarker([100, 100], 130, 100, 20)).toBe(-1)
    expect(nearestMarker([NaN, NaN], 0, 0, 20)).toBe(-1)
  })
})
