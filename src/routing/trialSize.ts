/**
 * Trial size: the largest outer diameter that a run's centreline still takes before it touches anything, everything else
 * staying as it is. Limits: solids, other runs, the ceiling void, sleeves and holes on the way, and its own bends (a tube
 * thicker than its bend radius folds into itself); or until it comes nearer to a solid or a run than the job asks. Contacts that are allowed (checks/contacts.ts) reach further for a thicker duct.
 */
import { stretchesOutside } from '#checks/contacts.ts'
import { boundsMeet, withRun, type CheckContext } from '#checks/context.ts'
import type { PartRef, Place } from '#checks/finding.ts'
import { faceRef } from '#checks/leavesVoid.ts'
import { bendRef, holeRef, placeOf, runRef, sleeveRef, solidRef } from '#checks/refs.ts'
import { DUCT_CODE } from '#checks/requirement.ts'
import { lieApart } from '#checks/selfClash.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { ALONG, ANSWER_SIZE, ON_CURVE_X, ON_SOLID_X, PAIR_ANSWER_SIZE, centrelineDistance, curveDistance, elementsDistance } from '#geometry/clearance/index.ts'
import { ELEMENT_STRIDE, RADIUS, STATION } from '#geometry/curve/centreline.ts'
import { clipped, pointAt } from '#geometry/curve/measure.ts'
import { spareInRound } from '#geometry/envelope/spareInRound.ts'
import { SPARE_ANSWER_SIZE, SPARE_ON_SHEET_X, SPARE_SHEET, SPARE_STATION, spareInVoid } from '#geometry/envelope/spareInVoid.ts'
import { stretchInRound } from '#geometry/envelope/stretchInRound.ts'
import { ANSWER_ERROR_MM, SAME_POINT_MM } from '#geometry/tolerance.ts'
import { CLASSES } from '#model/classes.ts'

export interface TrialSize {
  /** largest outer diameter, mm; 0 when even the centreline is inside something; null when nothing is there to touch */
  readonly diameterMm: number | null
  readonly touchesFirst: PartRef | null
  readonly at: Place | null
  readonly stationMm: number | null
}

interface Limit {
  /** what has to be kept clear of each class of solid, by class code, mm */
  readonly asked: ArrayLike<number>
  readonly mostAskedMm: number
  radiusMm: number
  part: PartRef | null
  at: Place | null
  stationMm: number
}

const NOTHING_ASKED = CLASSES.map(() => 0)

/** @param until 'touch': it is in contact; 'clearance': what the job asks to be kept clear is only just kept */
export function trialSize(context: CheckContext, runIndex: number, until: 'touch' | 'clearance' = 'touch'): TrialSize {
  const isClear = until === 'clearance'
  const limit: Limit = { asked: isClear ? context.clearances.mm : NOTHING_ASKED, mostAskedMm: isClear ? context.clearances.mostMm : 0, radiusMm: Infinity, part: null, at: null, stationMm: 0 }
  if (context.runs[runIndex].placed.centreline.lengthMm > SAME_POINT_MM) {
    limitByBends(context, runIndex, limit)
    limitByRounds(context, runIndex, limit)
    limitByItself(context, runIndex, limit)
    limitBySolids(context, runIndex, limit)
    limitByRuns(context, runIndex, limit)
    limitWhereContactIsAllowed(context, runIndex, limit)
  }
  if (limit.part === null) return { diameterMm: null, touchesFirst: null, at: null, stationMm: null }
  return { diameterMm: 2 * Math.max(0, limit.radiusMm), touchesFirst: limit.part, at: limit.at, stationMm: limit.stationMm }
}

function lower(limit: Limit, radiusMm: number, part: PartRef, at: Place, stationMm: number): void {
  if (!(radiusMm < limit.radiusMm)) return
  limit.radiusMm = radiusMm
  limit.part = part
  limit.at = at
  limit.stationMm = stationMm
}

function limitByBends(context: CheckContext, runIndex: number, limit: Limit): void {
  const { placed } = context.runs[runIndex]
  placed.bends.forEach((bend, i) => {
    if (bend.elementIndex < 0) return
    const point = [0, 0, 0]
    pointAt(placed.centreline, bend.stationMm, point)
    lower(limit, placed.centreline.elements[bend.elementIndex * ELEMENT_STRIDE + RADIUS], bendRef(placed, i + 1), placeOf(point), bend.stationMm)
  })
}

/** Where the run comes back to itself, as checks/selfClash.ts judges it. */
function limitByItself(context: CheckContext, runIndex: number, limit: Limit): void {
  const { placed } = context.runs[runIndex]
  const { elements, count } = placed.centreline
  for (let j = 2; j < count; j++) {
    for (let i = 0; i < j - 1; i++) {
      const distanceMm = elementsDistance(elements, j * ELEMENT_STRIDE, elements, i * ELEMENT_STRIDE, 2 * limit.radiusMm, pair)
      if (!(distanceMm < 2 * limit.radiusMm) || !lieApart(elements, i, j, distanceMm / 2)) continue
      const stationMm = elements[j * ELEMENT_STRIDE + STATION] + pair[ALONG]
      lower(limit, distanceMm / 2, { id: placed.run.id, part: 'itself', name: 'itself' }, placeOf(pair.subarray(ON_CURVE_X)), stationMm)
    }
  }
}

const inRound = new Float64Array(4)

function limitByRounds(context: CheckContext, runIndex: number, limit: Limit): void {
  const { placed: { centreline }, rounds } = context.runs[runIndex]
  for (const { of, at, axis, halfLengthMm, radiusMm } of rounds) {
    const part = 'sleeve' in of ? sleeveRef(of) : holeRef(of)
    for (const { fromMm, toMm } of stretchInRound(centreline, at, axis, halfLengthMm, radiusMm)) {
      const spareMm = spareInRound(centreline, at, axis, halfLengthMm, radiusMm, fromMm, toMm, inRound)
      lower(limit, spareMm, part, placeOf(inRound.subarray(1)), inRound[0])
    }
  }
}

const pair = new Float64Array(PAIR_ANSWER_SIZE)

function limitByRuns(context: CheckContext, runIndex: number, limit: Limit): void {
  const { placed: { centreline }, boundsMm } = context.runs[runIndex]
  context.runs.forEach(({ placed: other, boundsMm: otherMm }, otherIndex) => {
    if (otherIndex === runIndex || !boundsMeet(boundsMm, 0, otherMm, 0, limit.radiusMm + other.outerRadiusMm + limit.asked[DUCT_CODE])) return
    const cutoffMm = limit.radiusMm + other.outerRadiusMm + limit.asked[DUCT_CODE]
    const distanceMm = centrelineDistance(centreline, other.centreline, cutoffMm, pair)
    if (distanceMm < cutoffMm) lower(limit, distanceMm - other.outerRadiusMm - limit.asked[DUCT_CODE], runRef(other), placeOf(pair.subarray(ON_SOLID_X)), pair[ALONG])
  })
}

/** The first look round a run, mm from its centreline. */
const FIRST_REACH_MM = 150
const answer = new Float64Array(ANSWER_SIZE)

function limitBySolids(context: CheckContext, runIndex: number, limit: Limit): void {
  const { placed: { centreline }, contacts } = context.runs[runIndex]
  eachNearSolid(context, runIndex, limit, (solidIndex) => {
    if (contacts.has(solidIndex)) return
    const askedMm = limit.asked[context.assembly.parts.classCodeOf(solidIndex)]
    const distanceMm = curveDistance(centreline, context.assembly.solids, solidIndex, limit.radiusMm + askedMm, answer)
    if (distanceMm < limit.radiusMm + askedMm) lower(limit, distanceMm - askedMm, solidRef(context.assembly, solidIndex), placeOf(answer.subarray(ON_SOLID_X)), answer[ALONG])
  })
}

/** Offers solids in widening looks until the limit lies within what has been looked at. */
function eachNearSolid(context: CheckContext, runIndex: number, limit: Limit, take: (solidIndex: number) => void): void {
  const { placed: { centreline } } = context.runs[runIndex]
  const near = new IndexList(), seen = new Set<number>()
  for (let reachMm = FIRST_REACH_MM; ; reachMm *= 4) {
    const all = seen.size < context.assembly.solids.count && reachMm < 1e6 ? reachMm : Infinity
    for (let i = 0; i < centreline.count; i++) {
      context.grid.nearElement(centreline.elements, i * ELEMENT_STRIDE, all, near)
      for (let j = 0; j < near.count; j++) {
        const solidIndex = near.items[j]
        if (seen.has(solidIndex)) continue
        seen.add(solidIndex)
        if (context.isSound[solidIndex] === 1) take(solidIndex)
      }
    }
    if (limit.radiusMm + limit.mostAskedMm <= all) return
  }
}

/**
 * Where a contact is allowed its stretch grows with the duct, so the limit is a fixed point: lowered until the duct that is left
 * clears everything outside the stretches that a duct of that very size is allowed.
 */
function limitWhereContactIsAllowed(context: CheckContext, runIndex: number, limit: Limit): void {
  const { placed } = context.runs[runIndex]
  for (let round = 0; round < 60; round++) {
    const outerRadiusMm = Math.min(Math.max(limit.radiusMm, SAME_POINT_MM), LARGEST_TRIED_MM)
    const tried = withRun(context, runIndex, { ...placed, outerRadiusMm })
    const before = limit.radiusMm
    limitByTouched(tried, runIndex, limit)
    limitByVoid(tried, runIndex, limit)
    if (!(limit.radiusMm < before - ANSWER_ERROR_MM) || limit.radiusMm <= 0) return
  }
}

/** No duct is thicker than this, mm: where the limit is still open the search starts here. */
const LARGEST_TRIED_MM = 5_000

function limitByTouched(context: CheckContext, runIndex: number, limit: Limit): void {
  const { placed: { centreline }, contacts } = context.runs[runIndex]
  for (const [solidIndex, allowed] of contacts) {
    if (context.isSound[solidIndex] === 0) continue
    for (const [fromMm, toMm] of stretchesOutside(allowed, 0, centreline.lengthMm)) {
      const askedMm = limit.asked[context.assembly.parts.classCodeOf(solidIndex)]
      const distanceMm = curveDistance(clipped(centreline, fromMm, toMm), context.assembly.solids, solidIndex, limit.radiusMm + askedMm, answer)
      if (distanceMm < limit.radiusMm + askedMm) lower(limit, distanceMm - askedMm, solidRef(context.assembly, solidIndex), placeOf(answer.subarray(ON_SOLID_X)), answer[ALONG])
    }
  }
}

const spare = new Float64Array(SPARE_ANSWER_SIZE)

function limitByVoid(context: CheckContext, runIndex: number, limit: Limit): void {
  const { envelope } = context
  const { placed: { centreline }, mayLeave } = context.runs[runIndex]
  if (envelope === null || envelope.sheets.count === 0) return
  for (const [fromMm, toMm] of stretchesOutside(mayLeave, 0, centreline.lengthMm)) {
    const spareMm = spareInVoid(centreline, envelope, fromMm, toMm, spare)
    if (!(spareMm < limit.radiusMm)) continue
    lower(limit, spareMm, faceRef(context, envelope, spare[SPARE_SHEET]), placeOf(spare.subarray(SPARE_ON_SHEET_X)), spare[SPARE_STATION])
  }
}
