/** The solids nearest to a run, with exact clearances, whatever the rules say of them. */
import { ALONG, ON_CURVE_X, ON_SOLID_X } from '#geometry/clearance/index.ts'
import { nearestSolids } from '#geometry/broad/nearestSolids.ts'
import type { CheckContext } from './context.ts'
import type { PartRef, Place } from './finding.ts'
import { placeOf, solidRef } from './refs.ts'

export interface NearPart {
  readonly part: PartRef
  readonly class: string
  /** surface to surface, mm: negative when they overlap, by the depth of the overlap */
  readonly clearanceMm: number
  readonly requiredMm: number
  /** point of the run's centreline, and of the solid's surface, between which it was measured */
  readonly onRun: Place
  readonly onSolid: Place
  readonly stationMm: number
  /** contact is allowed on some stretch of the run (its own spigot, a sleeve or a hole), so a negative clearance may be as it should */
  readonly mayTouch: boolean
}

/** @param count how many; fewer when the job has fewer solids. Nearest first; solids that are no proper bodies are left out. */
export function nearestToRun(context: CheckContext, runIndex: number, count: number): NearPart[] {
  const { assembly, clearances, isSound, unsound, grid, runs } = context
  const { placed, contacts } = runs[runIndex]
  return nearestSolids(placed.centreline, assembly.solids, grid, count + unsound.size)
    .filter(({ solidIndex }) => isSound[solidIndex] === 1)
    .slice(0, count)
    .map(({ solidIndex, distanceMm, answer }) => ({
      part: solidRef(assembly, solidIndex), class: assembly.parts.classOf(solidIndex),
      clearanceMm: distanceMm - placed.outerRadiusMm, requiredMm: clearances.mm[assembly.parts.classCodeOf(solidIndex)],
      onRun: placeOf(answer.subarray(ON_CURVE_X, ON_CURVE_X + 3)), onSolid: placeOf(answer.subarray(ON_SOLID_X, ON_SOLID_X + 3)),
      stationMm: answer[ALONG], mayTouch: contacts.has(solidIndex),
    }))
}
