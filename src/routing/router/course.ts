/** A run being laid: its corners, and what a small move of each does to its legs, bends and length. Millimetres; corners as x, y, z in a row. */
import { writeLeg } from '#geometry/curve/build.ts'
import { ELEMENT_STRIDE } from '#geometry/curve/centreline.ts'
import type { Vec } from '../threadVector.ts'
import { writeBend } from './ductRoom.ts'
import type { WayEnd } from './wayPlan.ts'

export interface CourseEnds { readonly from: WayEnd, readonly to: WayEnd, readonly radiusMm: number, readonly bendRadiusMm: number }

/**
 * The first corner moves along the axis of its spigot, the last along that of the other, those between wherever they like. The
 * moves are numbered: `variableOf[corner]` is the first of them, `freedom[corner]` how many there are (0, 1 or 3).
 */
export class Course {
  readonly ends: CourseEnds
  readonly count: number
  xyz: Float64Array
  readonly freedom: Int8Array
  readonly variableOf: Int32Array
  readonly variableCount: number
  /** legs and bends in turn: leg 0, bend at corner 1, leg 1 ... 2 * count - 3 of them; bends that turn nothing have no length */
  readonly elements: Float64Array
  readonly elementCount: number
  readonly tangents: Float64Array
  /** corner to corner: length, and unit direction as x, y, z */
  readonly legMm: Float64Array
  readonly legWay: Float64Array
  /** at each corner the cosine of the turn, the tangent of half of it, and how the cosine changes as the corner before and the one after move */
  readonly turnCos: Float64Array
  readonly halfTan: Float64Array
  readonly cosBefore: Float64Array
  readonly cosAfter: Float64Array

  constructor(ends: CourseEnds, points: readonly Vec[]) {
    this.ends = ends
    this.count = points.length
    this.xyz = Float64Array.from(points.flat())
    const n = this.count
    this.freedom = new Int8Array(n)
    this.variableOf = new Int32Array(n)
    let variables = 0
    for (let i = 1; i < n - 1; i++) {
      // one corner on both axes at once cannot move
      this.freedom[i] = n === 3 ? 0 : i === 1 || i === n - 2 ? 1 : 3
      this.variableOf[i] = variables
      variables += this.freedom[i]
    }
    this.variableCount = variables
    this.elementCount = Math.max(1, 2 * n - 3)
    this.elements = new Float64Array(this.elementCount * ELEMENT_STRIDE)
    this.tangents = new Float64Array(n)
    this.legMm = new Float64Array(n - 1)
    this.legWay = new Float64Array(3 * (n - 1))
    this.turnCos = new Float64Array(n)
    this.halfTan = new Float64Array(n)
    this.cosBefore = new Float64Array(3 * n)
    this.cosAfter = new Float64Array(3 * n)
    this.shape()
  }

  copy(): Course {
    return new Course(this.ends, this.points)
  }

  get points(): Vec[] {
    return Array.from({ length: this.count }, (_, i): Vec => [this.xyz[3 * i], this.xyz[3 * i + 1], this.xyz[3 * i + 2]])
  }

  /** The way that a corner with one freedom moves. */
  axisAt(corner: number): Vec {
    return corner === 1 ? this.ends.from.axis : this.ends.to.axis
  }

  /** Works out legs, bends and slopes from the corners; a leg too short for its bends runs backwards. */
  shape(): void {
    const { xyz, count, legMm, legWay } = this
    for (let i = 0, a = 0; i + 1 < count; i++, a += 3) {
      const dx = xyz[a + 3] - xyz[a], dy = xyz[a + 4] - xyz[a + 1], dz = xyz[a + 5] - xyz[a + 2], size = Math.sqrt(dx * dx + dy * dy + dz * dz)
      legMm[i] = size
      legWay[a] = dx / (size || 1)
      legWay[a + 1] = dy / (size || 1)
      legWay[a + 2] = dz / (size || 1)
    }
    for (let i = 1; i < count - 1; i++) this.#turn(i)
    this.#writeElements()
  }

  #turn(i: number): void {
    const { legMm, legWay, turnCos, halfTan, tangents, cosBefore, cosAfter, ends: { bendRadiusMm } } = this
    const u = 3 * i - 3, w = 3 * i
    const cos = legWay[u] * legWay[w] + legWay[u + 1] * legWay[w + 1] + legWay[u + 2] * legWay[w + 2]
    let less = 0, more = 0
    for (let k = 0; k < 3; k++) {
      less += (legWay[w + k] - legWay[u + k]) ** 2
      more += (legWay[w + k] + legWay[u + k]) ** 2
      cosBefore[w + k] = -(legWay[w + k] - cos * legWay[u + k]) / (legMm[i - 1] || 1)
      cosAfter[w + k] = (legWay[u + k] - cos * legWay[w + k]) / (legMm[i] || 1)
    }
    turnCos[i] = cos
    halfTan[i] = Math.sqrt(less) / Math.max(Math.sqrt(more), LEAST_SUM)
    tangents[i] = bendRadiusMm * halfTan[i]
  }

  #writeElements(): void {
    const { xyz, count, elements, tangents, legMm, legWay, ends: { bendRadiusMm } } = this
    let stationMm = 0
    for (let i = 0; i + 1 < count; i++) {
      const a = 3 * i, wx = legWay[a], wy = legWay[a + 1], wz = legWay[a + 2], from = tangents[i], to = legMm[i] - tangents[i + 1]
      writeLeg(elements, 2 * i * ELEMENT_STRIDE, xyz[a] + from * wx, xyz[a + 1] + from * wy, xyz[a + 2] + from * wz, xyz[a] + to * wx, xyz[a + 1] + to * wy, xyz[a + 2] + to * wz, stationMm)
      stationMm += Math.max(0, to - from)
      if (i + 2 >= count) break
      const e = (2 * i + 1) * ELEMENT_STRIDE, x = xyz[a + 3], y = xyz[a + 4], z = xyz[a + 5]
      if (!writeBend(elements, e, x, y, z, wx, wy, wz, legWay[a + 3], legWay[a + 4], legWay[a + 5], bendRadiusMm, tangents[i + 1])) writeLeg(elements, e, x, y, z, x, y, z, stationMm)
    }
  }

  /** As it was when it was last shaped. */
  lengthMm(): number {
    const { legMm, halfTan, ends: { bendRadiusMm } } = this
    let sum = 0
    for (let i = 0; i + 1 < this.count; i++) sum += legMm[i]
    // a bend's arc is shorter than the two tangents that it replaces
    for (let i = 1; i < this.count - 1; i++) sum += 2 * bendRadiusMm * (Math.atan(halfTan[i]) - halfTan[i])
    return sum
  }

  /** What is left of leg i after its bends, and at an end the straight that is wanted there, mm. */
  legRoom(i: number): number {
    const { legMm, tangents, count, ends: { from, to } } = this
    return legMm[i] - (i === 0 ? from.straightMm : tangents[i]) - (i + 2 === count ? to.straightMm : tangents[i + 1])
  }

  /** How a bend's tangent length changes with the cosine of its turn, mm; 0 where there is no turn. */
  tangentPerCos(corner: number): number {
    const more = 2 * (1 + this.turnCos[corner]), half = this.halfTan[corner]
    if (half < LEAST_HALF) return 0
    // half = sqrt(2 (1 - cos)) / max(sqrt(2 (1 + cos)), least)
    if (more > LEAST_SUM * LEAST_SUM) return -this.ends.bendRadiusMm / (half * (1 + this.turnCos[corner]) ** 2)
    return -this.ends.bendRadiusMm / (half * LEAST_SUM * LEAST_SUM)
  }

  /** How the length that a bend saves changes with the cosine of its turn, mm. */
  savedPerCos(corner: number): number {
    const half = this.halfTan[corner]
    return -2 * half * half / (1 + half * half) * this.tangentPerCos(corner)
  }

  /** Moves the corners by as much as the variables say. */
  moveBy(moves: Float64Array, base: number, times = 1): void {
    const { freedom, variableOf, xyz } = this
    for (let c = 1; c < this.count - 1; c++) {
      const at = base + variableOf[c]
      if (freedom[c] === 3) for (let k = 0; k < 3; k++) xyz[3 * c + k] += times * moves[at + k]
      else if (freedom[c] === 1) {
        const axis = this.axisAt(c)
        for (let k = 0; k < 3; k++) xyz[3 * c + k] += times * moves[at] * axis[k]
      }
    }
  }
}

/** Where a corner all but turns back, tan of half its turn is kept finite: the sum of two unit directions is taken to be no shorter. */
const LEAST_SUM = 0.1
/** less is straight on */
const LEAST_HALF = 1e-9
