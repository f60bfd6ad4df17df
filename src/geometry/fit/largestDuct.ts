/**
 * The largest round duct that passes one opening, straight on or slanting. mm.
 *
 * A cylinder of radius r crosses the joist at shear s: its axis passes c + n*s at depth n. Its axis direction is
 * d = (s, 1) / sqrt(1 + s.s), so the section at depth n is { q : q.q - (q.d)^2 <= r^2 } about the axis point, the
 * ellipse q^T (I - s s^T / (1 + s.s)) q <= r^2. The inverse of that matrix is I + s s^T (Sherman-Morrison), and the
 * support of an ellipse q^T M q <= r^2 in direction a is r*sqrt(a^T M^-1 a). So the section reaches
 * a.(c + n*s) + r*sqrt(1 + (a.s)^2), and a member standing in n0..n1 behind the edge a.p <= b is cleared when
 *   a.c + max(n0 * a.s, n1 * a.s) + r*sqrt(1 + (a.s)^2) <= b.
 * For a given s this is linear in c and r. A member is taken as the whole half-plane behind its edge.
 */
import type { Opening } from './opening.ts'
import { largestInRows, rowsFor } from './inscribed.ts'

/** Straight on. Writes out[0] = diameter (0 when nothing fits), out[1], out[2] = centre x, y; the middle where many serve. */
export function largestStraight(opening: Opening, out: Float64Array): void {
  const edges = opening.edges, count = opening.edgeCount
  if (count === 3) {
    const ax = edges[0], ay = edges[1], b0 = edges[2], bx = edges[5], by = edges[6], b1 = edges[7]
    const cx = edges[10], cy = edges[11], b2 = edges[12]
    const l0 = bx * cy - by * cx, l1 = cx * ay - cy * ax, l2 = ax * by - ay * bx
    // blunt enough for double precision; needles take the careful way below
    if (l0 > 1e-3 && l1 > 1e-3 && l2 > 1e-3) {
      const r = (l0 * b0 + l1 * b1 + l2 * b2) / (l0 + l1 + l2)
      const fits = r > 0
      out[0] = fits ? 2 * r : 0
      out[1] = fits ? ((b0 - r) * by - (b1 - r) * ay) / l2 : 0
      out[2] = fits ? (ax * (b1 - r) - bx * (b0 - r)) / l2 : 0
      return
    }
  }
  const rows = rowsFor(count)
  for (let i = 0; i < count; i++) {
    rows[4 * i] = edges[5 * i]
    rows[4 * i + 1] = edges[5 * i + 1]
    rows[4 * i + 2] = 1
    rows[4 * i + 3] = edges[5 * i + 2]
  }
  largestInRows(rows, count, out)
}

/** At shear (sx, sy), mm sideways and up per mm across the joist. Same `out`; the centre is where the axis meets the middle plane. */
export function largestOblique(opening: Opening, sx: number, sy: number, out: Float64Array): void {
  const edges = opening.edges, count = opening.edgeCount
  const rows = rowsFor(count)
  for (let i = 0; i < count; i++) {
    const ax = edges[5 * i], ay = edges[5 * i + 1]
    const drift = ax * sx + ay * sy
    rows[4 * i] = ax
    rows[4 * i + 1] = ay
    rows[4 * i + 2] = Math.sqrt(1 + drift * drift)
    rows[4 * i + 3] = edges[5 * i + 2] - drift * (drift > 0 ? edges[5 * i + 4] : edges[5 * i + 3])
  }
  largestInRows(rows, Number.isFinite(sx + sy) ? count : 0, out)
}

/**
 * A duct whose axis meets the joist's middle plane at (cx, cy) at shear (sx, sy). Writes out[0] = largest radius,
 * negative when the axis itself is behind an edge (by how far it would have to move), and returns the index of the
 * edge that touches first, -1 (and out[0] = 0) when the opening has no edges or an argument is not finite.
 */
export function crossingFit(opening: Opening, cx: number, cy: number, sx: number, sy: number, out: Float64Array): number {
  const edges = opening.edges
  let radius = Infinity, touching = -1
  for (let i = 0; i < opening.edgeCount; i++) {
    const ax = edges[5 * i], ay = edges[5 * i + 1]
    const drift = ax * sx + ay * sy
    const reach = edges[5 * i + 2] - ax * cx - ay * cy - drift * (drift > 0 ? edges[5 * i + 4] : edges[5 * i + 3])
    const room = reach / Math.sqrt(1 + drift * drift)
    if (room < radius) { radius = room; touching = i }
  }
  out[0] = touching < 0 || !Number.isFinite(radius) ? 0 : radius
  return Number.isFinite(radius) ? touching : -1
}
