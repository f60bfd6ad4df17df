/** What a stretch of a run comes nearest to, and how near: solids, other runs and the ceiling void, but what it may touch there. */
import { stretchesOutside } from '#checks/contacts.ts'
import type { CheckContext } from '#checks/context.ts'
import { boundsMeet } from '#checks/context.ts'
import { runRef, solidRef } from '#checks/refs.ts'
import { DUCT_CODE } from '#checks/requirement.ts'
import { stretchToCurve, stretchToSolid } from '#checks/stretch.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { ANSWER_SIZE, ON_CURVE_X, ON_SOLID_X, PAIR_ANSWER_SIZE } from '#geometry/clearance/index.ts'
import { ELEMENT_STRIDE, LENGTH, STATION } from '#geometry/curve/centreline.ts'
import { SPARE_ANSWER_SIZE, SPARE_ON_CURVE_X, SPARE_ON_SHEET_X, SPARE_SHEET, spareInVoid } from '#geometry/envelope/spareInVoid.ts'
import type { Xyz } from '#scene/frame.ts'

export interface Least {
  /** surface to surface, mm; negative when they overlap */
  readonly clearanceMm: number
  readonly requiredMm: number
  readonly name: string
  /** on the duct's centreline and on the other thing, mm */
  readonly onRun: Xyz
  readonly onOther: Xyz
}

/** Farther off than this nothing is told, mm. */
const FARTHEST_MM = 1_500
const FIRST_REACH_MM = 150

const near = new IndexList()
const answer = new Float64Array(ANSWER_SIZE), pair = new Float64Array(PAIR_ANSWER_SIZE), spare = new Float64Array(SPARE_ANSWER_SIZE)

/** @returns null when nothing is near. Clearances to things of different kinds are compared as they are, not by what each should be. */
export function leastBeside(context: CheckContext, runIndex: number, fromMm: number, toMm: number): Least | null {
  let least: Least | null = null
  let leastMm = FARTHEST_MM
  const offer = (axisMm: number, make: () => Omit<Least, 'clearanceMm'>): void => {
    if (!(axisMm < leastMm)) return
    leastMm = axisMm
    least = { ...make(), clearanceMm: axisMm - context.runs[runIndex].placed.outerRadiusMm }
  }
  besideVoid(context, runIndex, fromMm, toMm, offer)
  besideRuns(context, runIndex, fromMm, toMm, () => leastMm, offer)
  besideSolids(context, runIndex, fromMm, toMm, () => leastMm, offer)
  return least
}

type Offer = (axisMm: number, make: () => Omit<Least, 'clearanceMm'>) => void

function besideSolids(context: CheckContext, runIndex: number, fromMm: number, toMm: number, limitMm: () => number, offer: Offer): void {
  const { assembly, clearances, grid, isSound, runs } = context
  const { placed: { centreline }, contacts } = runs[runIndex]
  const seen = new Set<number>()
  for (let reachMm = FIRST_REACH_MM; ; reachMm *= 4) {
    for (let i = 0, e = 0; i < centreline.count; i++, e += ELEMENT_STRIDE) {
      const station = centreline.elements[e + STATION]
      if (station > toMm || station + centreline.elements[e + LENGTH] < fromMm) continue
      grid.nearElement(centreline.elements, e, Math.min(reachMm, FARTHEST_MM), near)
      for (let j = 0; j < near.count; j++) {
        const solidIndex = near.items[j]
        if (seen.has(solidIndex) || isSound[solidIndex] === 0) continue
        seen.add(solidIndex)
        for (const [a, b] of stretchesOutside(contacts.get(solidIndex) ?? [], fromMm, toMm)) {
          offer(stretchToSolid(centreline, a, b, assembly.solids, solidIndex, limitMm(), answer), () => ({
            requiredMm: clearances.mm[assembly.parts.classCodeOf(solidIndex)], name: solidRef(assembly, solidIndex).name,
            onRun: xyz(answer, ON_CURVE_X), onOther: xyz(answer, ON_SOLID_X),
          }))
        }
      }
    }
    if (limitMm() <= reachMm || reachMm >= FARTHEST_MM) return
  }
}

function besideRuns({ runs, clearances }: CheckContext, runIndex: number, fromMm: number, toMm: number, limitMm: () => number, offer: Offer): void {
  const { placed: { centreline }, boundsMm } = runs[runIndex]
  runs.forEach(({ placed: other, boundsMm: otherBoundsMm }, otherIndex) => {
    const cutoffMm = limitMm() + other.outerRadiusMm
    if (otherIndex === runIndex || !boundsMeet(boundsMm, 0, otherBoundsMm, 0, cutoffMm)) return
    const mm = stretchToCurve(centreline, fromMm, toMm, other.centreline, cutoffMm, pair)
    offer(mm - other.outerRadiusMm, () => {
      const onRun = xyz(pair, ON_CURVE_X), axis = xyz(pair, ON_SOLID_X)
      // from the other's centreline to its surface
      const share = mm > 0 ? other.outerRadiusMm / mm : 0
      const onOther: Xyz = [axis[0] + share * (onRun[0] - axis[0]), axis[1] + share * (onRun[1] - axis[1]), axis[2] + share * (onRun[2] - axis[2])]
      return { requiredMm: clearances.mm[DUCT_CODE], name: runRef(other).name, onRun, onOther }
    })
  })
}

function besideVoid({ envelope, assembly, runs }: CheckContext, runIndex: number, fromMm: number, toMm: number, offer: Offer): void {
  const { placed: { centreline }, mayLeave } = runs[runIndex]
  if (envelope === null || envelope.sheets.count === 0) return
  for (const [a, b] of stretchesOutside(mayLeave, fromMm, toMm)) {
    offer(spareInVoid(centreline, envelope, a, b, spare), () => ({
      requiredMm: 0, name: `the edge of ${assembly.job.zones[envelope.sheetZone[spare[SPARE_SHEET]]].name}`,
      onRun: xyz(spare, SPARE_ON_CURVE_X), onOther: xyz(spare, SPARE_ON_SHEET_X),
    }))
  }
}

function xyz(from: Float64Array, at: number): Xyz {
  return [from[at], from[at + 1], from[at + 2]]
}
