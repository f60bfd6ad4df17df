/** Distinct places along a run where something is nearer than it may be. */
import { ALONG, DISTANCE, ON_CURVE_X, ON_SOLID_X, PAIR_ANSWER_SIZE } from '#geometry/clearance/answer.ts'
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'
import type { Place } from './finding.ts'

export interface NearPlace {
  /** the stretch that is too near, to within one look: stations in mm */
  fromMm: number
  toMm: number
  /** the worst of it: signed distance from the centreline, no radius taken off, mm */
  distanceMm: number
  stationMm: number
  onCurve: Place
  onOther: Place
  /** the solid that it is worst to; -1 for a run */
  solidIndex: number
}

/** Least distance of the run between two stations to the other thing, with the answer's ALONG as a station. Any number above the cutoff may stand for 'further'. */
export type StretchDistance = (fromMm: number, toMm: number, cutoffMm: number, answer: Float64Array) => number

const answer = new Float64Array(PAIR_ANSWER_SIZE)

/**
 * Adds the places between two stations where the distance is below `belowMm`, in order along the run. Between two of them
 * lies at least `apartMm` of run that is clear, and twice that is always told apart; what is one place is told by its worst point. Every look is an
 * exact distance of a whole stretch, so nothing between two looks is missed.
 */
export function placesBelow(
  fromMm: number, toMm: number, belowMm: number, apartMm: number, solidIndex: number,
  distanceOf: StretchDistance, out: NearPlace[],
): void {
  if (!(toMm > fromMm)) return
  const isBelow = (a: number, b: number): boolean => distanceOf(a, b, belowMm, answer) < belowMm - ANSWER_ERROR_MM
  if (!isBelow(fromMm, toMm)) return
  const place = placeFrom(answer, solidIndex)
  let low = place.stationMm, high = place.stationMm
  while (low > fromMm && isBelow(Math.max(fromMm, low - apartMm), low)) low = Math.max(fromMm, low - apartMm)
  while (high < toMm && isBelow(high, Math.min(toMm, high + apartMm))) high = Math.min(toMm, high + apartMm)
  place.fromMm = low
  place.toMm = high
  placesBelow(fromMm, low - apartMm, belowMm, apartMm, solidIndex, distanceOf, out)
  out.push(place)
  placesBelow(high + apartMm, toMm, belowMm, apartMm, solidIndex, distanceOf, out)
}

/** One place out of a kernel's answer whose ALONG is a station. */
export function placeFrom(from: Float64Array, solidIndex: number): NearPlace {
  return {
    fromMm: from[ALONG], toMm: from[ALONG], distanceMm: from[DISTANCE], stationMm: from[ALONG], solidIndex,
    onCurve: { x: from[ON_CURVE_X], y: from[ON_CURVE_X + 1], z: from[ON_CURVE_X + 2] },
    onOther: { x: from[ON_SOLID_X], y: from[ON_SOLID_X + 1], z: from[ON_SOLID_X + 2] },
  }
}

/** Places with less than `apartMm` between them become one, told by its worst point (of equals the one nearest the start). */
export function mergedPlaces(places: NearPlace[], apartMm: number): NearPlace[] {
  const merged: NearPlace[] = []
  for (const place of places.sort((a, b) => a.fromMm - b.fromMm || a.stationMm - b.stationMm || a.solidIndex - b.solidIndex)) {
    const last = merged.at(-1)
    if (last === undefined || place.fromMm - last.toMm >= apartMm) merged.push({ ...place })
    else {
      const worst = place.distanceMm < last.distanceMm ? place : last
      merged[merged.length - 1] = { ...worst, fromMm: last.fromMm, toMm: Math.max(last.toMm, place.toMm) }
    }
  }
  return merged
}
