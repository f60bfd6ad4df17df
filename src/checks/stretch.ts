/** Exact distances of a stretch of a run, looked at piece by piece without copying the run. */
import { ALONG, ALONG_OTHER, ANSWER_SIZE, PAIR_ANSWER_SIZE, elementDistance, elementsDistance } from '#geometry/clearance/index.ts'
import { writeArc, writeLeg } from '#geometry/curve/build.ts'
import { ARC, CENTRE_X, ELEMENT_STRIDE, KIND, LENGTH, RADIAL_X, RADIUS, STATION, TANGENT_X, type Centreline } from '#geometry/curve/centreline.ts'
import { pointOfElement } from '#geometry/curve/measure.ts'
import type { SolidSet } from '#geometry/solid/solidSet.ts'

const piece = new Float64Array(ELEMENT_STRIDE)
const start = new Float64Array(3), end = new Float64Array(3), centre = new Float64Array(3), radial = new Float64Array(3), tangent = new Float64Array(3)
const own = new Float64Array(PAIR_ANSWER_SIZE)

/** Least signed distance of the run between two stations to a solid; ALONG in `answer` is a station. Further than the cutoff: any number above it. */
export function stretchToSolid(
  curve: Centreline, fromMm: number, toMm: number, solids: SolidSet, solidIndex: number, cutoffMm: number, answer: Float64Array,
): number {
  let least = Infinity
  eachPiece(curve, fromMm, toMm, (elements, e) => {
    const distance = elementDistance(elements, e, solids, solidIndex, Math.min(least, cutoffMm), own)
    if (!(distance < least)) return
    least = distance
    if (distance > cutoffMm) return
    for (let k = 0; k < ANSWER_SIZE; k++) answer[k] = own[k]
    answer[ALONG] += elements[e + STATION]
  })
  return least
}

/** The same to another run's centreline, without sign; ALONG and ALONG_OTHER are stations. */
export function stretchToCurve(
  curve: Centreline, fromMm: number, toMm: number, other: Centreline, cutoffMm: number, answer: Float64Array,
): number {
  let least = Infinity
  eachPiece(curve, fromMm, toMm, (elements, e) => {
    for (let i = 0, o = 0; i < other.count; i++, o += ELEMENT_STRIDE) {
      const distance = elementsDistance(elements, e, other.elements, o, Math.min(least, cutoffMm), own)
      if (!(distance < least)) continue
      least = distance
      if (distance > cutoffMm) continue
      for (let k = 0; k < PAIR_ANSWER_SIZE; k++) answer[k] = own[k]
      answer[ALONG] += elements[e + STATION]
      answer[ALONG_OTHER] += other.elements[o + STATION]
    }
  })
  return least
}

/** Calls `take` with every element between two stations, whole ones where they lie, cut ones in a scratch that the next call overwrites. */
function eachPiece(curve: Centreline, fromMm: number, toMm: number, take: (elements: Float64Array, e: number) => void): void {
  const { elements, count } = curve
  for (let i = 0, e = 0; i < count; i++, e += ELEMENT_STRIDE) {
    const station = elements[e + STATION], length = elements[e + LENGTH]
    const a = Math.max(fromMm - station, 0), b = Math.min(toMm - station, length)
    if (a > b) continue
    if (a === 0 && b === length) take(elements, e)
    else {
      writePiece(elements, e, a, b)
      take(piece, 0)
    }
  }
}

function writePiece(elements: Float64Array, e: number, a: number, b: number): void {
  const station = elements[e + STATION] + a
  if (elements[e + KIND] !== ARC || !(b > a)) {
    pointOfElement(elements, e, a, start)
    pointOfElement(elements, e, b, end)
    writeLeg(piece, 0, start[0], start[1], start[2], end[0], end[1], end[2], station)
    return
  }
  const radius = elements[e + RADIUS], c = Math.cos(a / radius), s = Math.sin(a / radius)
  for (let k = 0; k < 3; k++) {
    centre[k] = elements[e + CENTRE_X + k]
    radial[k] = c * elements[e + RADIAL_X + k] + s * elements[e + TANGENT_X + k]
    tangent[k] = c * elements[e + TANGENT_X + k] - s * elements[e + RADIAL_X + k]
  }
  writeArc(piece, 0, centre, radial, tangent, radius, (b - a) / radius, station)
}
