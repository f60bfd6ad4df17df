import { describe, expect, test } from 'vitest'
import { alongToRay, cutAwayBy, cutFacesOf, handleOf, keptRay, planeOutline, sectionOfBounds, type Cut } from '#scene/cutAway.ts'
import { frameOf, toSiteMm, type Xyz } from '#scene/frame.ts'
import { AS_USUAL, drawingWith } from '#scene/kinds.ts'
import { smallVoid } from './smallVoid.ts'

/** x = 975 is where Run 1 goes: across it, what has more x is cut away */
const CUT: Cut = { at: [975, 0, 0], towards: [1, 0, 0] }

describe('a picture cut away by a plane', () => {
  test('a ray from the side that is cut away starts on the plane; one that never comes over it meets nothing', () => {
    expect(keptRay(CUT, { from: [2_975, 0, 100], direction: [-2, 1, 0] })).toEqual({ from: [975, 1_000, 100], direction: [-2, 1, 0] })
    expect(keptRay(CUT, { from: [2_975, 0, 100], direction: [1, 0, 0] })).toBeNull()
    expect(keptRay(CUT, { from: [2_975, 0, 100], direction: [0, 1, 0] })).toBeNull()
    const before = { from: [0, 0, 0] as Xyz, direction: [1, 0, 0] as Xyz }
    expect(keptRay(CUT, before)).toBe(before)
  })

  test('each joist that the plane goes through shows both chords as sawn faces of 97 by 47 mm, and its webs where they are cut', () => {
    const assembly = smallVoid(), frame = frameOf(assembly)
    const { positions, indices } = cutFacesOf(assembly, frame, CUT, AS_USUAL)
    let areaMm2 = 0
    const at = (i: number): Xyz => toSiteMm(frame, positions[3 * i], positions[3 * i + 1], positions[3 * i + 2])
    for (let i = 0; i < indices.length; i += 3) {
      const [a, b, c] = [at(indices[i]), at(indices[i + 1]), at(indices[i + 2])]
      expect(Math.abs(cutAwayBy(CUT, ...a) + 0.5)).toBeLessThan(0.01)
      areaMm2 += Math.abs((b[1] - a[1]) * (c[2] - a[2]) - (b[2] - a[2]) * (c[1] - a[1])) / 2
    }
    const chordsMm2 = 3 * 2 * 97 * 47
    // plates 2 mm thick on both faces: a slanting one of 40 mm is cut over at most 40 / cos of its slope, here less than 80 mm
    const webs = drawingWith(new Set(['web']), new Set())
    const withoutWebs = cutFacesOf(assembly, frame, CUT, webs)
    const boxesMm2 = 2 * 200 * 200 // manifold and valve box stand over x = 975: 200 x 200 and 200 x 160
    expect(areaMm2).toBeGreaterThan(chordsMm2 + 200 * 200 + 200 * 160)
    expect(areaMm2).toBeLessThan(chordsMm2 + boxesMm2 + 3 * 2 * 2 * 2 * 80)
    expect(withoutWebs.indices.length).toBe(3 * 2 * (3 * 2 + 2))
  })

  test('nothing is sawn where the plane misses', () => {
    const assembly = smallVoid()
    expect(cutFacesOf(assembly, frameOf(assembly), { at: [50_000, 0, 0], towards: [1, 0, 0] }, AS_USUAL).indices.length).toBe(0)
    expect(sectionOfBounds({ at: [0, 0, 5_000], towards: [0, 0, 1] }, [0, 0, 0, 10, 10, 10])).toEqual([])
  })

  test('the corners of an askew section lie in the plane and go round it one way', () => {
    const size = Math.hypot(1, 2, 3), cut: Cut = { at: [5, 5, 5], towards: [1 / size, 2 / size, 3 / size] }
    const corners = sectionOfBounds(cut, [0, 0, 0, 10, 10, 10])
    expect(corners.length).toBe(4)
    for (const [i, p] of corners.entries()) {
      const q = corners[(i + 1) % corners.length], r = corners[(i + 2) % corners.length]
      expect(Math.abs(cutAwayBy(cut, ...p))).toBeLessThan(1e-9)
      const [ux, uy, uz] = [q[0] - p[0], q[1] - p[1], q[2] - p[2]], [vx, vy, vz] = [r[0] - q[0], r[1] - q[1], r[2] - q[2]]
      expect((uy * vz - uz * vy) * cut.towards[0] + (uz * vx - ux * vz) * cut.towards[1] + (ux * vy - uy * vx) * cut.towards[2]).toBeGreaterThan(0)
    }
  })

  test('the handle is in the middle of the outline\u2019s top, and a ray that passes it tells how far along it was pulled', () => {
    const outline = planeOutline(CUT, [0, 0, 2_400, 4_000, 2_000, 2_700])
    expect(handleOf(outline)).toEqual([973, 1_000, 2_850])
    expect(alongToRay([973, 1_000, 2_850], [1, 0, 0], { from: [1_473, -3_850, 7_700], direction: [0, 1, -1] })).toBeCloseTo(500, 9)
    expect(alongToRay([0, 0, 0], [1, 0, 0], { from: [0, 5, 0], direction: [-3, 0, 0] })).toBeNull()
  })
})
