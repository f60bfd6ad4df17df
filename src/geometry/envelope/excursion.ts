/** How far a stretch of centreline strays outside the void. Mm. */
import { ARC, ELEMENT_STRIDE, KIND, RADIAL_X, RADIUS, STATION, TANGENT_X } from '../curve/centreline.ts'
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

/** Numbers kept for each near sheet at a station: the distance, then the vector from the sheet's nearest point to the centreline. */
const PER_SHEET = 4

interface Span {
  readonly from: number
  readonly to: number
  readonly atFrom: Float64Array
  readonly atTo: Float64Array
}

const point = new Float64Array(3), foot = new Float64Array(3)

/**
 * Raises `best` to the largest distance from the sheets between two stations, if it is larger there. The stretch must lie in one
 * element and outside the void. Spans are halved until the bound on each is within ANSWER_ERROR_MM / 2 of the best.
 */
export function raiseExcursion(curve: Centreline, sheets: SolidSet, fromMm: number, toMm: number, best: Excursion): void {
  const e = elementAt(curve, (fromMm + toMm) / 2) * ELEMENT_STRIDE
  const all = Array.from({ length: sheets.count }, (_, sheet) => sheet)
  const first = offsetsAt(curve, sheets, all, fromMm), last = offsetsAt(curve, sheets, all, toMm)
  // a sheet further than this from both ends is nearest nowhere between them
  const reach = toMm - fromMm + Math.max(first[PER_SHEET * nearestOf(first)], last[PER_SHEET * nearestOf(last)])
  const near = all.filter(sheet => first[PER_SHEET * sheet] <= reach || last[PER_SHEET * sheet] <= reach)
  const pick = (from: Float64Array): Float64Array => Float64Array.from({ length: near.length * PER_SHEET }, (_, i) =>
    from[PER_SHEET * near[Math.floor(i / PER_SHEET)] + i % PER_SHEET])
  const open: Span[] = [{ from: fromMm, to: toMm, atFrom: pick(first), atTo: pick(last) }]
  raiseTo(best, near, open[0].atFrom, fromMm)
  raiseTo(best, near, open[0].atTo, toMm)
  for (let span = open.pop(); span; span = open.pop()) {
    if (span.to - span.from <= SAME_POINT_MM || boundOf(span, curve.elements, e) <= best.depthMm + ANSWER_ERROR_MM / 2) continue
    const middle = (span.from + span.to) / 2
    const at = offsetsAt(curve, sheets, near, middle)
    raiseTo(best, near, at, middle)
    open.push({ from: span.from, to: middle, atFrom: span.atFrom, atTo: at }, { from: middle, to: span.to, atFrom: at, atTo: span.atTo })
  }
}

/**
 * No point of the span is further than this from the sheets. Along a chord q the distance to one convex sheet is at most the larger
 * of its ends D, since the feet f of the ends span points of the sheet. A point of the arc (up to a half turn) stands off the chord by
 * up to the sagitta h along the bulge m, so its square is at most D^2 + 2 h max(m . (q - f), 0) + h^2. The least over the sheets holds.
 */
function boundOf(span: Span, elements: Float64Array, e: number): number {
  const { atFrom, atTo } = span
  let sagitta = 0, isFullBend = false
  if (elements[e + KIND] === ARC) {
    const radius = elements[e + RADIUS], turn = (span.to - span.from) / radius
    // 1 - cos x as 2 sin^2(x / 2) keeps its digits
    sagitta = 2 * radius * Math.sin(turn / 4) ** 2
    isFullBend = turn > Math.PI
    const t = ((span.from + span.to) / 2 - elements[e + STATION]) / radius, c = Math.cos(t), s = Math.sin(t)
    for (let k = 0; k < 3; k++) point[k] = c * elements[e + RADIAL_X + k] + s * elements[e + TANGENT_X + k]
  }
  let least = Infinity
  for (let i = 0; i < atFrom.length; i += PER_SHEET) {
    const end = Math.max(atFrom[i], atTo[i])
    if (sagitta === 0) {
      least = Math.min(least, end)
    } else if (isFullBend) {
      least = Math.min(least, end + sagitta)
    } else {
      let before = 0, after = 0
      for (let k = 0; k < 3; k++) {
        before += point[k] * atFrom[i + 1 + k]
        after += point[k] * atTo[i + 1 + k]
      }
      least = Math.min(least, Math.sqrt(end * end + 2 * sagitta * Math.max(before, after, 0) + sagitta * sagitta))
    }
  }
  return least
}

function nearestOf(offsets: Float64Array): number {
  let nearest = 0
  for (let i = PER_SHEET; i < offsets.length; i += PER_SHEET) if (offsets[i] < offsets[PER_SHEET * nearest]) nearest = i / PER_SHEET
  return nearest
}

function raiseTo(best: Excursion, near: readonly number[], offsets: Float64Array, stationMm: number): void {
  const nearest = nearestOf(offsets), depthMm = offsets[PER_SHEET * nearest]
  if (!(depthMm > best.depthMm)) return
  best.depthMm = depthMm
  best.stationMm = stationMm
  best.sheet = near[nearest]
}

function offsetsAt(curve: Centreline, sheets: SolidSet, which: readonly number[], stationMm: number): Float64Array {
  const out = new Float64Array(which.length * PER_SHEET)
  pointAt(curve, stationMm, point)
  for (let i = 0, o = 0; i < which.length; i++, o += PER_SHEET) {
    out[o] = sheetDistance(sheets, which[i], point[0], point[1], point[2], foot)
    for (let k = 0; k < 3; k++) out[o + 1 + k] = point[k] - foot[k]
  }
  return out
}
