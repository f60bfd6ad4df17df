import { ALONG, ALONG_OTHER, ON_CURVE_X, ON_SOLID_X } from './answer.ts'
import { legArc } from './legArc.ts'

/** Least distance between an arc and a straight leg: legArc with the two answers exchanged. */
export function arcLeg(
  a: Float64Array, e: number, b: Float64Array, o: number, cutoffMm: number, answer: Float64Array,
): number {
  const distance = legArc(b, o, a, e, cutoffMm, answer)
  if (distance <= cutoffMm) {
    for (let k = 0; k < 3; k++) exchange(answer, ON_CURVE_X + k, ON_SOLID_X + k)
    exchange(answer, ALONG, ALONG_OTHER)
  }
  return distance
}

function exchange(answer: Float64Array, i: number, j: number): void {
  const kept = answer[i]
  answer[i] = answer[j]
  answer[j] = kept
}
