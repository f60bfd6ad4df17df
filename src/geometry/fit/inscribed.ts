/**
 * The largest r with a.c + k*r <= b for every row, over centre c and r: a linear programme in three unknowns.
 *
 * By duality r is the least, over triples of rows whose normals hold the origin between them, of
 * (l0 b0 + l1 b1 + l2 b2) / (l0 k0 + l1 k1 + l2 k2), with l0 = a1 x a2, l1 = a2 x a0, l2 = a0 x a1. So start from any
 * such triple and, while another row is broken, swap it in where r comes out least: r only falls, and each step costs
 * one pass over the rows (dual simplex). Should rounding ever stall that, all triples are tried.
 */
import { ROUNDING_MM } from '../tolerance.ts'

/** Numbers per row: ax, ay, k (> 0), b. */
export const ROW_STRIDE = 4
const MOST_SWAPS = 100
const FIRST_ROWS = 8
const TOUCHING_MM = 1e-3

let rowStore = new Float64Array(ROW_STRIDE * 128)
/** The shared rows, with room for `count`; they hold until the next call. */
export function rowsFor(count: number): Float64Array {
  if (rowStore.length < ROW_STRIDE * count) rowStore = new Float64Array(2 * ROW_STRIDE * count)
  return rowStore
}

/** r of the triple i, j, k; Infinity when its normals do not hold the origin between them. */
function tripleRadius(rows: Float64Array, i: number, j: number, k: number): number {
  const ax = rows[4 * i], ay = rows[4 * i + 1], bx = rows[4 * j], by = rows[4 * j + 1], cx = rows[4 * k], cy = rows[4 * k + 1]
  const l0 = bx * cy - by * cx, l1 = cx * ay - cy * ax, l2 = ax * by - ay * bx
  const slack = 1e-15
  if (!((l0 >= -slack && l1 >= -slack && l2 >= -slack) || (l0 <= slack && l1 <= slack && l2 <= slack))) return Infinity
  const weight = l0 * rows[4 * i + 2] + l1 * rows[4 * j + 2] + l2 * rows[4 * k + 2]
  if (!(Math.abs(weight) > 1e-13)) return Infinity
  return (l0 * rows[4 * i + 3] + l1 * rows[4 * j + 3] + l2 * rows[4 * k + 3]) / weight
}

/**
 * Largest circle (or ellipse family, by k) within `count` rows. Writes out[0] = diameter, out[1], out[2] = centre.
 * Where a whole line of centres is best, the middle one. Diameter 0 (and centre 0, 0) when nothing fits or the rows
 * do not close. The diameter is measured last at the centre written, so it never promises more than is there.
 */
export function largestInRows(rows: Float64Array, count: number, out: Float64Array): void {
  out[0] = out[1] = out[2] = 0
  if (count < 3) return
  // the first opening's rows usually close already
  if (!firstTriple(rows, Math.min(count, FIRST_ROWS)) && !(count > FIRST_ROWS && firstTriple(rows, count))) {
    triedAll(rows, count)
    if (bestR === Infinity) return
  }
  let i = bestI, j = bestJ, k = bestK, r = bestR
  for (let swap = 0; swap < MOST_SWAPS; swap++) {
    centreOf(rows, i, j, k, r)
    let worst = ROUNDING_MM * 1e-2 + 4e-15 * (Math.abs(centreX) + Math.abs(centreY)), broken = -1
    for (let e = 0; e < count; e++) {
      const over = rows[4 * e] * centreX + rows[4 * e + 1] * centreY + rows[4 * e + 2] * r - rows[4 * e + 3]
      if (over > worst) { worst = over; broken = e }
    }
    if (broken < 0 || broken === i || broken === j || broken === k) break
    const withoutI = tripleRadius(rows, broken, j, k)
    const withoutJ = tripleRadius(rows, i, broken, k)
    const withoutK = tripleRadius(rows, i, j, broken)
    const least = Math.min(withoutI, withoutJ, withoutK)
    if (least === Infinity || swap === MOST_SWAPS - 1) {
      triedAll(rows, count)
      i = bestI; j = bestJ; k = bestK; r = bestR
      centreOf(rows, i, j, k, r)
      break
    }
    r = least
    if (least === withoutK) k = broken
    else if (least === withoutJ) j = broken
    else i = broken
  }
  settle(rows, count, i, j, k, r, out)
}

/**
 * Row 0, and on either hand of its normal the row that looks back at it most squarely; of parallel ones the tightest.
 * False when they do not hold the origin between them.
 */
function firstTriple(rows: Float64Array, count: number): boolean {
  let i = 0, j = -1, k = -1, leastJ = Infinity, leastK = Infinity
  const ax = rows[0], ay = rows[1]
  for (let e = 1; e < count; e++) {
    const cross = ax * rows[4 * e + 1] - ay * rows[4 * e], dot = ax * rows[4 * e] + ay * rows[4 * e + 1]
    if (cross > 0) {
      if (dot < leastJ || (dot === leastJ && rows[4 * e + 3] < rows[4 * j + 3])) { leastJ = dot; j = e }
    } else if (cross < 0) {
      if (dot < leastK || (dot === leastK && rows[4 * e + 3] < rows[4 * k + 3])) { leastK = dot; k = e }
    } else if (dot > 0) {
      if (rows[4 * e + 3] < rows[4 * i + 3]) i = e
    } else {
      // exactly opposite: it stands in for either hand
      if (leastJ > -2) { leastJ = -2; j = e }
      else if (rows[4 * e + 3] < rows[4 * j + 3]) j = e
    }
  }
  if (k < 0) for (let e = 1; e < count && k < 0; e++) if (e !== j && ax * rows[4 * e + 1] !== ay * rows[4 * e]) k = e
  if (j < 0 || k < 0) return false
  bestR = tripleRadius(rows, i, j, k)
  bestI = i
  bestJ = j
  bestK = k
  return bestR !== Infinity
}

let bestI = 0, bestJ = 0, bestK = 0, bestR = Infinity
function triedAll(rows: Float64Array, count: number): void {
  bestR = Infinity
  for (let i = 0; i < count; i++) for (let j = i + 1; j < count; j++) for (let k = j + 1; k < count; k++) {
    const r = tripleRadius(rows, i, j, k)
    if (r < bestR) { bestR = r; bestI = i; bestJ = j; bestK = k }
  }
}

let centreX = 0, centreY = 0
/** The centre that touches the two rows of the triple that cross most squarely. */
function centreOf(rows: Float64Array, i: number, j: number, k: number, r: number): void {
  const l0 = Math.abs(rows[4 * j] * rows[4 * k + 1] - rows[4 * j + 1] * rows[4 * k])
  const l1 = Math.abs(rows[4 * k] * rows[4 * i + 1] - rows[4 * k + 1] * rows[4 * i])
  const l2 = Math.abs(rows[4 * i] * rows[4 * j + 1] - rows[4 * i + 1] * rows[4 * j])
  const p = l0 >= l1 && l0 >= l2 ? j : i
  const q = l0 >= l1 && l0 >= l2 ? k : l1 >= l2 ? k : j
  const px = rows[4 * p], py = rows[4 * p + 1], qx = rows[4 * q], qy = rows[4 * q + 1]
  const reachP = rows[4 * p + 3] - rows[4 * p + 2] * r, reachQ = rows[4 * q + 3] - rows[4 * q + 2] * r
  const det = px * qy - py * qx
  centreX = (reachP * qy - reachQ * py) / det
  centreY = (px * reachQ - qx * reachP) / det
}

/** Middle of the best centres when two parallel rows alone decide, then the diameter that is really there. */
function settle(rows: Float64Array, count: number, i: number, j: number, k: number, r: number, out: Float64Array): void {
  let x = centreX, y = centreY
  const l0 = Math.abs(rows[4 * j] * rows[4 * k + 1] - rows[4 * j + 1] * rows[4 * k])
  const l1 = Math.abs(rows[4 * k] * rows[4 * i + 1] - rows[4 * k + 1] * rows[4 * i])
  const l2 = Math.abs(rows[4 * i] * rows[4 * j + 1] - rows[4 * i + 1] * rows[4 * j])
  const flat = 1e-12
  if (l0 < flat || l1 < flat || l2 < flat) {
    const along = l0 < flat ? j : i
    const tx = -rows[4 * along + 1], ty = rows[4 * along]
    let from = -Infinity, to = Infinity
    for (let e = 0; e < count; e++) {
      const rate = rows[4 * e] * tx + rows[4 * e + 1] * ty
      const room = rows[4 * e + 3] - rows[4 * e + 2] * r - rows[4 * e] * x - rows[4 * e + 1] * y
      if (rate > 1e-9) to = Math.min(to, room / rate)
      else if (rate < -1e-9) from = Math.max(from, room / rate)
    }
    const shift = (from + to) / 2
    if (to > from && Number.isFinite(shift)) { x += shift * tx; y += shift * ty }
  }
  // the rows that touch decide; divide for those alone
  let radius = Infinity
  for (let e = 0; e < count; e++) {
    const room = rows[4 * e + 3] - rows[4 * e + 2] * r - rows[4 * e] * x - rows[4 * e + 1] * y
    if (!(room > TOUCHING_MM)) {
      const least = r + room / rows[4 * e + 2]
      if (!(least >= radius)) radius = least
    }
  }
  if (!(radius > 0) || radius === Infinity) return
  out[0] = 2 * radius; out[1] = x; out[2] = y
}
