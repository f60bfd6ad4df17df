import { IndexList } from '../broad/indexList.ts'
import { ALONG, ANSWER_SIZE, ON_CURVE_X, ON_SOLID_X, elementDistance } from '../clearance/index.ts'
import { ELEMENT_STRIDE, LENGTH, STATION } from '../curve/centreline.ts'
import type { Centreline } from '../curve/centreline.ts'
import { clipped, elementBounds, pointAt } from '../curve/measure.ts'
import { SAME_POINT_MM, SEAM_MM } from '../tolerance.ts'
import { raiseExcursion } from './excursion.ts'
import type { Excursion } from './excursion.ts'
import { insideStretches } from './insideStretches.ts'
import { sheetDistance } from './sheetDistance.ts'
import { voidHolds } from './voidEnvelope.ts'
import type { VoidEnvelope } from './voidEnvelope.ts'

/** Where spareInVoid writes: a Float64Array of SPARE_ANSWER_SIZE numbers that the caller keeps and reuses. */
export const SPARE_ANSWER_SIZE = 9
/** the spare itself, mm */
export const SPARE_MM = 0
/** the point of the centreline it is measured at: the nearest to the envelope, or the furthest outside, mm */
export const SPARE_ON_CURVE_X = 1
/** the point of the envelope nearest to that, mm */
export const SPARE_ON_SHEET_X = 4
/** how far along the run that is, mm */
export const SPARE_STATION = 7
/** which sheet of the envelope; NO_ZONES when there is no void to stay in */
export const SPARE_SHEET = 8
export const NO_ZONES = -1

/** The first look around a leg or bend, mm: a void is rarely deeper. */
const FIRST_REACH_MM = 300

const found = new IndexList()
const kernelAnswer = new Float64Array(ANSWER_SIZE)
const bounds = new Float64Array(6), point = new Float64Array(3), foot = new Float64Array(3)

/**
 * How far inside the void a stretch of centreline stays: its least distance to the envelope when all of it is inside; otherwise less than
 * zero, by how far its worst point is from the void. A tube of radius r stays in the void when this is at least r. Exact as the
 * clearance kernels are; depths outside to within ANSWER_ERROR_MM.
 * @param fromMm station where the stretch starts
 * @param toMm station where it ends; both are brought back to the run's own
 * @param answer SPARE_ANSWER_SIZE numbers, laid out as above
 * @returns mm; Infinity with answer[SPARE_SHEET] === NO_ZONES when the envelope has no zones
 */
export function spareInVoid(curve: Centreline, envelope: VoidEnvelope, fromMm: number, toMm: number, answer: Float64Array): number {
  if (envelope.sheets.count === 0) {
    answer.fill(0, 0, SPARE_ANSWER_SIZE)
    answer[SPARE_MM] = Infinity
    answer[SPARE_SHEET] = NO_ZONES
    return Infinity
  }
  const first = curve.elements[STATION], last = first + curve.lengthMm
  const from = Math.min(Math.max(fromMm, first), last), to = Math.max(from, Math.min(toMm, last))
  // a run that never meets the envelope is on one side of it all along
  const least = leastDistance(curve, envelope, from, to, answer)
  if (least > SEAM_MM) {
    pointAt(curve, from, point)
    if (voidHolds(envelope, point[0], point[1], point[2])) return least
  }
  const worst: Excursion = { depthMm: SEAM_MM, stationMm: from, sheet: NO_ZONES }
  eachStretchOutside(curve, envelope, from, to, (start, end) => raiseExcursion(curve, envelope.sheets, start, end, worst))
  return worst.sheet === NO_ZONES ? least : depthAt(curve, envelope, worst, answer)
}

/** Calls `take` with each stretch outside the void, cut where elements meet. */
function eachStretchOutside(
  curve: Centreline, envelope: VoidEnvelope, from: number, to: number, take: (start: number, end: number) => void,
): void {
  const inside = insideStretches(curve, envelope.prisms, envelope.prismIndex, from, to)
  if (inside.length === 0 && to - from <= SAME_POINT_MM) return take(from, to)
  const { elements } = curve
  const stops = [from, ...inside, to]
  for (let i = 0; i < stops.length; i += 2) {
    if (stops[i + 1] - stops[i] <= SEAM_MM) continue
    for (let e = 0; e < elements.length; e += ELEMENT_STRIDE) {
      const start = Math.max(stops[i], elements[e + STATION]), end = Math.min(stops[i + 1], elements[e + STATION] + elements[e + LENGTH])
      if (end > start) take(start, end)
    }
  }
}

function depthAt(curve: Centreline, envelope: VoidEnvelope, worst: Excursion, answer: Float64Array): number {
  pointAt(curve, worst.stationMm, point)
  sheetDistance(envelope.sheets, worst.sheet, point[0], point[1], point[2], foot)
  for (let k = 0; k < 3; k++) {
    answer[SPARE_ON_CURVE_X + k] = point[k]
    answer[SPARE_ON_SHEET_X + k] = foot[k]
  }
  answer[SPARE_STATION] = worst.stationMm
  answer[SPARE_SHEET] = worst.sheet
  return answer[SPARE_MM] = -worst.depthMm
}

function leastDistance(curve: Centreline, envelope: VoidEnvelope, from: number, to: number, answer: Float64Array): number {
  const { sheets } = envelope
  const isWhole = from <= curve.elements[STATION] && to >= curve.elements[STATION] + curve.lengthMm
  const { elements } = isWhole ? curve : clipped(curve, from, to)
  let least = Infinity
  for (let e = 0; e < elements.length; e += ELEMENT_STRIDE) {
    elementBounds(elements, e, bounds)
    // widen the search until what it has found is nearer than what it has not looked at
    for (let reachMm = FIRST_REACH_MM; ; reachMm *= 4) {
      const count = envelope.grid.nearElement(elements, e, Math.min(reachMm, least), found)
      for (let i = 0; i < count; i++) {
        const sheet = found.items[i]
        if (boundsApart(bounds, sheets.bounds, sheet * 6) >= least) continue
        const distance = Math.max(elementDistance(elements, e, sheets, sheet, least, kernelAnswer), 0)
        if (!(distance < least)) continue
        least = distance
        for (let k = 0; k < 3; k++) {
          answer[SPARE_ON_CURVE_X + k] = kernelAnswer[ON_CURVE_X + k]
          answer[SPARE_ON_SHEET_X + k] = kernelAnswer[ON_SOLID_X + k]
        }
        answer[SPARE_STATION] = elements[e + STATION] + kernelAnswer[ALONG]
        answer[SPARE_SHEET] = sheet
      }
      if (least <= reachMm || reachMm === Infinity) break
    }
  }
  return answer[SPARE_MM] = least
}

function boundsApart(a: Float64Array, b: Float64Array, at: number): number {
  let square = 0
  for (let k = 0; k < 3; k++) {
    const gap = Math.max(b[at + k] - a[3 + k], a[k] - b[at + 3 + k], 0)
    square += gap * gap
  }
  return Math.sqrt(square)
}
