import { elementBounds } from '../curve/measure.ts'
import { ELEMENT_STRIDE } from '../curve/centreline.ts'
import type { Centreline } from '../curve/centreline.ts'
import { ringOriented, ringWithoutRepeats } from './ring.ts'
import { BOX, CYLINDER, PRISM, TUBE } from './solidSet.ts'
import type { SolidKind, SolidSet } from './solidSet.ts'

type Numbers = ArrayLike<number>

/**
 * Collects solids into one packed set (layout: solidSet.ts). Each `add` returns the solid's index. Lengths in mm;
 * axes are nine numbers as axesOfRotation gives them: unit, square to each other, right-handed.
 * Nothing is refused here: ask whyDegenerate.
 */
export class SolidSetBuilder {
  #count = 0
  #used = 0
  #kind = new Uint8Array(64)
  #offset = new Uint32Array(65)
  #data = new Float64Array(1024)
  #bounds = new Float64Array(64 * 6)

  get count(): number {
    return this.#count
  }

  /** @param half3 half sizes along the three axes */
  addBox(centre3: Numbers, half3: Numbers, axes9: Numbers): number {
    const solidIndex = this.#start(BOX, 15)
    const data = this.#data, bounds = this.#bounds, b = solidIndex * 6
    let s = this.#used
    for (let k = 0; k < 3; k++) data[s++] = centre3[k]
    for (let k = 0; k < 3; k++) data[s++] = half3[k]
    for (let k = 0; k < 9; k++) data[s++] = axes9[k]
    for (let k = 0; k < 3; k++) {
      const reach = half3[0] * Math.abs(axes9[k]) + half3[1] * Math.abs(axes9[3 + k]) + half3[2] * Math.abs(axes9[6 + k])
      bounds[b + k] = centre3[k] - reach
      bounds[b + 3 + k] = centre3[k] + reach
    }
    return this.#finish(s)
  }

  /**
   * A polygon drawn in (u, v) through the origin, pulled from `bottom` to `top` along w.
   * @param ringsXy the outline, then any holes: u0, v0, u1, v1, ...; either way round, closed or not
   */
  addPrism(origin3: Numbers, axes9: Numbers, bottom: number, top: number, ringsXy: readonly Numbers[]): number {
    const rings = ringsXy.map((ring, i) => ringOriented(ringWithoutRepeats(ring), i === 0))
    const solidIndex = this.#start(PRISM, 15 + rings.reduce((sum, ring) => sum + 1 + ring.length, 0))
    const data = this.#data
    let s = this.#used
    for (let k = 0; k < 3; k++) data[s++] = origin3[k]
    for (let k = 0; k < 9; k++) data[s++] = axes9[k]
    data[s++] = bottom
    data[s++] = top
    data[s++] = rings.length
    for (const ring of rings) {
      data[s++] = ring.length / 2
      for (const coordinate of ring) data[s++] = coordinate
    }
    this.#boundPrism(solidIndex, origin3, axes9, bottom, top, rings[0] ?? [])
    return this.#finish(s)
  }

  /** A rod with flat ends. */
  addCylinder(centre3: Numbers, axis3: Numbers, radius: number, halfLength: number): number {
    const solidIndex = this.#start(CYLINDER, 8)
    const data = this.#data, bounds = this.#bounds, b = solidIndex * 6
    let s = this.#used
    for (let k = 0; k < 3; k++) data[s++] = centre3[k]
    for (let k = 0; k < 3; k++) data[s++] = axis3[k]
    data[s++] = radius
    data[s++] = halfLength
    for (let k = 0; k < 3; k++) {
      // the rim's reach is radius * sin of the angle between axis and coordinate: the other two parts of the axis
      const reach = Math.abs(axis3[k]) * halfLength + radius * Math.hypot(axis3[(k + 1) % 3], axis3[(k + 2) % 3])
      bounds[b + k] = centre3[k] - reach
      bounds[b + 3 + k] = centre3[k] + reach
    }
    return this.#finish(s)
  }

  /** Every point within `radius` of a centreline: a run with its round ends. */
  addTube(centreline: Centreline, radius: number): number {
    const { count, elements } = centreline
    const solidIndex = this.#start(TUBE, 2 + count * ELEMENT_STRIDE)
    const data = this.#data, bounds = this.#bounds, b = solidIndex * 6
    const s = this.#used
    data[s] = radius
    data[s + 1] = count
    data.set(elements.subarray(0, count * ELEMENT_STRIDE), s + 2)
    for (let k = 0; k < 3; k++) {
      bounds[b + k] = Infinity
      bounds[b + 3 + k] = -Infinity
    }
    for (let i = 0; i < count; i++) {
      elementBounds(elements, i * ELEMENT_STRIDE, scratch)
      for (let k = 0; k < 3; k++) {
        bounds[b + k] = Math.min(bounds[b + k], scratch[k] - radius)
        bounds[b + 3 + k] = Math.max(bounds[b + 3 + k], scratch[3 + k] + radius)
      }
    }
    return this.#finish(s + 2 + count * ELEMENT_STRIDE)
  }

  /** The set as it stands; its arrays are its own, so it can be handed to a worker. More solids may be added afterwards. */
  build(): SolidSet {
    return {
      count: this.#count,
      kind: this.#kind.slice(0, this.#count),
      offset: this.#offset.slice(0, this.#count + 1),
      data: this.#data.slice(0, this.#used),
      bounds: this.#bounds.slice(0, this.#count * 6),
    }
  }

  #start(kind: SolidKind, size: number): number {
    const solidIndex = this.#count
    if (solidIndex === this.#kind.length) {
      this.#kind = copiedInto(new Uint8Array(2 * solidIndex), this.#kind)
      this.#offset = copiedInto(new Uint32Array(2 * solidIndex + 1), this.#offset)
      this.#bounds = copiedInto(new Float64Array(12 * solidIndex), this.#bounds)
    }
    if (this.#used + size > this.#data.length) {
      this.#data = copiedInto(new Float64Array(Math.max(2 * this.#data.length, this.#used + size)), this.#data)
    }
    this.#kind[solidIndex] = kind
    return solidIndex
  }

  #finish(used: number): number {
    this.#used = used
    this.#offset[++this.#count] = used
    return this.#count - 1
  }

  #boundPrism(solidIndex: number, origin: Numbers, axes: Numbers, bottom: number, top: number, outline: Numbers): void {
    const bounds = this.#bounds, b = solidIndex * 6
    for (let k = 0; k < 3; k++) {
      let low = Infinity, high = -Infinity
      for (let i = 0; i < outline.length; i += 2) {
        const across = outline[i] * axes[k] + outline[i + 1] * axes[3 + k]
        low = Math.min(low, across)
        high = Math.max(high, across)
      }
      const a = bottom * axes[6 + k], c = top * axes[6 + k]
      bounds[b + k] = origin[k] + low + Math.min(a, c)
      bounds[b + 3 + k] = origin[k] + high + Math.max(a, c)
    }
  }
}

const scratch = new Float64Array(6)

function copiedInto<T extends Uint8Array | Uint32Array | Float64Array>(larger: T, from: T): T {
  larger.set(from)
  return larger
}
