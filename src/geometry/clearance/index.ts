/**
 * The one door to clearances. A clearance is the least signed distance from a run's centreline to a solid, less the
 * run's outer radius: negative where they overlap, by the depth of the overlap.
 */
import { ARC, ELEMENT_STRIDE, KIND, STATION } from '../curve/centreline.ts'
import type { Centreline } from '../curve/centreline.ts'
import { BOX, CYLINDER, PRISM, TUBE } from '../solid/solidSet.ts'
import type { SolidSet } from '../solid/solidSet.ts'
import { ALONG, ALONG_OTHER, ANSWER_SIZE, PAIR_ANSWER_SIZE } from './answer.ts'
import type { CurveKernel, PairKernel } from './answer.ts'
import { arcArc } from './arcArc.ts'
import { arcBox } from './arcBox.ts'
import { arcCylinder } from './arcCylinder.ts'
import { arcLeg } from './arcLeg.ts'
import { arcPrism } from './arcPrism.ts'
import { arcTube } from './arcTube.ts'
import { legArc } from './legArc.ts'
import { legBox } from './legBox.ts'
import { legCylinder } from './legCylinder.ts'
import { legLeg } from './legLeg.ts'
import { legPrism } from './legPrism.ts'
import { legTube } from './legTube.ts'

export { ALONG, ALONG_OTHER, ANSWER_SIZE, DISTANCE, ON_CURVE_X, ON_SOLID_X, PAIR_ANSWER_SIZE } from './answer.ts'

type ElementName = 'leg' | 'arc'
type SolidName = 'box' | 'prism' | 'cylinder' | 'tube'

/** Every pair there is: a new kind of solid does not compile until each of its pairs is here. */
export const PAIR_KERNELS: Record<`${ElementName}-${SolidName}`, PairKernel> = {
  'leg-box': legBox, 'leg-prism': legPrism, 'leg-cylinder': legCylinder, 'leg-tube': legTube,
  'arc-box': arcBox, 'arc-prism': arcPrism, 'arc-cylinder': arcCylinder, 'arc-tube': arcTube,
}

/** Least signed distance of one element to one solid: PairKernel by the solid's index. */
export function elementDistance(
  elements: Float64Array, e: number, set: SolidSet, solidIndex: number, cutoffMm: number, answer: Float64Array,
): number {
  const { data } = set, s = set.offset[solidIndex], isArc = elements[e + KIND] === ARC
  switch (set.kind[solidIndex]) {
    case BOX: return isArc ? arcBox(elements, e, data, s, cutoffMm, answer) : legBox(elements, e, data, s, cutoffMm, answer)
    case PRISM: return isArc ? arcPrism(elements, e, data, s, cutoffMm, answer) : legPrism(elements, e, data, s, cutoffMm, answer)
    case CYLINDER: return isArc ? arcCylinder(elements, e, data, s, cutoffMm, answer) : legCylinder(elements, e, data, s, cutoffMm, answer)
    case TUBE: return isArc ? arcTube(elements, e, data, s, cutoffMm, answer) : legTube(elements, e, data, s, cutoffMm, answer)
    default: throw new Error(`elementDistance: solid ${solidIndex} is of no known kind: ${set.kind[solidIndex]}`)
  }
}

const elementAnswer = new Float64Array(ANSWER_SIZE)

/**
 * Least signed distance of a whole centreline to one solid, mm; no radius taken off.
 * @param cutoffMm when the distance is above this any number above it may be returned, and `answer` is left alone
 * @param answer ANSWER_SIZE numbers, laid out as in answer.ts, but ALONG is the station: mm along the whole run
 */
export function curveDistance(
  curve: Centreline, set: SolidSet, solidIndex: number, cutoffMm: number, answer: Float64Array,
): number {
  const { elements, count } = curve
  let least = Infinity
  for (let i = 0, e = 0; i < count; i++, e += ELEMENT_STRIDE) {
    const distance = elementDistance(elements, e, set, solidIndex, Math.min(least, cutoffMm), elementAnswer)
    if (!(distance < least)) continue
    least = distance
    if (distance > cutoffMm) continue
    for (let k = 0; k < ANSWER_SIZE; k++) answer[k] = elementAnswer[k]
    answer[ALONG] += elements[e + STATION]
  }
  return least
}

/** Clearance of a run to a solid, mm: curveDistance less the run's outer radius; cutoff as a clearance. DISTANCE in `answer` stays the centreline's. */
export function curveClearance(
  curve: Centreline, outerRadiusMm: number, set: SolidSet, solidIndex: number, cutoffMm: number, answer: Float64Array,
): number {
  return curveDistance(curve, set, solidIndex, cutoffMm + outerRadiusMm, answer) - outerRadiusMm
}

const pairAnswer = new Float64Array(PAIR_ANSWER_SIZE)

/** Least distance between two elements of two centrelines, mm, never negative. */
export function elementsDistance(
  a: Float64Array, e: number, b: Float64Array, o: number, cutoffMm: number, answer: Float64Array,
): number {
  return curveKernel(a[e + KIND] === ARC, b[o + KIND] === ARC)(a, e, b, o, cutoffMm, answer)
}

/**
 * Least distance between two centrelines, mm, never negative; no radius taken off.
 * @param answer PAIR_ANSWER_SIZE numbers, filled when the distance is <= cutoffMm: ON_CURVE_X and ALONG (a station) on
 * the first centreline, ON_SOLID_X and ALONG_OTHER (a station) on the second
 */
export function centrelineDistance(a: Centreline, b: Centreline, cutoffMm: number, answer: Float64Array): number {
  let least = Infinity
  for (let i = 0, e = 0; i < a.count; i++, e += ELEMENT_STRIDE) {
    for (let j = 0, o = 0; j < b.count; j++, o += ELEMENT_STRIDE) {
      const distance = elementsDistance(a.elements, e, b.elements, o, Math.min(least, cutoffMm), pairAnswer)
      if (!(distance < least)) continue
      least = distance
      if (distance > cutoffMm) continue
      for (let k = 0; k < PAIR_ANSWER_SIZE; k++) answer[k] = pairAnswer[k]
      answer[ALONG] += a.elements[e + STATION]
      answer[ALONG_OTHER] += b.elements[o + STATION]
    }
  }
  return least
}

function curveKernel(isArc: boolean, otherIsArc: boolean): CurveKernel {
  if (isArc) return otherIsArc ? arcArc : arcLeg
  return otherIsArc ? legArc : legLeg
}
