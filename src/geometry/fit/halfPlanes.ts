/** Outlines from half-planes ax*x + ay*y <= b, seen along the joist's normal. mm. */
import { ROUNDING_MM } from '../tolerance.ts'
import type { Opening } from './opening.ts'

/** Numbers per edge: ax, ay (unit outward normal), b (inside is ax*x + ay*y <= b), n0 <= n1 (where the member stands). */
export const EDGE_STRIDE = 5

/**
 * Corners of { p : a.p <= b - inset for every edge } counter-clockwise, written to `outXy` (2 numbers per corner, at
 * most `edgeCount` corners). Returns the corner count: 0 when nothing is left, when the outline is not closed, or
 * when it has shrunk to a point or a line. `edges` in order of their normals' direction, as every Opening has them.
 */
export function insetPolygon(edges: Float64Array, edgeCount: number, insetMm: number, outXy: Float64Array): number {
  let count = 0
  for (let i = 0; i < edgeCount; i++) {
    const ax = edges[5 * i], ay = edges[5 * i + 1], b = edges[5 * i + 2] - insetMm
    // the part of this edge's line, p = b*a + t*(-ay, ax), that the other edges leave
    let from = -Infinity, to = Infinity
    for (let j = 0; j < edgeCount; j++) {
      if (j === i) continue
      const cross = ax * edges[5 * j + 1] - ay * edges[5 * j]
      const dot = ax * edges[5 * j] + ay * edges[5 * j + 1]
      const other = edges[5 * j + 2] - insetMm
      const room = other - b * dot
      if (Math.abs(cross) < 1e-13) {
        // parallel: facing the same way only the tighter line is a side (of two equal ones, the first)
        const behind = dot < 0 ? room < 0 : other < b || (other === b && j < i)
        if (behind) { to = -Infinity; break }
      } else if (cross > 0) {
        if (room / cross < to) to = room / cross
      } else if (room / cross > from) from = room / cross
    }
    if (!(to - from > ROUNDING_MM)) continue
    if (from === -Infinity || to === Infinity) return 0
    outXy[2 * count] = b * ax - from * ay
    outXy[2 * count + 1] = b * ay + from * ax
    count++
  }
  return count < 3 ? 0 : count
}

/** Area of a simple polygon, mm2; positive when counter-clockwise. */
export function polygonArea(xy: ArrayLike<number>, count: number): number {
  let twice = 0
  for (let i = 2; i < count; i++) {
    const ux = xy[2 * i - 2] - xy[0], uy = xy[2 * i - 1] - xy[1]
    twice += ux * (xy[2 * i + 1] - xy[1]) - uy * (xy[2 * i] - xy[0])
  }
  return twice / 2
}

/**
 * An opening from half-planes, EDGE_STRIDE numbers each; normals need not be unit. `members` defaults to 0, 1, 2 ...
 * Nothing throws: half-planes that leave nothing, or do not close, and any that is not finite or has no direction, make
 * the opening empty: no edges, diameter 0.
 */
export function openingFromHalfPlanes(halfPlanes: ArrayLike<number>, members?: ArrayLike<number>, number = 0): Opening {
  const edgeCount = Math.floor(halfPlanes.length / EDGE_STRIDE)
  const unit = new Float64Array(edgeCount * EDGE_STRIDE)
  const order: number[] = [], directions: number[] = []
  for (let i = 0; i < edgeCount; i++) {
    const at = EDGE_STRIDE * i
    const length = Math.hypot(halfPlanes[at], halfPlanes[at + 1])
    unit[at] = halfPlanes[at] / length
    unit[at + 1] = halfPlanes[at + 1] / length
    unit[at + 2] = halfPlanes[at + 2] / length
    unit[at + 3] = Math.min(halfPlanes[at + 3], halfPlanes[at + 4])
    unit[at + 4] = Math.max(halfPlanes[at + 3], halfPlanes[at + 4])
    for (let k = 0; k < EDGE_STRIDE; k++) if (!Number.isFinite(unit[at + k])) return emptyOpening(number)
    order.push(i)
    directions.push(Math.atan2(unit[at + 1], unit[at]))
  }
  order.sort((i, j) => directions[i] - directions[j] || i - j)
  const edges = new Float64Array(edgeCount * EDGE_STRIDE)
  const owners = new Int32Array(edgeCount)
  order.forEach((from, to) => {
    edges.set(unit.subarray(EDGE_STRIDE * from, EDGE_STRIDE * (from + 1)), EDGE_STRIDE * to)
    owners[to] = members === undefined ? from : members[from]
  })
  const outline = openingPolygon(edges)
  if (outline.length === 0) return emptyOpening(number)
  return { number, edgeCount, edges, members: owners, verticesXy: outline, areaMm2: polygonArea(outline, outline.length / 2) }
}

/** Corners (x, y pairs, counter-clockwise) of an opening's edges, which are in order of direction; empty when degenerate. */
export function openingPolygon(edges: Float64Array): Float64Array {
  const edgeCount = edges.length / EDGE_STRIDE
  const corners = new Float64Array(2 * edgeCount)
  const count = insetPolygon(edges, edgeCount, 0, corners)
  return corners.slice(0, 2 * count)
}

/** An opening with a convex outline (x, y pairs, counter-clockwise), all of it by members standing in n0..n1. */
export function openingFromPolygon(verticesXy: ArrayLike<number>, n0 = 0, n1 = 0): Opening {
  const count = Math.floor(verticesXy.length / 2)
  const halfPlanes: number[] = []
  for (let i = 0; i < count; i++) {
    const j = (i + 1) % count
    const ax = verticesXy[2 * j + 1] - verticesXy[2 * i + 1], ay = verticesXy[2 * i] - verticesXy[2 * j]
    halfPlanes.push(ax, ay, ax * verticesXy[2 * i] + ay * verticesXy[2 * i + 1], n0, n1)
  }
  return openingFromHalfPlanes(halfPlanes)
}

function emptyOpening(number: number): Opening {
  return { number, edgeCount: 0, edges: new Float64Array(0), members: new Int32Array(0), verticesXy: new Float64Array(0), areaMm2: 0 }
}
