import type { SolidSet } from '../solid/solidSet.ts'

/**
 * How deep two boxes overlap: the shortest way that one must be moved to stand clear of the other, mm; below 0 when they are apart
 * (then no distance, only a sign). Exact: of two convex polyhedra the shortest way out is square to a face of one of them or to an edge of each
 * (separating axes; Gottschalk, Lin, Manocha, OBBTree, SIGGRAPH 1996; Ericson, Real-Time Collision Detection 4.4.1).
 */
export function boxesDepthMm(a: SolidSet, i: number, b: SolidSet, j: number): number {
  const p = a.data, q = b.data, s = a.offset[i], t = b.offset[j]
  const between = [q[t] - p[s], q[t + 1] - p[s + 1], q[t + 2] - p[s + 2]]
  let least = Infinity
  const along = (x: number, y: number, z: number): void => {
    const size = Math.hypot(x, y, z)
    // edges that run the same way ask nothing that a face has not asked
    if (size < PARALLEL) return
    let reach = 0
    for (let k = 0; k < 3; k++) {
      const u = s + 6 + 3 * k, v = t + 6 + 3 * k
      reach += p[s + 3 + k] * Math.abs(p[u] * x + p[u + 1] * y + p[u + 2] * z) + q[t + 3 + k] * Math.abs(q[v] * x + q[v + 1] * y + q[v + 2] * z)
    }
    least = Math.min(least, (reach - Math.abs(between[0] * x + between[1] * y + between[2] * z)) / size)
  }
  for (let k = 0; k < 3; k++) {
    const u = s + 6 + 3 * k, v = t + 6 + 3 * k
    along(p[u], p[u + 1], p[u + 2])
    along(q[v], q[v + 1], q[v + 2])
    for (let m = 0; m < 3; m++) {
      const w = t + 6 + 3 * m
      along(p[u + 1] * q[w + 2] - p[u + 2] * q[w + 1], p[u + 2] * q[w] - p[u] * q[w + 2], p[u] * q[w + 1] - p[u + 1] * q[w])
    }
  }
  return least
}

/** sine of the angle below which two edges count as running the same way */
const PARALLEL = 1e-9
