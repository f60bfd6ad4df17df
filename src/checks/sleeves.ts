/** Sleeves and drilled holes that a run passes: is there room for the duct on its axis? */
import { spareInRound } from '#geometry/envelope/spareInRound.ts'
import { stretchInRound } from '#geometry/envelope/stretchInRound.ts'
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'
import { isNear, roundOf } from './contacts.ts'
import type { CheckContext } from './context.ts'
import type { Finding, PartRef } from './finding.ts'
import { holeRef, placeOf, runRef, sleeveRef } from './refs.ts'

const where = new Float64Array(4)

export function sleeveFaults(context: CheckContext, runIndex: number): Finding[] {
  const { assembly } = context
  return [
    ...assembly.sleeves.flatMap((sleeve) => tightPasses(context, runIndex, sleeveRef(sleeve), roundOf(sleeve))),
    ...assembly.holes.flatMap((hole) => tightPasses(context, runIndex, holeRef(hole), roundOf(hole))),
  ]
}

function tightPasses(context: CheckContext, runIndex: number, ref: PartRef, round: ReturnType<typeof roundOf>): Finding[] {
  const { placed, boundsMm } = context.runs[runIndex]
  const { at, axis, halfLengthMm, radiusMm } = round
  if (!isNear(round, boundsMm, 0)) return []
  return stretchInRound(placed.centreline, at, axis, halfLengthMm, radiusMm).flatMap(({ fromMm, toMm }, i): Finding[] => {
    const spareMm = spareInRound(placed.centreline, at, axis, halfLengthMm, radiusMm, fromMm, toMm, where)
    if (!(spareMm < placed.outerRadiusMm - ANSWER_ERROR_MM)) return []
    const tightest = placeOf(where.subarray(1))
    const isEvenCentred = radiusMm < placed.outerRadiusMm - ANSWER_ERROR_MM
    return [{
      id: `sleeve-too-small:${placed.run.id}:${ref.id}${i === 0 ? '' : `:${i + 1}`}`, code: 'sleeve-too-small', severity: 'stop',
      parts: [runRef(placed), ref], at: tightest, mark: tightest, stationMm: where[0],
      unit: 'mm', measured: 2 * spareMm, required: 2 * placed.outerRadiusMm,
      why: isEvenCentred ? `It is ${2 * radiusMm} mm in diameter, too small even for a duct through its middle` : `It is ${2 * radiusMm} mm in diameter; the duct is off its middle or askew in it`,
    }]
  })
}
