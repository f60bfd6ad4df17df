import { ELEMENT_STRIDE } from '../curve/centreline.ts'
import type { Centreline } from '../curve/centreline.ts'
import { elementBounds } from '../curve/measure.ts'
import { BoxIndex } from './boxIndex.ts'
import { IndexList } from './indexList.ts'

const bounds = new Float64Array(6), other = new Float64Array(6)

/**
 * Finds the elements of many runs near a place, and which runs come near each other at all.
 * Entries are single legs and bends: `curveOf[entry]` says whose, `elementOf[entry]` its offset in that run's elements.
 */
export class CurveIndex {
  readonly index: BoxIndex
  readonly curveOf: Uint32Array
  readonly elementOf: Uint32Array
  readonly #curves: readonly Centreline[]

  constructor(curves: readonly Centreline[]) {
    const count = curves.reduce((sum, curve) => sum + curve.count, 0)
    this.#curves = curves
    this.curveOf = new Uint32Array(count)
    this.elementOf = new Uint32Array(count)
    const boxes = new Float64Array(6 * count)
    let entry = 0
    for (const [curveIndex, curve] of curves.entries()) {
      for (let i = 0; i < curve.count; i++, entry++) {
        this.curveOf[entry] = curveIndex
        this.elementOf[entry] = i * ELEMENT_STRIDE
        elementBounds(curve.elements, i * ELEMENT_STRIDE, bounds)
        boxes.set(bounds, 6 * entry)
      }
    }
    this.index = new BoxIndex(boxes)
  }

  /** Put into `out` every entry whose bounds may come within `reachMm` of one element, each once; returns how many. */
  nearElement(elements: Float64Array, e: number, reachMm: number, out: IndexList): number {
    return this.index.nearElement(elements, e, reachMm, out)
  }

  /**
   * Put into `out` every pair of different runs (two entries: lower index, higher index) that may come within reach:
   * the sum of both runs' own reaches, such as outer radius plus half of what is required. Each pair once, in order.
   */
  nearPairs(reachesMm: ArrayLike<number>, out: IndexList): number {
    const found = new IndexList()
    let widest = 0
    for (let i = 0; i < this.#curves.length; i++) widest = Math.max(widest, reachesMm[i])
    const met = new Uint32Array(this.#curves.length)
    const partners: number[] = []
    out.clear()
    for (const [curveIndex, curve] of this.#curves.entries()) {
      partners.length = 0
      for (let i = 0; i < curve.count; i++) {
        const e = i * ELEMENT_STRIDE
        const count = this.nearElement(curve.elements, e, reachesMm[curveIndex] + widest, found)
        elementBounds(curve.elements, e, bounds)
        for (let j = 0; j < count; j++) {
          const partner = this.curveOf[found.items[j]]
          if (partner <= curveIndex || met[partner] === curveIndex + 1) continue
          if (!this.#meets(found.items[j], reachesMm[curveIndex] + reachesMm[partner])) continue
          met[partner] = curveIndex + 1
          partners.push(partner)
        }
      }
      partners.sort((a, b) => a - b)
      for (const partner of partners) {
        out.push(curveIndex)
        out.push(partner)
      }
    }
    return out.count / 2
  }

  /** Whether an entry's bounds come within reach of the bounds last asked about. */
  #meets(entry: number, reachMm: number): boolean {
    elementBounds(this.#curves[this.curveOf[entry]].elements, this.elementOf[entry], other)
    for (let k = 0; k < 3; k++) {
      if (other[k] > bounds[3 + k] + reachMm || other[3 + k] < bounds[k] - reachMm) return false
    }
    return true
  }
}
