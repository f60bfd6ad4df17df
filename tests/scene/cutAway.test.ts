import { describe, expect, test } from 'vitest'
import { alongToRay, cutAwayBy, handleOf, keptRay, planeOutline, sectionOfBounds, type Cut } from '#scene/cutAway.ts'
import { cutFacesOf, type CutFaces } from '#scene/cutFaces.ts'
import { filled, sliceMesh } from '#scene/sliceMesh.ts'
import { meshOfSolid } from '#geometry/mesh/meshOfSolid.ts'
import { SolidSetBuilder } from '#geometry/solid/build.ts'
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
    const joistsAndBoxes = drawingWith(new Set(['duct']), new Set())
    const faces = cutFacesOf(assembly, frame, CUT, joistsAndBoxes)
    for (let i = 0; i < faces.positions.length; i += 3) {
      expect(Math.abs(cutAwayBy(CUT, ...toSiteMm(frame, faces.positions[i], faces.positions[i + 1], faces.positions[i + 2])) + 0.5)).toBeLessThan(0.01)
    }
    const areaMm2 = areaOf(faces, frame)
    const chordsMm2 = 3 * 2 * 97 * 47
    // plates 2 mm thick on both faces: a slanting one of 40 mm is cut over at most 40 / cos of its slope, here less than 80 mm
    const webs = drawingWith(new Set(['web', 'duct', 'manifold', 'plenum']), new Set())
    const withoutWebs = cutFacesOf(assembly, frame, CUT, webs)
    const boxesMm2 = 2 * 200 * 200 // manifold and valve box stand over x = 975: 200 x 200 and 200 x 160
    // two collars of 90 mm, 40 mm long, cut lengthwise; drawn with flat sides, so a little less
    const collarsMm2 = 2 * 90 * 40
    expect(areaMm2).toBeGreaterThan(chordsMm2 + 200 * 200 + 200 * 160 + 0.96 * collarsMm2)
    expect(areaMm2).toBeLessThan(chordsMm2 + boxesMm2 + collarsMm2 + 3 * 2 * 2 * 2 * 80)
    expect(withoutWebs.indices.length).toBe(3 * 2 * 3 * 2)
  })

  test('a duct cut across shows a round of its own size, a stack cut lengthwise its diameter by its length', () => {
    const assembly = smallVoid(), frame = frameOf(assembly)
    const only = (shown: string) => (kind: string) => kind === shown ? 'full' as const : 'none' as const
    const duct = areaOf(cutFacesOf(assembly, frame, { at: [0, 700, 0], towards: [0, 1, 0] }, only('duct')), frame)
    expect(duct / (Math.PI * 45 ** 2)).toBeGreaterThan(0.95)
    expect(duct / (Math.PI * 45 ** 2)).toBeLessThanOrEqual(1)
    // the plane passes 10 mm off the stack's axis, where it is 2 * sqrt(55^2 - 10^2) mm wide and 1,000 mm long
    const stack = areaOf(cutFacesOf(assembly, frame, { at: [3_510, 0, 0], towards: [1, 0, 0] }, only('soil-stack')), frame)
    expect(stack / (2 * Math.sqrt(55 ** 2 - 10 ** 2) * 1_000)).toBeCloseTo(1, 1)
  })

  test('a slab with a hole in it shows its sawn face on both sides of the hole, and none in it', () => {
    const builder = new SolidSetBuilder()
    builder.addPrism([0, 0, 0], [1, 0, 0, 0, 1, 0, 0, 0, 1], 0, 200, [[0, 0, 1_000, 0, 1_000, 1_000, 0, 1_000], [400, 400, 400, 600, 600, 600, 600, 400]])
    const mesh = meshOfSolid(builder.build(), 0, { chordErrorMm: 1, tubeEnds: 'flat' })
    const upright: Cut = { at: [500, 0, 0], towards: [1, 0, 0] }, level: Cut = { at: [0, 0, 50], towards: [0, 0, 1] }
    expect(sliceMesh(mesh, upright).length).toBe(2)
    expect(filledMm2(filled(sliceMesh(mesh, upright), upright))).toBeCloseTo(800 * 200, 1)
    expect(filledMm2(filled(sliceMesh(mesh, level), level))).toBeCloseTo(1e6 - 200 * 200, 0)
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

function areaOf({ positions, indices }: CutFaces, frame: ReturnType<typeof frameOf>): number {
  const corners = Array.from({ length: positions.length / 3 }, (_, i): Xyz => toSiteMm(frame, positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]))
  return filledMm2({ corners, triangles: Array.from({ length: indices.length / 3 }, (_, t) => [...indices.subarray(3 * t, 3 * t + 3)]) })
}

function filledMm2({ corners, triangles }: { readonly corners: readonly Xyz[], readonly triangles: readonly (readonly number[])[] }): number {
  return triangles.reduce((sum, [i, j, k]) => {
    const [a, b, c] = [corners[i], corners[j], corners[k]]
    const [ux, uy, uz] = [b[0] - a[0], b[1] - a[1], b[2] - a[2]], [vx, vy, vz] = [c[0] - a[0], c[1] - a[1], c[2] - a[2]]
    return sum + Math.hypot(uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx) / 2
  }, 0)
}
