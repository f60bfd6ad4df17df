/**
 * How much room one rigid run's legs and bends have, by the exact kernels and the same allowed contacts as the checks: its spigots within
 * their collar zones, the hosts of sleeves and holes where it is in them.
 */
import { stretchesOutside, type Contact } from '#checks/contacts.ts'
import type { CheckContext } from '#checks/context.ts'
import { DUCT_CODE } from '#checks/requirement.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { ANSWER_SIZE, PAIR_ANSWER_SIZE, elementDistance, elementsDistance } from '#geometry/clearance/index.ts'
import { centrelineOf } from '#geometry/curve/build.ts'
import { ELEMENT_STRIDE, LENGTH, STATION, type Centreline } from '#geometry/curve/centreline.ts'
import { clipped, curveBounds, elementBounds } from '#geometry/curve/measure.ts'
import { stretchInRound } from '#geometry/envelope/stretchInRound.ts'
import { voidHolds } from '#geometry/envelope/voidEnvelope.ts'
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'
import type { WayEnd } from './wayPlan.ts'

export interface StandingDuct { readonly curve: Centreline, readonly radiusMm: number }

interface Beside { readonly curve: Centreline, readonly neededMm: number, readonly boundsMm: Float64Array }

const answer = new Float64Array(ANSWER_SIZE), pairAnswer = new Float64Array(PAIR_ANSWER_SIZE)
const found = new IndexList(), bounds = new Float64Array(6)
/** Rounding, well within what the checks take for a touch, mm. */
const TOUCH_MM = ANSWER_ERROR_MM / 2

export class RigidRoom {
  readonly context: CheckContext
  readonly radiusMm: number
  readonly #ends: readonly [WayEnd, WayEnd]
  readonly #beside: readonly Beside[]

  /** @param ducts of other runs, which are not gone through */
  constructor(context: CheckContext, radiusMm: number, from: WayEnd, to: WayEnd, ducts: readonly StandingDuct[]) {
    this.context = context
    this.radiusMm = radiusMm
    this.#ends = [from, to]
    this.#beside = ducts.map(({ curve, radiusMm: other }) => ({ curve, neededMm: radiusMm + other + context.clearances.mm[DUCT_CODE], boundsMm: curveBounds(curve.elements, curve.count) }))
  }

  isClear(element: Float64Array, beforeMm: number, afterMm: number): boolean {
    return this.spareMm(element, beforeMm, afterMm, 0) >= 0
  }

  /**
   * What an element has over all that is required, at most `mostMm`; below 0, and no more than that is known, where something is missing.
   * @param element one element, with any station
   * @param beforeMm length of the run before it, and `afterMm` after it; Infinity where that is not known but more than an end's zone
   */
  spareMm(element: Float64Array, beforeMm: number, afterMm: number, mostMm: number): number {
    const { assembly: { solids, parts }, clearances, grid, isSound, envelope, rounds } = this.context
    const { radiusMm } = this
    elementBounds(element, 0, bounds)
    let leastMm = mostMm
    for (const { curve, neededMm, boundsMm } of this.#beside) {
      if (!isNear(boundsMm, 6 * curve.count, neededMm + leastMm)) continue
      for (let i = 0; i < curve.count; i++) {
        if (!isNear(boundsMm, 6 * i, neededMm + leastMm)) continue
        leastMm = Math.min(leastMm, elementsDistance(element, 0, curve.elements, i * ELEMENT_STRIDE, neededMm + leastMm, pairAnswer) - neededMm)
        if (leastMm < -TOUCH_MM) return leastMm
      }
    }
    const curve = centrelineOf(element), startMm = element[STATION], endMm = startMm + element[LENGTH]
    const [from, to] = this.#ends
    const atStart: Contact | null = beforeMm < from.zoneMm ? { fromMm: startMm, toMm: startMm + from.zoneMm - beforeMm, because: 'spigot' } : null
    const atEnd: Contact | null = afterMm < to.zoneMm ? { fromMm: endMm - to.zoneMm + afterMm, toMm: endMm, because: 'spigot' } : null
    const near = rounds.near(curve, bounds, radiusMm + clearances.mostMm)
    const contactsWith = (solid: number): Contact[] => [
      ...atStart !== null && from.exempt.has(solid) ? [atStart] : [], ...atEnd !== null && to.exempt.has(solid) ? [atEnd] : [],
      ...near.filter(({ hosts }) => hosts.includes(solid)).flatMap(({ at, axis, halfLengthMm, radiusMm: roundMm }) =>
        stretchInRound(curve, at, axis, halfLengthMm + radiusMm + clearances.mm[parts.classCodeOf(solid)], roundMm).map((part): Contact => ({ ...part, because: 'sleeve' }))),
    ]
    const count = grid.nearElement(element, 0, radiusMm + clearances.mostMm + leastMm, found)
    const list = found.items.slice(0, count)
    for (const solid of list) {
      if (isSound[solid] === 0) continue
      const neededMm = radiusMm + clearances.mm[parts.classCodeOf(solid)]
      const spare = elementDistance(element, 0, solids, solid, neededMm + leastMm, answer) - neededMm
      if (spare >= leastMm) continue
      const contacts = contactsWith(solid)
      if (contacts.length === 0) leastMm = spare
      else for (const [a, b] of stretchesOutside(contacts, startMm, endMm)) {
        if (b - a <= TOUCH_MM) continue
        leastMm = Math.min(leastMm, elementDistance(clipped(curve, a, b).elements, 0, solids, solid, neededMm + leastMm, answer) - neededMm)
      }
      if (leastMm < -TOUCH_MM) return leastMm
    }
    if (envelope === null) return Math.max(0, leastMm)
    const sheets = envelope.grid.nearElement(element, 0, radiusMm + leastMm, found)
    const mayLeave = sheets === 0 ? [] : [
      ...atStart === null ? [] : [atStart], ...atEnd === null ? [] : [atEnd],
      ...near.filter(({ of }) => 'sleeve' in of).flatMap(({ at, axis, halfLengthMm, radiusMm: roundMm }) => stretchInRound(curve, at, axis, halfLengthMm + radiusMm, roundMm).map((part): Contact => ({ ...part, because: 'sleeve' }))),
    ]
    for (const sheet of found.items.slice(0, sheets)) {
      if (mayLeave.length === 0) leastMm = Math.min(leastMm, elementDistance(element, 0, envelope.sheets, sheet, radiusMm + leastMm, answer) - radiusMm)
      else for (const [a, b] of stretchesOutside(mayLeave, startMm, endMm)) {
        if (b - a <= TOUCH_MM) continue
        leastMm = Math.min(leastMm, elementDistance(clipped(curve, a, b).elements, 0, envelope.sheets, sheet, radiusMm + leastMm, answer) - radiusMm)
      }
      if (leastMm < -TOUCH_MM) return leastMm
    }
    return Math.max(0, leastMm)
  }

  /** Whether a place lies in the ceiling void, where the job has one. */
  isInVoid(x: number, y: number, z: number): boolean {
    const { envelope } = this.context
    return envelope === null || voidHolds(envelope, x, y, z)
  }
}

function isNear(b: Float64Array, at: number, growMm: number): boolean {
  for (let k = 0; k < 3; k++) if (b[at + k] - growMm > bounds[3 + k] || b[at + 3 + k] + growMm < bounds[k]) return false
  return true
}
