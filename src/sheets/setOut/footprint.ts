/** What a solid covers in plan. */
import type { SolidSet } from '#geometry/solid/solidSet.ts'
import { meshOfSolid } from '#geometry/mesh/meshOfSolid.ts'
import type { Point } from '../page.ts'

/** Convex outline of a solid seen from above, counter-clockwise: exact for boxes; round bodies to 0.5 mm; a concave one without its hollows. */
export function footprint(set: SolidSet, solidIndex: number): Point[] {
  const { positions } = meshOfSolid(set, solidIndex)
  const points: Point[] = []
  for (let i = 0; i < positions.length; i += 3) points.push([positions[i], positions[i + 1]])
  return hull(points)
}

/** Andrew's monotone chain (Information Processing Letters 9, 1979). */
export function hull(points: readonly Point[]): Point[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1])
  const chain = (ordered: readonly Point[]): Point[] => {
    const out: Point[] = []
    for (const p of ordered) {
      while (out.length > 1) {
        const [a, b] = [out[out.length - 2], out[out.length - 1]]
        if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 1e-9) break
        out.pop()
      }
      out.push(p)
    }
    return out.slice(0, -1)
  }
  return [...chain(sorted), ...chain(sorted.reverse())]
}
