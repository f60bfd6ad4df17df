import { describe, expect, test } from 'vitest'
import { frameOf } from '#scene/frame.ts'
import { mergedRuns, mergedShapes, mergedThinShapes } from '#scene/meshSpans.ts'
import { undersidesOf } from '#scene/undersides.ts'
import { smallVoid } from './smallVoid.ts'

describe('merged meshes', () => {
  const assembly = smallVoid()
  const frame = frameOf(assembly)

  test('the spans cover every triangle once, and each stays inside its own vertices', () => {
    for (const mesh of [mergedRuns(assembly, frame), mergedShapes(assembly, frame), mergedThinShapes(assembly, frame)]) {
      expect(mesh.spans.length).toBeGreaterThan(0)
      let next = 0
      for (const { firstIndex, endIndex, mesh: own } of mesh.spans) {
        expect(firstIndex).toBe(next)
        expect(endIndex - firstIndex).toBe(own.indices.length)
        next = endIndex
      }
      expect(next).toBe(mesh.indices.length)
      expect(Math.max(...mesh.indices)).toBe(mesh.positions.length / 3 - 1)
    }
  })
  test('a run is as thick as its duct and as long as its centreline, cut flat at its ends', () => {
    const [{ boundsMm }] = mergedRuns(assembly, frame).spans
    expect(boundsMm[1]).toBeCloseTo(-60, 3)
    expect(boundsMm[4]).toBeCloseTo(2_160, 3)
    expect(boundsMm[5] - boundsMm[2]).toBeGreaterThan(90 - 2) // drawn within 1 mm of the true tube
    expect(boundsMm[5] - boundsMm[2]).toBeLessThanOrEqual(90 + 1e-2)
  })
  test('the underside of a ceiling zone has the area of its outline, at its height', () => {
    const { positions, indices, outline } = undersidesOf(assembly.zones, frame)
    let areaM2 = 0
    for (let i = 0; i < indices.length; i += 3) {
      const [a, b, c] = [0, 1, 2].map((k) => 3 * indices[i + k])
      areaM2 += Math.abs((positions[b] - positions[a]) * (positions[c + 1] - positions[a + 1]) - (positions[c] - positions[a]) * (positions[b + 1] - positions[a + 1])) / 2
    }
    expect(areaM2).toBeCloseTo(12, 5) // 4 m by 3 m
    expect(positions[2] * 1_000 + frame.originMm[2]).toBeCloseTo(2_390, 2)
    expect(outline).toHaveLength(4 * 6)
  })
})
