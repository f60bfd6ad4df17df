/** The sides of some tubes of a merged mesh: flat ends have one normal at all three corners, and do not grow with the tube. */
import type { MergedMesh } from './meshSpans.ts'

/** @returns corners of the triangles, three each */
export function withoutEnds({ spans, indices, normals }: MergedMesh, which: readonly number[]): number[] {
  const chosen = new Set(which)
  const out: number[] = []
  for (const { index, firstIndex, endIndex } of spans) {
    if (!chosen.has(index)) continue
    for (let i = firstIndex; i < endIndex; i += 3) {
      const [a, b, c] = [3 * indices[i], 3 * indices[i + 1], 3 * indices[i + 2]]
      const isFlat = [0, 1, 2].every((k) => normals[a + k] === normals[b + k] && normals[a + k] === normals[c + k])
      if (!isFlat) out.push(indices[i], indices[i + 1], indices[i + 2])
    }
  }
  return out
}
