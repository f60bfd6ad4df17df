import { describe, expect, test } from 'vitest'
import { EMPTY_BOUNDS_MM, boundsOver, frameOf, frameOver, toScene, toSiteMm } from '#scene/frame.ts'
import { smallVoid } from './smallVoid.ts'

describe('site millimetres and the scene', () => {
  test('a point goes to the scene and back to the hundredth of a millimetre, a kilometre from the datum', () => {
    const frame = frameOver([999_000, -999_000, 2_000, 999_900, -998_000, 2_400])
    const kept = Float32Array.from(toScene(frame, 999_123.456, -998_765.432, 2_345.678))
    const back = toSiteMm(frame, kept[0], kept[1], kept[2])
    expect(Math.hypot(back[0] - 999_123.456, back[1] + 998_765.432, back[2] - 2_345.678)).toBeLessThan(0.01)
  })
  test('up on site is up in the scene, and a metre is one unit', () => {
    const frame = frameOver([0, 0, 0, 2_000, 2_000, 2_000])
    expect(toScene(frame, 1_000, 1_000, 2_000)).toEqual([0, 0, 1])
    expect(toScene(frame, 2_000, 1_000, 1_000)).toEqual([1, 0, 0])
  })
  test('bounds pass over what is not finite, and an empty job still has a place to look at', () => {
    expect(boundsOver([0, 0, 0, 1, 1, 1], [NaN, 0, 0, NaN, 9, 9], [-5, 0, 0, 0, 0, 2])).toEqual([-5, 0, 0, 1, 1, 2])
    expect(boundsOver([])).toEqual(EMPTY_BOUNDS_MM)
  })
  test('the first view is of the void, not of a wall that goes down to the ground', () => {
    // the zone reaches down to 2,390; the joists of depth 304 from 2,400 up to 2,704; the wall starts at 0
    expect(frameOf(smallVoid()).boundsMm[2]).toBe(2_390)
  })
})
