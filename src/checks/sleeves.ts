/** Sleeves and drilled holes that a run passes: is there room for the duct on its axis? */
import { spareInRound } from '#geometry/envelope/spareInRound.ts'
import { stretchInRound } from '#geometry/envelope/stretchInRound.ts'
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'
import type { NearRound } from './contacts.ts'
import type { CheckContext } from './context.ts'
import type { Finding } from './finding.ts'
import { holeRef, placeOf, runRef, sleeveRef } from './refs.ts'

const where = new Float64Array(4)

export function sleeveFaults(context: CheckContext, runIndex: number): Finding[] {
  return context.runs[runIndex].rounds.flatMap((round) => tightPasses(context, runIndex, round))
}

function tightPasses(context: CheckContext, runIndex: number, { of, at, axis, halfLengthMm, radiusMm, part }: NearRound): Finding[] {
  const { placed } = context.runs[runIndex]
  const ref = 'sleeve' in of ? sleeveRef(of) : holeRef(of)
  return stretchInRound(part, at, axis, halfLengthMm, radiusMm).flatMap(({ fromMm, toMm }, i): Finding[] => {
    const spareMm = spareInRound(part, at, axis, halfLengthMm, radiusMm, fromMm, toMm, where)
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
