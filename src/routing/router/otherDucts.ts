/** The other runs as a search meets them: how much it costs to come too near to them. */
import { PAIR_ANSWER_SIZE, elementsDistance } from '#geometry/clearance/index.ts'
import { ELEMENT_STRIDE, type Centreline } from '#geometry/curve/centreline.ts'
import { elementBounds } from '#geometry/curve/measure.ts'

const answer = new Float64Array(PAIR_ANSWER_SIZE)
const bounds = new Float64Array(6)

interface Other { readonly curve: Centreline, readonly radiusMm: number, readonly boundsMm: Float64Array, readonly wholeMm: Float64Array, readonly weight: number }

export class OtherDucts {
  readonly #others: Other[] = []
  readonly #gapMm: number

  /** @param gapMm clearance asked between two ducts */
  constructor(gapMm: number) {
    this.#gapMm = gapMm
  }

  /** @param weight how much dearer it is to come too near to this one than to another */
  add(curve: Centreline, radiusMm: number, weight = 1): void {
    const boundsMm = new Float64Array(6 * curve.count), wholeMm = Float64Array.of(Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity)
    for (let i = 0; i < curve.count; i++) {
      const own = boundsMm.subarray(6 * i, 6 * i + 6)
      elementBounds(curve.elements, i * ELEMENT_STRIDE, own)
      for (let k = 0; k < 3; k++) {
        wholeMm[k] = Math.min(wholeMm[k], own[k])
        wholeMm[3 + k] = Math.max(wholeMm[3 + k], own[3 + k])
      }
    }
    this.#others.push({ curve, radiusMm, boundsMm, wholeMm, weight })
  }

  /**
   * What an element of a duct costs beside the others: for each that it comes too near to, a share of the price that grows with how
   * much is missing, from a tenth for a hair, which a little moving may mend, to more than all of it for one right through another.
   */
  costOf(elements: Float64Array, e: number, radiusMm: number, priceMm: number): number {
    elementBounds(elements, e, bounds)
    let cost = 0
    for (const { curve, radiusMm: otherMm, boundsMm, wholeMm, weight } of this.#others) {
      const neededMm = radiusMm + otherMm + this.#gapMm
      if (!isNear(wholeMm, 0, neededMm)) continue
      let leastMm = neededMm
      for (let i = 0; i < curve.count; i++) {
        if (!isNear(boundsMm, 6 * i, leastMm)) continue
        const mm = elementsDistance(elements, e, curve.elements, i * ELEMENT_STRIDE, leastMm, answer)
        if (mm < leastMm) leastMm = mm
      }
      if (leastMm < neededMm) cost += priceMm * weight * (0.1 + 1.2 * (neededMm - leastMm) / neededMm)
    }
    return cost
  }
}

function isNear(b: Float64Array, at: number, growMm: number): boolean {
  return b[at] - growMm <= bounds[3] && b[at + 3] + growMm >= bounds[0] && b[at + 1] - growMm <= bounds[4] && b[at + 4] + growMm >= bounds[1]
    && b[at + 2] - growMm <= bounds[5] && b[at + 5] + growMm >= bounds[2]
}
