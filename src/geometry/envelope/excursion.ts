/** How far a stretch of centreline strays outside the void. Mm. */
import { ARC, ELEMENT_STRIDE, KIND, RADIUS } from '../curve/centreline.ts'
import type { Centreline } from '../curve/centreline.ts'
import { elementAt, pointAt } from '../curve/measure.ts'
import type { SolidSet } from '../solid/solidSet.ts'
import { ANSWER_ERROR_MM, SAME_POINT_MM } from '../tolerance.ts'
import { sheetDistance } from './sheetDistance.ts'

export interface Excursion {
  /** largest distance from the sheets, found to within ANSWER_ERROR_MM / 2 */
  depthMm: number
  stationMm: number
  /** the sheet nearest to that point */
  sheet: number
}

interface Span {
  readonly from: number
  readonly to: number
  /** distance to each sheet of `near` at its two ends */
  readonly atFrom: Float64Array
  readonly atTo: Float64Array
}

const point = new Float64Array(3), foot = new Float64Array(3)

/**
 * Raises `best` to the largest distance from the sheets between two stations, if it is larger there. The stretch must lie in one element and
 * outside the void. Along a chord the distance to one convex sheet is convex, so its larger end bounds it, and the least of
 * those over the sheets bounds the stretch; an arc lies within its sagitta of the chord. Spans are halved until the bound
 * is within ANSWER_ERROR_MM / 2 of the best.
 */
export function raiseExcursion(curve: Centreline, sheets: SolidSet, fromMm: number, toMm: number, best: Excursion): void {
  const { elements } = curve
  const e = elementAt(curve, (fromMm + toMm) / 2) * ELEMENT_STRIDE
  const radius = elements[e + KIND] === ARC ? elements[e + RADIUS] : 0
  const all = Array.from({ length: sheets.count }, (_, sheet) => sheet)
  const first = distancesAt(curve, sheets, all, fromMm), last = distancesAt(curve, sheets, all, toMm)
  // a sheet further than this from both ends is nearest nowhere between them
  const reach = toMm - fromMm + Math.max(leastOf(first), leastOf(last))
  const near = all.filter(sheet => first[sheet] <= reach || last[sheet] <= reach)
  const nearFirst = Float64Array.from(near, sheet => first[sheet]), nearLast = Float64Array.from(near, sheet => last[sheet])
  raiseTo(best, near, nearFirst, fromMm)
  raiseTo(best, near, nearLast, toMm)
  const open: Span[] = [{ from: fromMm, to: toMm, atFrom: nearFirst, atTo: nearLast }]
  for (let span = open.pop(); span; span = open.pop()) {
    if (span.to - span.from <= SAME_POINT_MM || boundOf(span, radius) <= best.depthMm + ANSWER_ERROR_MM / 2) continue
    const middle = (span.from + span.to) / 2
    const at = distancesAt(curve, sheets, near, middle)
    raiseTo(best, near, at, middle)
    open.push({ from: span.from, to: middle, atFrom: span.atFrom, atTo: at }, { from: middle, to: span.to, atFrom: at, atTo: span.atTo })
  }
}

function leastOf(distances: Float64Array): number {
  return distances.reduce((least, distance) => Math.min(least, distance), Infinity)
}

function boundOf(span: Span, radius: number): number {
  let least = Infinity
  for (let i = 0; i < span.atFrom.length; i++) least = Math.min(least, Math.max(span.atFrom[i], span.atTo[i]))
  // 1 - cos x as 2 sin^2(x / 2) keeps its digits
  const sagitta = radius > 0 ? 2 * radius * Math.sin(Math.min((span.to - span.from) / radius, 2 * Math.PI) / 4) ** 2 : 0
  return least + sagitta
}

function raiseTo(best: Excursion, near: readonly number[], distances: Float64Array, stationMm: number): void {
  let nearest = 0
  for (let i = 1; i < distances.length; i++) if (distances[i] < distances[nearest]) nearest = i
  if (!(distances[nearest] > best.depthMm)) return
  best.depthMm = distances[nearest]
  best.stationMm = stationMm
  best.sheet = near[nearest]
}

function distancesAt(curve: Centreline, sheets: SolidSet, which: readonly number[], stationMm: number): Float64Array {
  pointAt(curve, stationMm, point)
  return Float64Array.from(which, sheet => sheetDistance(sheets, sheet, point[0], point[1], point[2], foot))
}
