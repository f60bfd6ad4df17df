/**
 * A run that comes back to itself. Two of its elements are compared where at least half a turn of the tightest bend it could make
 * (pi times its outer radius) lies between them: along a curve that bends no tighter than its own radius, points nearer along it
 * than that are never nearer across than its diameter (A. Schur's comparison theorem for curves of bounded curvature).
 */
import { ELEMENT_STRIDE, LENGTH, STATION } from '#geometry/curve/centreline.ts'
import { ALONG, ON_CURVE_X, ON_SOLID_X, PAIR_ANSWER_SIZE, elementsDistance } from '#geometry/clearance/index.ts'
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'
import { boundsMeet, type CheckContext } from './context.ts'
import type { Finding } from './finding.ts'
import { placeOf, runRef } from './refs.ts'

const answer = new Float64Array(PAIR_ANSWER_SIZE)

/** The worst place where the run cuts into itself, if it does. */
export function selfClashFaults(context: CheckContext, runIndex: number): Finding[] {
  const { placed, elementBoundsMm } = context.runs[runIndex]
  const { centreline: { elements, count }, outerRadiusMm, run } = placed
  let leastMm = 2 * outerRadiusMm - ANSWER_ERROR_MM
  let worst: Finding | null = null
  for (let j = 2; j < count; j++) {
    for (let i = 0; i < j - 1; i++) {
      if (!lieApart(elements, i, j, outerRadiusMm) || !boundsMeet(elementBoundsMm, 6 * i, elementBoundsMm, 6 * j, leastMm)) continue
      const distanceMm = elementsDistance(elements, j * ELEMENT_STRIDE, elements, i * ELEMENT_STRIDE, leastMm, answer)
      if (!(distanceMm < leastMm)) continue
      leastMm = distanceMm
      const at = placeOf(answer.subarray(ON_CURVE_X, ON_CURVE_X + 3)), other = placeOf(answer.subarray(ON_SOLID_X, ON_SOLID_X + 3))
      worst = {
        id: `clash:${run.id}:${run.id}`, code: 'clash', severity: 'stop', parts: [runRef(placed), { id: run.id, part: 'itself', name: 'itself' }],
        at, onOther: other, mark: at, stationMm: elements[j * ELEMENT_STRIDE + STATION] + answer[ALONG],
        unit: 'mm', measured: distanceMm - 2 * outerRadiusMm, required: 0, why: 'a duct cannot pass through itself',
      }
    }
  }
  return worst === null ? [] : [worst]
}

/** Whether so much of the run lies between two of its elements that they may not be nearer than its diameter. */
export function lieApart(elements: Float64Array, i: number, j: number, outerRadiusMm: number): boolean {
  const end = elements[i * ELEMENT_STRIDE + STATION] + elements[i * ELEMENT_STRIDE + LENGTH]
  return elements[j * ELEMENT_STRIDE + STATION] - end >= Math.PI * outerRadiusMm - ANSWER_ERROR_MM
}
