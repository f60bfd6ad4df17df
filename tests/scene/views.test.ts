import { describe, expect, test } from 'vitest'
import { frameOver, toScene } from '#scene/frame.ts'
import type { BoundsMm, Xyz } from '#scene/frame.ts'
import { CLOSE_UP_MM, lookAtPlace, lookAtThing, lookFrom } from '#scene/views.ts'
import type { Look, Picture, Stand } from '#scene/views.ts'
import { inPicture } from './inPicture.ts'

const house: BoundsMm = [0, 0, 2_400, 12_000, 9_000, 2_720]
const frame = frameOver(house)

const seenAt = ({ eye, target }: Look, { fovDeg, aspect }: Picture, placeMm: Xyz) => inPicture(eye, target, fovDeg, aspect, toScene(frame, ...placeMm))

const corners = (b: BoundsMm): Xyz[] => Array.from({ length: 8 }, (_, i) => [i & 1 ? b[3] : b[0], i & 2 ? b[4] : b[1], i & 4 ? b[5] : b[2]])
const wide: Picture = { fovDeg: 32, aspect: 1.25, coveredTop: 0.1, coveredBottom: 0 }
const tall: Picture = { fovDeg: 32, aspect: 0.6, coveredTop: 0.15, coveredBottom: 0.3 }

describe('where the camera stands', () => {
  for (const stand of ['whole', 'above', 'below'] satisfies Stand[]) {
    for (const picture of [wide, tall]) {
      test(`${stand}, in a ${picture === wide ? 'wide' : 'tall'} picture: all of the void is in it, clear of the buttons, and fills it one way`, () => {
        const look = lookFrom(frame, stand, picture)
        const seen = corners(house).map((corner) => seenAt(look, picture, corner))
        const across = Math.max(...seen.map(([x]) => Math.abs(x)))
        const top = Math.max(...seen.map(([, y]) => y)), bottom = Math.min(...seen.map(([, y]) => y))
        expect(across).toBeLessThanOrEqual(1)
        expect(top).toBeLessThanOrEqual(1 - 2 * picture.coveredTop + 0.02)
        expect(bottom).toBeGreaterThanOrEqual(-1 + 2 * picture.coveredBottom - 0.02)
        const fills = Math.max(across, (top - bottom) / (2 - 2 * picture.coveredTop - 2 * picture.coveredBottom))
        expect(fills).toBeGreaterThan(0.8)
      })
    }
  }
  test('from below the eye is under the ceiling, from above over the joists', () => {
    expect(lookFrom(frame, 'below', wide).eye[2]).toBeLessThan(0)
    expect(lookFrom(frame, 'above', wide).eye[2]).toBeGreaterThan(0)
  })
  test('a finding is flown to from the side that the eye is on, and ends in the middle of the picture', () => {
    for (const eyeNow of [[20, 3, 8], [-4, -9, -6], [0, 0, 30]] satisfies Xyz[]) {
      const place: Xyz = [3_210, 4_321, 2_567]
      const look = lookAtPlace(frame, place, eyeNow)
      const [x, y] = seenAt(look, wide, place)
      expect(Math.hypot(x, y)).toBeLessThan(1e-9)
      expect(Math.hypot(...[0, 1, 2].map((k) => look.eye[k] - look.target[k]))).toBeCloseTo(CLOSE_UP_MM / 1_000, 9)
      expect(Math.sign(look.eye[2] - look.target[2])).toBe(Math.sign(eyeNow[2]))
    }
  })
  test('all of one run is in the picture, above what covers its lower part', () => {
    const run: BoundsMm = [2_000, 1_000, 2_500, 7_000, 8_000, 2_600]
    const look = lookAtThing(frame, run, [-5, -9, 12], tall)
    for (const corner of corners(run)) {
      const [x, y] = seenAt(look, tall, corner)
      expect(Math.abs(x)).toBeLessThanOrEqual(1)
      expect(y).toBeGreaterThanOrEqual(-1 + 2 * tall.coveredBottom - 0.02)
    }
  })
})
