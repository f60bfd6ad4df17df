/** Slow, plain references for fit: sampling and search with nothing clever in them. */
import type { Opening } from '#geometry/fit/opening.ts'

export { seeded as seededNumbers } from './seeded.ts'

/**
 * How far the surface of a 3D cylinder reaches past the members of an opening: the greatest a.p - b over sampled points
 * of the surface that lie at a depth where the member stands. The surface is made from the axis direction and two
 * directions square to it, with no use of ellipses.
 */
export function deepestReach(
  opening: Opening, cx: number, cy: number, sx: number, sy: number, radius: number, around: number, deep: number,
): number {
  const length = Math.hypot(sx, sy, 1)
  const d = [sx / length, sy / length, 1 / length]
  const u0 = Math.abs(d[0]) < 0.5 ? [1, 0, 0] : [0, 1, 0]
  const dot = u0[0] * d[0] + u0[1] * d[1] + u0[2] * d[2]
  const u1 = u0.map((c, i) => c - dot * d[i])
  const size = Math.hypot(u1[0], u1[1], u1[2])
  const u = u1.map((c) => c / size)
  const v = [d[1] * u[2] - d[2] * u[1], d[2] * u[0] - d[0] * u[2], d[0] * u[1] - d[1] * u[0]]
  let deepest = -Infinity
  for (let e = 0; e < opening.edgeCount; e++) {
    const [ax, ay, b, n0, n1] = opening.edges.subarray(5 * e, 5 * e + 5)
    for (let i = 0; i < around; i++) {
      const t = 2 * Math.PI * i / around
      const q = [0, 1, 2].map((k) => radius * (Math.cos(t) * u[k] + Math.sin(t) * v[k]))
      for (let k = 0; k <= deep; k++) {
        // the point of this generator that lies at depth n
        const n = n0 + (n1 - n0) * k / deep
        const along = (n - q[2]) / d[2]
        deepest = Math.max(deepest, ax * (cx + q[0] + along * d[0]) + ay * (cy + q[1] + along * d[1]) - b)
      }
    }
  }
  return deepest
}

/** A random convex opening: edges about a disc, each by a member of its own depth. */
export function randomOpening(random: () => number, edges: number, depth: number): number[] {
  const halfPlanes: number[] = []
  for (let i = 0; i < edges; i++) {
    const t = 2 * Math.PI * (i + 0.8 * random()) / edges
    const n0 = (random() - 0.5) * depth, n1 = n0 + random() * depth / 2
    halfPlanes.push(Math.cos(t), Math.sin(t), 60 + 120 * random(), n0, n1)
  }
  return halfPlanes
}
