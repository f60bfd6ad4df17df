import { ringsOf } from '../solid/degenerate.ts'
import { BOX, CYLINDER, PRISM } from '../solid/solidSet.ts'
import type { SolidSet } from '../solid/solidSet.ts'

/**
 * A box, prism or cylinder with every face moved inwards by a hair, as a set of one; null for a body that is no thicker than two hairs, or a tube.
 * Corners of a prism go along their bisectors, so a hair must be small beside its sides.
 */
export function smallerBy(set: SolidSet, solidIndex: number, hairMm: number): SolidSet | null {
  const data = set.data.slice(set.offset[solidIndex], set.offset[solidIndex + 1])
  const shrink = (at: number): boolean => (data[at] -= hairMm) > 0
  let isLeft = false
  switch (set.kind[solidIndex]) {
    case BOX: isLeft = [3, 4, 5].every(shrink); break
    case CYLINDER: isLeft = [6, 7].every(shrink); break
    case PRISM:
      data[12] += hairMm
      data[13] -= hairMm
      isLeft = data[13] > data[12]
      for (const ring of ringsOf(data, 0)) ring.set(movedLeft(ring, hairMm))
  }
  if (!isLeft) return null
  return { count: 1, kind: set.kind.slice(solidIndex, solidIndex + 1), offset: Uint32Array.of(0, data.length), data, bounds: set.bounds.slice(6 * solidIndex, 6 * solidIndex + 6) }
}

/** Each side moved to its left, where the body is: outlines run counter-clockwise and holes clockwise. */
function movedLeft(ring: Float64Array, byMm: number): number[] {
  const count = ring.length / 2
  return Array.from({ length: count }, (_, i) => {
    const before = (i + count - 1) % count, after = (i + 1) % count
    const [ax, ay] = unitOf(ring[2 * i] - ring[2 * before], ring[2 * i + 1] - ring[2 * before + 1])
    const [bx, by] = unitOf(ring[2 * after] - ring[2 * i], ring[2 * after + 1] - ring[2 * i + 1])
    // the corner of two lines each moved by its normal: (n1 + n2) / (1 + n1.n2)
    const scale = byMm / Math.max(1 + ax * bx + ay * by, 1e-6)
    return [ring[2 * i] - (ay + by) * scale, ring[2 * i + 1] + (ax + bx) * scale]
  }).flat()
}

function unitOf(x: number, y: number): [number, number] {
  const size = Math.hypot(x, y)
  return size > 0 ? [x / size, y / size] : [0, 0]
}
