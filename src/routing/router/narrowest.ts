/**
 * The narrowest place along a course, and the largest duct that would have passed there, by the exact rules: the trial size of
 * trialSize.ts (least distance of the whole centreline, bends and all, to every solid, the void, the other ducts, sleeves and holes, less what
 * must be kept clear of each), and where that place is an opening of a joist, the largest duct that passes that opening straight on
 * beside the ducts that are in it (geometry/fit/largestBeside.ts), if that is more and still less than the duct that was to go there.
 */
import type { PartRef } from '#checks/finding.ts'
import type { CheckContext } from '#checks/index.ts'
import { ductsOf, halfThicknessMm, knownCrossings, usersOf } from '#checks/openingUse.ts'
import { DUCT_CODE } from '#checks/requirement.ts'
import { pointAt } from '#geometry/curve/measure.ts'
import { largestBeside } from '#geometry/fit/largestBeside.ts'
import { BOTTOM_CHORD, EDGE_STRIDE, TOP_CHORD, type Opening } from '#geometry/fit/opening.ts'
import { CLASSES } from '#model/index.ts'
import type { Vec } from '../threadVector.ts'
import { trialSize } from '../trialSize.ts'

export interface Narrowest {
  /** on the course, mm */
  readonly at: Vec
  readonly stationMm: number
  /** outer diameter, insulation and all, mm; what must be kept clear is kept */
  readonly largestMm: number
  /** what it would touch first */
  readonly touches: PartRef
  /** the opening that it is in, where that gave the figure */
  readonly opening: { readonly joistId: string, readonly number: number } | null
}

/** Null where nothing at all is near the course, so that no place of it is narrow. */
export function narrowestOf(context: CheckContext, runIndex: number): Narrowest | null {
  const { placed } = context.runs[runIndex]
  const { diameterMm, touchesFirst, stationMm } = trialSize(context, runIndex, 'clearance')
  if (diameterMm === null || touchesFirst === null || stationMm === null) return null
  const point = [0, 0, 0]
  pointAt(placed.centreline, stationMm, point)
  const trial: Narrowest = { at: [point[0], point[1], point[2]], stationMm, largestMm: diameterMm, touches: touchesFirst, opening: null }
  return inOpening(context, runIndex, trial) ?? trial
}

/** Null where the place is in no opening, or the opening's own figure says no more. */
function inOpening(context: CheckContext, runIndex: number, trial: Narrowest): Narrowest | null {
  const { assembly: { joists }, clearances, runs } = context
  const ownMm = 2 * runs[runIndex].placed.outerRadiusMm
  const there = knownCrossings(context, runIndex).filter(({ opening }) => opening !== null)
    .sort((a, b) => Math.abs(a.stationMm - trial.stationMm) - Math.abs(b.stationMm - trial.stationMm))[0]
  if (there === undefined || there.opening === null) return null
  const joist = joists[there.joistIndex]
  if (Math.abs(there.stationMm - trial.stationMm) > (halfThicknessMm(joist) + ownMm / 2) * Math.hypot(1, ...there.shear)) return null
  const opening = joist.openings.find(({ number }) => number === there.opening)
  if (opening === undefined) return null
  const others = usersOf(context, there.joistIndex, there.opening).filter((user) => user.runIndex !== runIndex)
  const { diameterMm } = largestBeside(kept(opening.opening, clearances.mm), ductsOf(others, joist, clearances.mm[DUCT_CODE]))
  if (!(diameterMm > trial.largestMm && diameterMm < ownMm)) return null
  return { ...trial, largestMm: diameterMm, opening: { joistId: joist.id, number: there.opening } }
}

/** The opening less what must be kept clear of its members. */
export function kept(opening: Opening, clearMm: ArrayLike<number>): Opening {
  const edges = Float64Array.from(opening.edges)
  for (let i = 0; i < opening.edgeCount; i++) {
    const member = opening.members[i]
    edges[i * EDGE_STRIDE + 2] -= clearMm[CLASSES.indexOf(member >= 0 ? 'web' : member === BOTTOM_CHORD || member === TOP_CHORD ? 'chord' : 'joist')]
  }
  return { ...opening, edges }
}
