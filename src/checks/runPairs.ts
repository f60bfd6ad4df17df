/** Runs against runs, each pair once, told from the run whose id comes first. */
import { CurveIndex } from '#geometry/broad/curves.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { ALONG, PAIR_ANSWER_SIZE, elementsDistance } from '#geometry/clearance/index.ts'
import { ARC, ELEMENT_STRIDE, KIND, LENGTH, STATION } from '#geometry/curve/centreline.ts'
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'
import { boundsMeet, type CheckContext, type CheckedRun } from './context.ts'
import type { Finding } from './finding.ts'
import { placeFrom, placesBelow, type NearPlace } from './places.ts'
import { byId, runRef } from './refs.ts'
import { DUCT_CODE } from './requirement.ts'
import { stretchToCurve } from './stretch.ts'

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
  const { runs, clearances } = context, { placed, boundsMm } = runs[runIndex]
  const findings: Finding[] = []
  for (let other = 0; other < runs.length; other++) {
    // of the hundreds of runs of a large job few come near; the others must not even make garbage
    const belowMm = placed.outerRadiusMm + runs[other].placed.outerRadiusMm + clearances.mm[DUCT_CODE]
    if (other === runIndex || !boundsMeet(boundsMm, 0, runs[other].boundsMm, 0, belowMm)) continue
    findings.push(...pairFaults(context, runIndex, other))
  }
  return findings
}

function pairFaults(context: CheckContext, one: number, two: number): Finding[] {
  const isInOrder = byId(context.runs[one].placed.run.id, context.runs[two].placed.run.id) < 0
  const nearer = context.runs[isInOrder ? one : two], other = context.runs[isInOrder ? two : one]
  const first = nearer.placed, second = other.placed
  const belowMm = first.outerRadiusMm + second.outerRadiusMm + context.clearances.mm[DUCT_CODE]
  const near = firstLook(nearer, other, belowMm)
  if (near === null) return []
  const places: NearPlace[] = []
  if (near.place !== null) places.push(near.place)
  else placesBelow(near.fromMm, near.toMm, belowMm, 2 * first.outerRadiusMm, -1,
    (fromMm, toMm, cutoffMm, out) => stretchToCurve(first.centreline, fromMm, toMm, second.centreline, cutoffMm, out), places)
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

/** What the first look finds: from the start of the first element of run a that is too near to b to the end of the last, and the one place where that is plain. */
interface Near { readonly fromMm: number, readonly toMm: number, readonly place: NearPlace | null }

function firstLook(a: CheckedRun, b: CheckedRun, belowMm: number): Near | null {
  if (!boundsMeet(a.boundsMm, 0, b.boundsMm, 0, belowMm)) return null
  const { elements, count } = a.placed.centreline, other = b.placed.centreline
  let fromMm = -1, toMm = 0, place: NearPlace | null = null
  for (let i = 0, e = 0; i < count; i++, e += ELEMENT_STRIDE) {
    if (!boundsMeet(a.elementBoundsMm, 6 * i, b.boundsMm, 0, belowMm)) continue
    for (let j = 0, o = 0; j < other.count; j++, o += ELEMENT_STRIDE) {
      if (!boundsMeet(a.elementBoundsMm, 6 * i, b.elementBoundsMm, 6 * j, belowMm)) continue
      if (!(elementsDistance(elements, e, other.elements, o, belowMm, answer) < belowMm - ANSWER_ERROR_MM)) continue
      // along one leg the distance to another falls, then rises: one place
      const isPlain = fromMm < 0 && elements[e + KIND] !== ARC && other.elements[o + KIND] !== ARC
      if (isPlain) answer[ALONG] += elements[e + STATION]
      place = isPlain ? placeFrom(answer, -1) : null
      if (fromMm < 0) fromMm = elements[e + STATION]
      toMm = elements[e + STATION] + elements[e + LENGTH]
    }
  }
  return fromMm < 0 ? null : { fromMm, toMm, place }
}
