/**
 * The largest straight cylinder through one opening in each of a series of joists. Joists stand parallel; x and y are
 * the same for all, z is the distance across them, and opening i's middle plane is at z = offsetsN[i]. mm.
 *
 * The axis passes (cx + z*sx, cy + z*sy) at depth z. With t = a.s, an edge standing in n0..n1 is cleared when
 *   a.c + max over z in [offset + n0, offset + n1] of z*t + r*sqrt(1 + t^2) <= b            (see largestDuct.ts).
 * Square to the joists (s = 0) that is one linear programme in c and r for all edges of all joists together.
 *
 * Tilted, let G(c, s) be the largest r at an axis. Its upper level sets are convex, so there are no lesser hills. For a
 * known r, every tangent r*(1 + t0*t)/sqrt(1 + t0^2) lies below r*sqrt(1 + t^2); with tangents in its place the room
 * d left over at every edge is largest at the answer of a linear programme in (c, s, d), and if any axis took r' > r, it
 * would have room r' - r at least. So r + d is a ceiling. Solve; take the true G at the slope found (the largest
 * r for a slope is exact, as for one opening) and keep the best; add tangents where they allowed too much; stop when ceiling and
 * best diameter agree to FIT_ERROR_MM. (Dinkelbach 1967 for the ratio, Kelley 1960 for the cutting planes.)
 */
import { FIT_ERROR_MM } from '../tolerance.ts'
import { largestInRows, rowsFor } from './inscribed.ts'
import { maximise } from './linearProgramme.ts'
import type { Opening } from './opening.ts'

/** Slopes beyond this are not looked at: 45 degrees sideways, and up. */
export const STEEPEST_SLOPE = 1
const MOST_ROUNDS = 200

let ceilingMm = 0
/** The proved ceiling of the diameter of the last largestThrough, mm: within FIT_ERROR_MM of its answer unless it gave up. */
export const lastCeiling = (): number => ceilingMm

/** Normals closer than this are parallel for every centre within FAR_MM: rows of theirs are then SLACK_MM apart from crossing, which one may say hides the other. */
const PARALLEL = 1e-12, FAR_MM = 1e5, SLACK_MM = 1e-6
/** With more kinds of row than this, looking for one like it costs more than it saves. */
const MOST_KINDS = 16
/** the kept row that each edge of the opening before was like: joists of one section have edges of the same directions in the same order */
const likeBefore = new Int32Array(MOST_KINDS)

/** Axis kept square to the joists. Writes out[0] = diameter (0 when nothing fits), out[1], out[2] = centre x, y. */
export function largestThroughSquare(openings: readonly Opening[], out: Float64Array): void {
  largestInRows(rowsFor(edgesOf(openings)), tightestRows(openings, MOST_KINDS), out)
  // so far off that parallel is not near enough
  if (!(Math.abs(out[1]) + Math.abs(out[2]) < FAR_MM)) largestInRows(rowsFor(edgesOf(openings)), tightestRows(openings, 0), out)
}

function edgesOf(openings: readonly Opening[]): number {
  let count = 0
  for (let j = 0; j < openings.length; j++) count += openings[j].edgeCount
  return count
}

/** Writes the shared rows: of parallel ones the tightest alone, as far as the first `kinds` rows kept show it. @returns how many; 0 when an opening is empty */
function tightestRows(openings: readonly Opening[], kinds: number): number {
  const rows = rowsFor(edgesOf(openings))
  let count = 0
  likeBefore.fill(0)
  for (let j = 0; j < openings.length; j++) {
    const { edges, edgeCount } = openings[j]
    if (edgeCount === 0) return 0
    for (let e = 0, f = 0; e < edgeCount; e++, f += 5) {
      const ax = edges[f], ay = edges[f + 1], b = edges[f + 2]
      const known = count < kinds ? count : kinds
      let place = count
      for (let i = 0, k = e < kinds ? likeBefore[e] : 0; i < known; i++, k = k + 1 < known ? k + 1 : 0) {
        const off = Math.abs(ax - rows[4 * k]) + Math.abs(ay - rows[4 * k + 1]), looser = b - rows[4 * k + 3]
        if (off > PARALLEL || (off > 0 && Math.abs(looser) < SLACK_MM)) continue
        if (e < kinds) likeBefore[e] = k
        place = looser < 0 ? k : -1
        break
      }
      if (place < 0) continue
      if (place === count) {
        if (e < kinds && count < kinds) likeBefore[e] = count
        count++
      }
      rows[4 * place] = ax
      rows[4 * place + 1] = ay
      rows[4 * place + 2] = 1
      rows[4 * place + 3] = b
    }
  }
  return count
}

/** As largestThroughSquare, at the fixed slope (sx, sy); the centre is at z = 0. */
export function largestThroughAt(openings: readonly Opening[], offsetsN: ArrayLike<number>, sx: number, sy: number, out: Float64Array): void {
  let count = 0
  for (let j = 0; j < openings.length; j++) count += openings[j].edgeCount
  const rows = rowsFor(count)
  let at = 0
  for (let j = 0; j < openings.length; j++) {
    const { edges, edgeCount } = openings[j]
    const offset = offsetsN[j]
    if (edgeCount === 0) { count = 0; break }
    for (let e = 0; e < edgeCount; e++, at += 4) {
      const t = edges[5 * e] * sx + edges[5 * e + 1] * sy
      rows[at] = edges[5 * e]
      rows[at + 1] = edges[5 * e + 1]
      rows[at + 2] = Math.sqrt(1 + t * t)
      rows[at + 3] = edges[5 * e + 2] - t * (offset + (t > 0 ? edges[5 * e + 4] : edges[5 * e + 3]))
    }
  }
  largestInRows(rows, count, out)
}

let tangents = new Float64Array(64), tangentEdge = new Int32Array(64), tangentCount = 0
let planes = new Float64Array(0)
let flat = new Float64Array(0)
let flatCount = 0
const objective = new Float64Array([0, 0, 0, 0, 1])
const step = new Float64Array(5)
const at = new Float64Array(3)

/**
 * Axis free to tilt up to `steepest` sideways and up. Writes out[0] = diameter (0 when nothing fits),
 * out[1], out[2] = x, y of the axis at z = 0, out[3], out[4] = its slopes. The diameter is measured at the axis written
 * and is within FIT_ERROR_MM of the largest; `lastCeiling()` says what is proved.
 * `enough`: stop as soon as the ceiling is below this diameter (the answer is then only a lower bound).
 */
export function largestThrough(
  openings: readonly Opening[], offsetsN: ArrayLike<number>, out: Float64Array, steepest = STEEPEST_SLOPE, enough = 0,
): void {
  out.fill(0, 0, 5)
  ceilingMm = 0
  if (!flatten(openings, offsetsN)) return

  largestAt(0, 0)
  let bestR = at[0] / 2, bestX = at[1], bestY = at[2], bestSx = 0, bestSy = 0
  tangentCount = 0
  for (let e = 0; e < flatCount; e++) addTangent(e, 0)
  let ceiling = Infinity
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const room = roomAt(bestX, bestY, bestSx, bestSy, bestR)
    if (!roomiest(bestX, bestY, bestSx, bestSy, bestR, room, steepest)) break
    const over = room + step[4]
    ceiling = Math.min(ceiling, bestR + over)
    if (over < 0 || ceiling <= bestR + FIT_ERROR_MM / 2 || 2 * ceiling < enough) break
    const sx = clamp(bestSx + step[2] / reach, steepest), sy = clamp(bestSy + step[3] / reach, steepest)
    for (let e = 0; e < flatCount; e++) {
      const t = flat[5 * e] * sx + flat[5 * e + 1] * sy
      if (edgeRoom(e, bestX + step[0], bestY + step[1], t, bestR) < over - FIT_ERROR_MM / 8) addTangent(e, t)
    }
    largestAt(sx, sy)
    if (at[0] / 2 > bestR) { bestR = at[0] / 2; bestX = at[1]; bestY = at[2]; bestSx = sx; bestSy = sy }
  }
  ceilingMm = Math.max(0, 2 * Math.min(ceiling, Number.MAX_VALUE))
  if (!(bestR > 0)) return
  out[0] = 2 * bestR
  out[1] = bestX - middle * bestSx
  out[2] = bestY - middle * bestSy
  out[3] = bestSx
  out[4] = bestSy
}

const clamp = (value: number, most: number): number => Math.max(-most, Math.min(most, value))

/**
 * A quick ceiling of the diameter through a series, mm: one linear programme with 1 in place of sqrt(1 + t^2).
 * 0 when not even a line passes.
 */
export function ceilingThrough(openings: readonly Opening[], offsetsN: ArrayLike<number>, steepest = STEEPEST_SLOPE): number {
  if (!flatten(openings, offsetsN)) return 0
  tangentCount = 0
  for (let e = 0; e < flatCount; e++) addTangent(e, 0)
  const room = roomAt(0, 0, 0, 0, 0)
  return roomiest(0, 0, 0, 0, 0, room, steepest) ? Math.max(0, 2 * (room + step[4])) : Infinity
}

/** z of the middle of the series, and half its depth: slopes and positions are least tangled about there. */
let middle = 0, reach = 1

/** All edges as ax, ay, b, z0, z1 with z from `middle`; false when there is no opening, an empty one, or an offset that is not finite. */
function flatten(openings: readonly Opening[], offsetsN: ArrayLike<number>): boolean {
  let low = Infinity, high = -Infinity
  flatCount = 0
  for (let j = 0; j < openings.length; j++) {
    if (openings[j].edgeCount === 0 || !Number.isFinite(offsetsN[j])) return false
    flatCount += openings[j].edgeCount
    low = Math.min(low, offsetsN[j])
    high = Math.max(high, offsetsN[j])
  }
  if (flatCount === 0) return false
  middle = (low + high) / 2
  reach = Math.max(1, (high - low) / 2)
  if (flat.length < 5 * flatCount) flat = new Float64Array(10 * flatCount)
  let to = 0
  for (let j = 0; j < openings.length; j++) {
    const { edges, edgeCount } = openings[j]
    for (let e = 0; e < edgeCount; e++, to += 5) {
      flat[to] = edges[5 * e]
      flat[to + 1] = edges[5 * e + 1]
      flat[to + 2] = edges[5 * e + 2]
      flat[to + 3] = offsetsN[j] - middle + edges[5 * e + 3]
      flat[to + 4] = offsetsN[j] - middle + edges[5 * e + 4]
    }
  }
  return true
}

function addTangent(edge: number, t: number): void {
  if (tangentCount === tangents.length) {
    const more = new Float64Array(2 * tangentCount), edges = new Int32Array(2 * tangentCount)
    more.set(tangents)
    edges.set(tangentEdge)
    tangents = more
    tangentEdge = edges
  }
  tangents[tangentCount] = t
  tangentEdge[tangentCount++] = edge
}

function largestAt(sx: number, sy: number): void {
  const rows = rowsFor(flatCount)
  for (let e = 0; e < flatCount; e++) {
    const t = flat[5 * e] * sx + flat[5 * e + 1] * sy
    rows[4 * e] = flat[5 * e]
    rows[4 * e + 1] = flat[5 * e + 1]
    rows[4 * e + 2] = Math.sqrt(1 + t * t)
    rows[4 * e + 3] = flat[5 * e + 2] - t * (t > 0 ? flat[5 * e + 4] : flat[5 * e + 3])
  }
  largestInRows(rows, flatCount, at)
}

/** Least room at any edge for a cylinder of radius r on this axis, mm; negative when it does not pass. */
function roomAt(x: number, y: number, sx: number, sy: number, r: number): number {
  let room = Infinity
  for (let e = 0; e < flatCount; e++) room = Math.min(room, edgeRoom(e, x, y, flat[5 * e] * sx + flat[5 * e + 1] * sy, r))
  return room
}

function edgeRoom(e: number, x: number, y: number, t: number, r: number): number {
  return flat[5 * e + 2] - flat[5 * e] * x - flat[5 * e + 1] * y - t * (t > 0 ? flat[5 * e + 4] : flat[5 * e + 3]) - r * Math.sqrt(1 + t * t)
}

/**
 * The linear programme: step[0..1] = move of the centre, step[2..3] = change of slope times `reach`, step[4] = room won
 * over `room`, from an axis that has `room`. True when solved.
 */
function roomiest(x: number, y: number, sx: number, sy: number, r: number, room: number, steepest: number): boolean {
  const most = 2 * tangentCount + 4
  if (planes.length < 6 * most) planes = new Float64Array(12 * most)
  let count = 0
  for (let k = 0; k < tangentCount; k++) {
    const e = tangentEdge[k], t0 = tangents[k]
    const ax = flat[5 * e], ay = flat[5 * e + 1], t = ax * sx + ay * sy
    const secant = r / Math.sqrt(1 + t0 * t0)
    const here = flat[5 * e + 2] - ax * x - ay * y - secant * (1 + t0 * t) - room
    for (let end = 3; end < 5; end++) {
      const z = flat[5 * e + end]
      if (end === 4 && z === flat[5 * e + 3]) continue
      const rate = (z + secant * t0) / reach
      const to = 6 * count++
      planes[to] = ax
      planes[to + 1] = ay
      planes[to + 2] = rate * ax
      planes[to + 3] = rate * ay
      planes[to + 4] = 1
      planes[to + 5] = here - z * t
    }
  }
  for (let side = 0; side < 4; side++) {
    const to = 6 * count++, sign = side % 2 === 0 ? 1 : -1
    planes.fill(0, to, to + 6)
    planes[to + (side < 2 ? 2 : 3)] = sign
    planes[to + 5] = reach * (steepest - sign * (side < 2 ? sx : sy))
  }
  return maximise(planes, count, 5, objective, step)
}
