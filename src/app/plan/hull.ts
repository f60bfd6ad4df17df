/** The smallest convex outline round points of the plan. */
import type { Point2 } from '#model/index.ts'

/** Andrew's monotone chain (Andrew, Inf. Process. Lett. 9(5), 1979), counter-clockwise, the first corner not repeated. */
export function hullOf(points: readonly Point2[]): Point2[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1])
  if (sorted.length < 3) return sorted
  const chain = (inOrder: readonly Point2[]): Point2[] => {
    const out: Point2[] = []
    for (const point of inOrder) {
      while (out.length >= 2 && leftOf(out[out.length - 2], out[out.length - 1], point) <= 0) out.pop()
      out.push(point)
    }
    out.pop()
    return out
  }
  return [...chain(sorted), ...chain(sorted.toReversed())]
}

function leftOf(a: Point2, b: Point2, p: Point2): number {
  return (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
}
