/**
 * Whether two or three ducts of given radii go side by side in one opening, decided exactly. mm.
 *
 * Let P_i be the opening with every edge moved in by duct i's radius: where its centre may be. Suppose some placing is
 * possible. Of all placings at this size take the one farthest from the origin in sum of squares. Each pair that touches
 * may be held apart along its present direction instead (that allows less, never more), and over what is then locally
 * a polytope a strictly convex sum has its maximum only at a corner: in 2n unknowns, 2n independent contacts.
 * Two ducts: at most 1 contact of the pair, so 3 of walls: one centre is a corner of its P; and the farthest centre
 *   for the other from there is a corner too.
 * Three ducts: (a) some centre is at a corner of its P. The other two have what their P leaves outside the corner's
 *   disc, and the greatest distance between two such regions is between extreme points: corners, or where the
 *   disc's circle cuts a side. Or (b) three contacts of pairs and one wall each: a triangle of known sides with
 *   its corners on three lines, which is one equation A cos t + B sin t = C in its turn t.
 * Both lists are finite and are tried in full.
 */
import { insetPolygon } from './halfPlanes.ts'
import type { Opening } from './opening.ts'

/** A distance may lack this and still count, mm: a hundredth of ROUNDING_MM would be lost in the corners themselves. */
const LACK_MM = 1e-10

/** Where each duct's centre may be, and the points worth trying for two ducts beside a third. */
const corners = [new Float64Array(0), new Float64Array(0), new Float64Array(0)]
const cornerCount = [0, 0, 0]
const points = [new Float64Array(0), new Float64Array(0)]

/** Two or three ducts of `radii` with `gapMm` between. Writes centres (x, y pairs) and returns true, or false. */
export function placeFew(opening: Opening, radii: ArrayLike<number>, gapMm: number, centres: Float64Array): boolean {
  const { edges, edgeCount } = opening
  const count = radii.length
  for (let i = 0; i < count; i++) {
    if (corners[i].length < 2 * edgeCount) corners[i] = new Float64Array(2 * edgeCount)
    cornerCount[i] = insetPolygon(edges, edgeCount, radii[i], corners[i])
    if (cornerCount[i] === 0) return false
  }
  if (count === 2) {
    const [first, second] = corners
    const pair = farthest(first, cornerCount[0], second, cornerCount[1], radii[0] + radii[1] + gapMm)
    if (pair < 0) return false
    centres.set(first.subarray(2 * (pair >> 16), 2 * (pair >> 16) + 2), 0)
    centres.set(second.subarray(2 * (pair & 65535), 2 * (pair & 65535) + 2), 2)
    return true
  }
  for (let i = 0; i < 3; i++) {
    const j = (i + 1) % 3, k = (i + 2) % 3
    for (let c = 0; c < cornerCount[i]; c++) {
      const x = corners[i][2 * c], y = corners[i][2 * c + 1]
      const pair = farthest(
        points[0], outside(j, x, y, radii[i] + radii[j] + gapMm, 0), points[1], outside(k, x, y, radii[i] + radii[k] + gapMm, 1),
        radii[j] + radii[k] + gapMm)
      if (pair < 0) continue
      centres[2 * i] = x
      centres[2 * i + 1] = y
      centres.set(points[0].subarray(2 * (pair >> 16), 2 * (pair >> 16) + 2), 2 * j)
      centres.set(points[1].subarray(2 * (pair & 65535), 2 * (pair & 65535) + 2), 2 * k)
      return true
    }
  }
  return triangleOnEdges(opening, radii, gapMm, centres)
}

/** The first pair of points at least `apart` apart, as first * 65536 + second; -1 when there is none. */
function farthest(first: Float64Array, firstCount: number, second: Float64Array, secondCount: number, apart: number): number {
  for (let p = 0; p < firstCount; p++) for (let q = 0; q < secondCount; q++) {
    if (Math.hypot(first[2 * p] - second[2 * q], first[2 * p + 1] - second[2 * q + 1]) >= apart - LACK_MM) return p << 16 | q
  }
  return -1
}

/** Extreme points of region `duct` outside the disc about (x, y), written to points[slot]; their count. */
function outside(duct: number, x: number, y: number, radius: number, slot: number): number {
  const xy = corners[duct], count = cornerCount[duct]
  if (points[slot].length < 6 * count) points[slot] = new Float64Array(6 * count)
  const out = points[slot]
  let found = 0
  for (let p = 0; p < count; p++) {
    const q = (p + 1) % count
    const px = xy[2 * p] - x, py = xy[2 * p + 1] - y
    if (Math.hypot(px, py) >= radius - LACK_MM) { out[2 * found] = px + x; out[2 * found + 1] = py + y; found++ }
    const dx = xy[2 * q] - xy[2 * p], dy = xy[2 * q + 1] - xy[2 * p + 1]
    const length = Math.hypot(dx, dy)
    if (!(length > 0)) continue
    const ux = dx / length, uy = dy / length
    const foot = -(px * ux + py * uy), off = px * uy - py * ux
    const half = radius * radius - off * off
    if (half < 0) continue
    for (const t of [foot - Math.sqrt(half), foot + Math.sqrt(half)]) {
      if (t <= 0 || t >= length) continue
      out[2 * found] = xy[2 * p] + t * ux
      out[2 * found + 1] = xy[2 * p + 1] + t * uy
      found++
    }
  }
  return found
}

/** Case (b): every duct against one edge and against both others. */
function triangleOnEdges(opening: Opening, radii: ArrayLike<number>, gapMm: number, centres: Float64Array): boolean {
  const { edges, edgeCount } = opening
  const d01 = radii[0] + radii[1] + gapMm, d02 = radii[0] + radii[2] + gapMm, d12 = radii[1] + radii[2] + gapMm
  if (!(d01 > 0 && d02 > 0)) return false
  const cosine = (d01 * d01 + d02 * d02 - d12 * d12) / (2 * d01 * d02)
  if (!(Math.abs(cosine) <= 1)) return false
  for (const sine of [Math.sqrt(1 - cosine * cosine), -Math.sqrt(1 - cosine * cosine)]) {
    for (let e = 0; e < edgeCount; e++) for (let f = 0; f < edgeCount; f++) for (let g = 0; g < edgeCount; g++) {
      const ax = edges[5 * e], ay = edges[5 * e + 1], bx = edges[5 * f], by = edges[5 * f + 1], cx = edges[5 * g], cy = edges[5 * g + 1]
      const reachA = edges[5 * e + 2] - radii[0], reachB = edges[5 * f + 2] - radii[1], reachC = edges[5 * g + 2] - radii[2]
      // l0 a + l1 b + l2 c = 0 rids the contacts a.p = ra, b.(p + d01 u) = rb, c.(p + d02 v) = rc of the first centre p;
      // v is u turned by the triangle's corner
      const l0 = bx * cy - by * cx, l1 = cx * ay - cy * ax, l2 = ax * by - ay * bx
      const A = l1 * d01 * bx + l2 * d02 * (cx * cosine + cy * sine)
      const B = l1 * d01 * by + l2 * d02 * (cy * cosine - cx * sine)
      const C = l0 * reachA + l1 * reachB + l2 * reachC
      const size = Math.hypot(A, B)
      if (!(size > 1e-12) || Math.abs(C) > size * (1 + 1e-12)) continue
      const middle = Math.atan2(B, A), half = Math.acos(Math.max(-1, Math.min(1, C / size)))
      for (const turn of [middle - half, middle + half]) {
        const ux = Math.cos(turn), uy = Math.sin(turn)
        const vx = ux * cosine - uy * sine, vy = uy * cosine + ux * sine
        const toB = reachB - d01 * (bx * ux + by * uy), toC = reachC - d02 * (cx * vx + cy * vy)
        // the first centre from the two contacts that cross most squarely
        const squarest = Math.max(Math.abs(l0), Math.abs(l1), Math.abs(l2))
        const [mx, my, m, nx, ny, n, det] = Math.abs(l2) === squarest ? [ax, ay, reachA, bx, by, toB, l2]
          : Math.abs(l1) === squarest ? [cx, cy, toC, ax, ay, reachA, l1] : [bx, by, toB, cx, cy, toC, l0]
        const x = (m * ny - n * my) / det, y = (mx * n - nx * m) / det
        if (!allows(opening, radii[0], x, y) || !allows(opening, radii[1], x + d01 * ux, y + d01 * uy)
          || !allows(opening, radii[2], x + d02 * vx, y + d02 * vy)) continue
        centres.set([x, y, x + d01 * ux, y + d01 * uy, x + d02 * vx, y + d02 * vy])
        return true
      }
    }
  }
  return false
}

function allows({ edges, edgeCount }: Opening, radius: number, x: number, y: number): boolean {
  for (let e = 0; e < edgeCount; e++) if (!(edges[5 * e] * x + edges[5 * e + 1] * y + radius <= edges[5 * e + 2] + LACK_MM)) return false
  return true
}
