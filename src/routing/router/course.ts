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

  /** Works out legs, bends and tangents from the corners; a leg too short for its bends runs backwards. */
  shape(): void {
    const { xyz, count, elements, tangents } = this, { bendRadiusMm } = this.ends
    for (let i = 1; i < count - 1; i++) tangents[i] = tangentOf(xyz, i, bendRadiusMm)
    let stationMm = 0
    for (let i = 0; i + 1 < count; i++) {
      const dx = xyz[3 * i + 3] - xyz[3 * i], dy = xyz[3 * i + 4] - xyz[3 * i + 1], dz = xyz[3 * i + 5] - xyz[3 * i + 2]
      const size = Math.sqrt(dx * dx + dy * dy + dz * dz) || 1
      const a = tangents[i] / size, b = 1 - tangents[i + 1] / size
      writeLeg(elements, 2 * i * ELEMENT_STRIDE, xyz[3 * i] + a * dx, xyz[3 * i + 1] + a * dy, xyz[3 * i + 2] + a * dz, xyz[3 * i] + b * dx, xyz[3 * i + 1] + b * dy, xyz[3 * i + 2] + b * dz, stationMm)
      stationMm += Math.max(0, (b - a) * size)
      if (i + 2 >= count) break
      const ex = xyz[3 * i + 6] - xyz[3 * i + 3], ey = xyz[3 * i + 7] - xyz[3 * i + 4], ez = xyz[3 * i + 8] - xyz[3 * i + 5]
      const next = Math.sqrt(ex * ex + ey * ey + ez * ez) || 1
      const e = (2 * i + 1) * ELEMENT_STRIDE
      if (!writeBend(elements, e, xyz[3 * i + 3], xyz[3 * i + 4], xyz[3 * i + 5], dx / size, dy / size, dz / size, ex / next, ey / next, ez / next, bendRadiusMm, tangents[i + 1])) {
        writeLeg(elements, e, xyz[3 * i + 3], xyz[3 * i + 4], xyz[3 * i + 5], xyz[3 * i + 3], xyz[3 * i + 4], xyz[3 * i + 5], stationMm)
      }
    }
  }

  lengthMm(): number {
    let sum = 0
    for (let i = 0; i + 1 < this.count; i++) sum += legOf(this.xyz, i)
    for (let i = 1; i < this.count - 1; i++) sum += savedAt(this.xyz, i, this.ends.bendRadiusMm)
    return sum
  }

  /** What is left of leg i after its bends, and at an end the straight that is wanted there, mm. */
  legRoom(i: number): number {
    const { xyz, count, ends: { from, to, bendRadiusMm } } = this
    const before = i === 0 ? from.straightMm : tangentOf(xyz, i, bendRadiusMm)
    const after = i + 2 === count ? to.straightMm : tangentOf(xyz, i + 1, bendRadiusMm)
    return legOf(xyz, i) - before - after
  }

  /** Moves variable k by so much. */
  nudge(corner: number, k: number, byMm: number): void {
    if (this.freedom[corner] === 3) this.xyz[3 * corner + k] += byMm
    else {
      const axis = this.axisAt(corner)
      for (let j = 0; j < 3; j++) this.xyz[3 * corner + j] += axis[j] * byMm
    }
  }

  /** Length and bends about one corner: what changes when it moves. */
  lengthAbout(corner: number): number {
    const { xyz, count, ends: { bendRadiusMm } } = this
    let sum = legOf(xyz, corner - 1) + legOf(xyz, corner)
    for (let i = Math.max(1, corner - 1); i <= Math.min(count - 2, corner + 1); i++) sum += savedAt(xyz, i, bendRadiusMm)
    return sum
  }
}

export function legOf(xyz: Float64Array, i: number): number {
  const dx = xyz[3 * i + 3] - xyz[3 * i], dy = xyz[3 * i + 4] - xyz[3 * i + 1], dz = xyz[3 * i + 5] - xyz[3 * i + 2]
  return Math.sqrt(dx * dx + dy * dy + dz * dz)
}

/** tan of half the turn at a corner; at most 20, where it all but turns back */
function halfTangent(xyz: Float64Array, i: number): number {
  const a = 3 * i
  const ux = xyz[a] - xyz[a - 3], uy = xyz[a + 1] - xyz[a - 2], uz = xyz[a + 2] - xyz[a - 1]
  const wx = xyz[a + 3] - xyz[a], wy = xyz[a + 4] - xyz[a + 1], wz = xyz[a + 5] - xyz[a + 2]
  const u = Math.sqrt(ux * ux + uy * uy + uz * uz) || 1, w = Math.sqrt(wx * wx + wy * wy + wz * wz) || 1
  const dx = wx / w - ux / u, dy = wy / w - uy / u, dz = wz / w - uz / u
  const sx = wx / w + ux / u, sy = wy / w + uy / u, sz = wz / w + uz / u
  const sum = Math.sqrt(sx * sx + sy * sy + sz * sz)
  return Math.sqrt(dx * dx + dy * dy + dz * dz) / Math.max(sum, 0.1)
}

export function tangentOf(xyz: Float64Array, i: number, bendRadiusMm: number): number {
  return bendRadiusMm * halfTangent(xyz, i)
}

/** A bend's arc less the two tangents that it replaces: never above 0. */
function savedAt(xyz: Float64Array, i: number, bendRadiusMm: number): number {
  const half = halfTangent(xyz, i)
  return 2 * bendRadiusMm * (Math.atan(half) - half)
}
