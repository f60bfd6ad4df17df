/** Runs against runs, each pair once, told from the run whose id comes first. */
import { CurveIndex } from '#geometry/broad/curves.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { PAIR_ANSWER_SIZE, centrelineDistance, elementsDistance } from '#geometry/clearance/index.ts'
import { ELEMENT_STRIDE } from '#geometry/curve/centreline.ts'
import { clipped } from '#geometry/curve/measure.ts'
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'
import { boundsMeet, type CheckContext } from './context.ts'
import type { Finding } from './finding.ts'
import { placesBelow, type NearPlace } from './places.ts'
import { byId, runRef } from './refs.ts'
import { DUCT_CODE } from './requirement.ts'

const answer = new Float64Array(PAIR_ANSWER_SIZE)

/** Every pair of runs of the job that are too near each other. */
export function allPairFaults(context: CheckContext): Finding[] {
  const halfMm = context.clearances.mm[DUCT_CODE] / 2
  const index = new CurveIndex(context.runs.map(({ placed }) => placed.centreline))
  const pairs = new IndexList()
  index.nearPairs(context.runs.map(({ placed }) => placed.outerRadiusMm + halfMm), pairs)
  const findings: Finding[] = []
  for (let i = 0; i < pairs.count; i += 2) findings.push(...pairFaults(context, pairs.items[i], pairs.items[i + 1]))
  return findings
}

/** One run against every other. */
export function runPairFaults(context: CheckContext, runIndex: number): Finding[] {
  return context.runs.flatMap((_, other) => other === runIndex ? [] : pairFaults(context, runIndex, other))
}

function pairFaults(context: CheckContext, one: number, two: number): Finding[] {
  const belowMm = context.runs[one].placed.outerRadiusMm + context.runs[two].placed.outerRadiusMm + context.clearances.mm[DUCT_CODE]
  if (!comeBelow(context, one, two, belowMm)) return []
  const isInOrder = byId(context.runs[one].placed.run.id, context.runs[two].placed.run.id) < 0
  const first = context.runs[isInOrder ? one : two].placed, second = context.runs[isInOrder ? two : one].placed
  const places: NearPlace[] = []
  placesBelow(0, first.centreline.lengthMm, belowMm, 2 * first.outerRadiusMm, -1,
    (fromMm, toMm, cutoffMm, out) => centrelineDistance(clipped(first.centreline, fromMm, toMm), second.centreline, cutoffMm, out), places)
  return places.map((place, i): Finding => {
    const measured = place.distanceMm - first.outerRadiusMm - second.outerRadiusMm
    const isCut = measured < -ANSWER_ERROR_MM
    const code = isCut ? 'clash' : 'tight'
    return {
      id: `${code}:${first.run.id}:${second.run.id}${i === 0 ? '' : `:${i + 1}`}`, code, severity: isCut ? 'stop' : 'mend',
      parts: [runRef(first), runRef(second)], at: place.onCurve, ...surfaceOf(place, second.outerRadiusMm),
      stationMm: place.stationMm, unit: 'mm', measured, required: context.clearances.mm[DUCT_CODE], why: context.clearances.why[DUCT_CODE],
    }
  })
}

/** From the other run's centreline to its surface, on the side of this run; where both centrelines meet there is no side. */
function surfaceOf({ onCurve, onOther, distanceMm }: NearPlace, radiusMm: number): Pick<Finding, 'onOther' | 'mark'> {
  const share = distanceMm > 0 ? radiusMm / distanceMm : 0
  const surface = {
    x: onOther.x + (onCurve.x - onOther.x) * share,
    y: onOther.y + (onCurve.y - onOther.y) * share,
    z: onOther.z + (onCurve.z - onOther.z) * share,
  }
  return { onOther: surface, mark: surface }
}

function comeBelow(context: CheckContext, one: number, two: number, belowMm: number): boolean {
  const a = context.runs[one], b = context.runs[two]
  if (!boundsMeet(a.boundsMm, 0, b.boundsMm, 0, belowMm)) return false
  const { elements, count } = a.placed.centreline, other = b.placed.centreline
  for (let i = 0; i < count; i++) {
    if (!boundsMeet(a.elementBoundsMm, 6 * i, b.boundsMm, 0, belowMm)) continue
    for (let j = 0; j < other.count; j++) {
      if (!boundsMeet(a.elementBoundsMm, 6 * i, b.elementBoundsMm, 6 * j, belowMm)) continue
      if (elementsDistance(elements, i * ELEMENT_STRIDE, other.elements, j * ELEMENT_STRIDE, belowMm, answer) < belowMm - ANSWER_ERROR_MM) return true
    }
  }
  return false
}
