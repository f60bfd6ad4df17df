/**
 * Runs against solids: cutting into them, or passing nearer than the pair of classes requires.
 *
 * One finding for each part of a thing and each place along the run. The plates on both faces of one web are one part, told by the
 * face that is worse; a joist with no openings is one part altogether, and cutting it is 'cut-member', as it may not be cut at all
 * but through a declared hole. A touch by construction (0 to within ANSWER_ERROR_MM) is never a clash.
 */
import { ARC, ELEMENT_STRIDE, KIND, LENGTH, STATION } from '#geometry/curve/centreline.ts'
import { ALONG, ANSWER_SIZE, elementDistance } from '#geometry/clearance/index.ts'
import { BOX, CYLINDER } from '#geometry/solid/solidSet.ts'
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'
import type { PlacedJoist } from '#assembly/assembly.ts'
import { solidsNear, type CheckContext } from './context.ts'
import { stretchesOutside } from './contacts.ts'
import type { Finding } from './finding.ts'
import { mergedPlaces, placeFrom, placesBelow, type NearPlace } from './places.ts'
import { joistRef, joistWidthMm, runRef, solidRef } from './refs.ts'
import { stretchToSolid } from './stretch.ts'

const answer = new Float64Array(ANSWER_SIZE)

export function clashFaults(context: CheckContext, runIndex: number): Finding[] {
  const groups = new Map<string, NearPlace[]>()
  eachNearSolid(context, runIndex, (solidIndex, places) => {
    const key = groupOf(context, solidIndex)
    const there = groups.get(key)
    if (there === undefined) groups.set(key, places)
    else there.push(...places)
  })
  const findings: Finding[] = []
  for (const [key, places] of groups) {
    const joist = joistOf(context, places[0].solidIndex)
    // the two faces of one part of a joist lie further apart by its width
    const apartMm = apartOf(context, runIndex) + (joist === null ? 0 : joistWidthMm(joist))
    mergedPlaces(places, apartMm).forEach((place, i) => findings.push(findingAt(context, runIndex, key, place, i)))
  }
  return findings
}

/** Places this far apart along a run are two findings: the duct's own diameter, so that a person can tell them apart. */
function apartOf(context: CheckContext, runIndex: number): number {
  return 2 * context.runs[runIndex].placed.outerRadiusMm
}

/** What the first look finds of a solid that is too near: the elements that are, from the first to the last, and the place where it is plain already. */
interface Near { fromMm: number, toMm: number, place: NearPlace | null }

/** Calls `take` for every solid that a run is too near to, with the places along the run. */
function eachNearSolid(context: CheckContext, runIndex: number, take: (solidIndex: number, places: NearPlace[]) => void): void {
  const { assembly: { solids, parts }, clearances, isSound, runs } = context
  const { placed: { centreline, outerRadiusMm }, contacts } = runs[runIndex]
  const { elements, count } = centreline
  const near = new Map<number, Near>()
  for (let i = 0; i < count; i++) {
    const e = i * ELEMENT_STRIDE
    const list = solidsNear(context, runIndex, i, outerRadiusMm + clearances.mostMm)
    for (let j = 0; j < list.count; j++) {
      const solidIndex = list.items[j]
      if (isSound[solidIndex] === 0) continue
      const belowMm = outerRadiusMm + clearances.mm[parts.classCodeOf(solidIndex)]
      const distanceMm = elementDistance(elements, e, solids, solidIndex, belowMm, answer)
      if (!(distanceMm < belowMm - ANSWER_ERROR_MM)) continue
      const fromMm = elements[e + STATION], toMm = fromMm + elements[e + LENGTH]
      const there = near.get(solidIndex)
      if (there !== undefined) {
        there.toMm = toMm
        there.place = null
        continue
      }
      // along a leg the distance to a convex solid falls, then rises: one place
      const isPlain = elements[e + KIND] !== ARC && (solids.kind[solidIndex] === BOX || solids.kind[solidIndex] === CYLINDER) && !contacts.has(solidIndex)
      near.set(solidIndex, { fromMm, toMm, place: isPlain ? plainPlace(solidIndex, fromMm, belowMm - distanceMm) : null })
    }
  }
  for (const [solidIndex, { fromMm, toMm, place }] of near) {
    if (place !== null) {
      take(solidIndex, [place])
      continue
    }
    const belowMm = outerRadiusMm + clearances.mm[parts.classCodeOf(solidIndex)]
    const places: NearPlace[] = []
    for (const [a, b] of stretchesOutside(contacts.get(solidIndex) ?? [], fromMm, toMm)) {
      placesBelow(a, b, belowMm, apartOf(context, runIndex), solidIndex,
        (from, to, cutoffMm, out) => stretchToSolid(centreline, from, to, solids, solidIndex, cutoffMm, out), places)
    }
    if (places.length > 0) take(solidIndex, places)
  }
}

/** The place that `answer` tells of; the distance changes by no more than the way along, so it reaches at least so far both ways. */
function plainPlace(solidIndex: number, elementStationMm: number, shortMm: number): NearPlace {
  answer[ALONG] += elementStationMm
  const place = placeFrom(answer, solidIndex)
  place.fromMm -= shortMm
  place.toMm += shortMm
  return place
}

/** The joist that is one part altogether, if the solid is of one. */
function joistOf(context: CheckContext, solidIndex: number): PlacedJoist | null {
  const joistIndex = context.joistOfSolid[solidIndex]
  return joistIndex < 0 ? null : context.assembly.joists[joistIndex]
}

function isUncut(joist: PlacedJoist | null): joist is PlacedJoist {
  return joist !== null && joist.section.kind !== 'open-web'
}

function groupOf(context: CheckContext, solidIndex: number): string {
  const joist = joistOf(context, solidIndex)
  if (isUncut(joist)) return joist.id
  const { ownerId, part } = context.assembly.parts.describe(solidIndex)
  return part === '' ? ownerId : `${ownerId}/${part.replace(/-(left|right)$/, '')}`
}

function findingAt(context: CheckContext, runIndex: number, key: string, place: NearPlace, ordinal: number): Finding {
  const { assembly, clearances, runs } = context
  const { placed } = runs[runIndex]
  const code = assembly.parts.classCodeOf(place.solidIndex)
  const measured = place.distanceMm - placed.outerRadiusMm
  const joist = joistOf(context, place.solidIndex)
  const isCut = measured < -ANSWER_ERROR_MM
  const other = isCut && isUncut(joist) ? joistRef(joist) : solidRef(assembly, place.solidIndex)
  const findingCode = !isCut ? 'tight' : isUncut(joist) ? 'cut-member' : 'clash'
  return {
    id: `${findingCode}:${placed.run.id}:${key}${ordinal === 0 ? '' : `:${ordinal + 1}`}`,
    code: findingCode, severity: isCut ? 'stop' : 'mend', parts: [runRef(placed), other],
    at: place.onCurve, onOther: place.onOther, mark: place.onOther, stationMm: place.stationMm,
    unit: 'mm', measured, required: clearances.mm[code],
    why: findingCode === 'cut-member' ? CUTTING : clearances.why[code],
  }
}

const CUTTING = 'A joist is cut only as its maker or an engineer allows (NHBC Standards 6.4.18; IRC R502.8)'
