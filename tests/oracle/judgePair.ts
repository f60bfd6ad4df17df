/**
 * Judges one kernel answer against the references: the value against a bracket of the truth, and the point pair against
 * the element and the solid. Errors in mm, relative to nothing: the caller says what is allowed.
 */
import { ALONG, ANSWER_SIZE, DISTANCE, ON_CURVE_X, ON_SOLID_X, type PairKernel } from '#geometry/clearance/answer.ts'
import { LENGTH } from '#geometry/curve/centreline.ts'
import type { SolidKind } from '#geometry/solid/solidSet.ts'
import { bracketLeast, elementPoint, signedDistance } from './solidDistance.ts'

export interface Judged {
  readonly distance: number
  /** the kernel's value above what the reference attained; > 0 means a lower point was missed */
  readonly missed: number
  /** below what the reference can exclude; > 0 means the kernel claims a point lower than any there is */
  readonly invented: number
  /** the largest disagreement among returned distance, ANSWER, point pair, ALONG and the reference at ON_CURVE and ON_SOLID */
  readonly unlike: number
  /** width of the reference's bracket */
  readonly bracket: number
}

export const judgePair = (
  kernel: PairKernel, el: Float64Array, kind: SolidKind, data: Float64Array, toleranceMm: number, mostSamples = 600,
): Judged => {
  const answer = new Float64Array(ANSWER_SIZE).fill(NaN)
  const distance = kernel(el, 0, data, 0, Infinity, answer)
  const reference = signedDistance(kind, data)
  const truth = bracketLeast(el, 0, reference, toleranceMm, mostSamples)
  const onCurve = [0, 1, 2].map((i) => answer[ON_CURVE_X + i]) as [number, number, number]
  const onSolid = [0, 1, 2].map((i) => answer[ON_SOLID_X + i]) as [number, number, number]
  const there = elementPoint(el, 0, el[LENGTH] > 0 ? answer[ALONG] / el[LENGTH] : 0)
  const apart = (a: readonly number[], b: readonly number[]) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2])
  const unlike = Math.max(
    Math.abs(answer[DISTANCE] - distance),
    Math.abs(apart(onCurve, onSolid) - Math.abs(distance)),
    apart(onCurve, there),
    Math.abs(reference(onCurve) - distance),
    Math.abs(reference(onSolid)),
    answer[ALONG] - el[LENGTH],
    -answer[ALONG],
  )
  return { distance, missed: distance - truth.high, invented: truth.low - distance, unlike, bracket: truth.high - truth.low }
}
