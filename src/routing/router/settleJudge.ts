/** Asks the exact kernels what each course lacks, and writes down how that changes with small moves. */
import { boundsMeet, type CheckContext } from '#checks/context.ts'
import { DUCT_CODE } from '#checks/requirement.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { ON_CURVE_X, ON_SOLID_X, PAIR_ANSWER_SIZE, elementDistance, elementsDistance } from '#geometry/clearance/index.ts'
import { writeLeg } from '#geometry/curve/build.ts'
import { ARC, ELEMENT_STRIDE, END_X, KIND, LENGTH, RADIAL_X, START_X, type Centreline } from '#geometry/curve/centreline.ts'
import { curveBounds } from '#geometry/curve/measure.ts'
import type { SolidSet } from '#geometry/solid/solidSet.ts'
import type { Course } from './course.ts'
import { putLegRoom, putPoint } from './courseSlopes.ts'
import { Rows } from './settleRows.ts'

/** Kept over what is required, mm: the checks must find nothing whatever rounding does. */
export const OVER_MM = 0.05
/** what a millimetre of missing clearance is worth in millimetres of length: more than moving any one thing by so much can save */
export const MISSING_PRICE = 30
/** a leg with more room than this is not asked about, mm */
const ROOMY_MM = 240
/** nearer than so much is the same place of a leg, mm */
const FURTHER_MM = 20

export interface FixedDuct { readonly curve: Centreline, readonly radiusMm: number }

/** What is missing in all and at the worst place, mm, and the rows that would mend it. */
export class Lack {
  readonly rows = new Rows(MISSING_PRICE)
  sumMm = 0
  worstMm = 0

  clear(): void {
    this.rows.clear()
    this.sumMm = 0
    this.worstMm = 0
  }

  /** Ends a row: so much room, mm, is over or missing. */
  close(roomMm: number, kind: number = Rows.BESIDE): void {
    this.rows.close(-roomMm, kind)
    this.note(roomMm)
  }

  /** Ends a row that goes with the one before: room at another place of the same leg. */
  closeFurther(roomMm: number): void {
    this.rows.close(-roomMm, Rows.FURTHER)
  }

  note(roomMm: number): void {
    if (roomMm >= 0) return
    this.sumMm -= roomMm
    // OVER_MM itself may be missing to nearly all of it before a check could find anything
    if (roomMm < -0.9 * OVER_MM) this.worstMm = Math.max(this.worstMm, -roomMm)
  }
}

const answer = new Float64Array(PAIR_ANSWER_SIZE)
const found = new IndexList()
const clipped = new Float64Array(ELEMENT_STRIDE), point = new Float64Array(ELEMENT_STRIDE)

export class Judge {
  readonly #context: CheckContext
  readonly #fixed: readonly FixedDuct[]
  readonly #fixedBounds: readonly Float64Array[]

  constructor(context: CheckContext, fixed: readonly FixedDuct[]) {
    this.#context = context
    this.#fixed = fixed
    this.#fixedBounds = fixed.map(({ curve }) => curveBounds(curve.elements, curve.count))
  }

  /**
   * A course by itself: its legs, what it passes, the ducts that stand still.
   * @param bounds its own, by curveBounds
   * @param lookMm how far beyond what is required things are looked at
   */
  alone(course: Course, base: number, bounds: Float64Array, lookMm: number, lack: Lack): void {
    lack.clear()
    this.#legs(course, base, lack)
    for (let e = 0; e < course.elementCount; e++) this.#solids(course, base, e, lookMm, lack)
    for (let f = 0; f < this.#fixed.length; f++) {
      const { curve, radiusMm } = this.#fixed[f]
      this.#ducts(course, base, bounds, null, 0, curve.elements, curve.count, this.#fixedBounds[f], radiusMm, lookMm, lack)
    }
  }

  /** Two courses that both may move. */
  together(course: Course, base: number, bounds: Float64Array, other: Course, otherBase: number, otherBounds: Float64Array, lookMm: number, lack: Lack): void {
    lack.clear()
    this.#ducts(course, base, bounds, other, otherBase, other.elements, other.elementCount, otherBounds, other.ends.radiusMm, lookMm, lack)
  }

  /** Legs long enough for their bends and for the straights at the ends. */
  #legs(course: Course, base: number, lack: Lack): void {
    if (course.count < 3) return
    for (let leg = 0; leg + 1 < course.count; leg++) {
      const room = course.legRoom(leg) - OVER_MM
      if (room > ROOMY_MM) continue
      putLegRoom(lack.rows, course, base, leg)
      lack.close(room, Rows.LEG)
    }
  }

  #solids(course: Course, base: number, e: number, lookMm: number, lack: Lack): void {
    const { assembly: { solids, parts }, clearances, grid, isSound, envelope } = this.#context
    const { ends: { radiusMm, from, to }, elements, elementCount } = course
    const at = e * ELEMENT_STRIDE
    if (e % 2 === 1 && elements[at + KIND] !== ARC) return
    const count = grid.nearElement(elements, at, radiusMm + clearances.mostMm + lookMm, found)
    for (let n = 0; n < count; n++) {
      const solid = found.items[n]
      if (isSound[solid] === 0 || e < 2 && from.exempt.has(solid) || e > elementCount - 3 && to.exempt.has(solid)) continue
      this.#solid(course, base, e, elements, at, solids, solid, radiusMm + clearances.mm[parts.classCodeOf(solid)] + OVER_MM, lookMm, lack)
    }
    if (envelope === null) return
    let own = elements, ownAt = at
    if (e === 0 || e === elementCount - 1) {
      // at a spigot a run may be outside the void
      const length = elements[at + LENGTH], a = e === 0 ? from.zoneMm / length : 0, b = e === elementCount - 1 ? 1 - to.zoneMm / length : 1
      if (!(b > a)) return
      const sx = elements[at + START_X], sy = elements[at + START_X + 1], sz = elements[at + START_X + 2]
      const dx = elements[at + END_X] - sx, dy = elements[at + END_X + 1] - sy, dz = elements[at + END_X + 2] - sz
      writeLeg(clipped, 0, sx + a * dx, sy + a * dy, sz + a * dz, sx + b * dx, sy + b * dy, sz + b * dz, 0)
      own = clipped
      ownAt = 0
    }
    const sheets = envelope.grid.nearElement(own, ownAt, radiusMm + lookMm, found)
    for (let n = 0; n < sheets; n++) this.#solid(course, base, e, own, ownAt, envelope.sheets, found.items[n], radiusMm + OVER_MM, lookMm, lack)
  }

  #solid(course: Course, base: number, e: number, elements: Float64Array, at: number, solids: SolidSet, solid: number, neededMm: number, lookMm: number, lack: Lack): void {
    const distance = elementDistance(elements, at, solids, solid, neededMm + lookMm, answer)
    if (!(distance < neededMm + lookMm)) return
    const x = answer[ON_CURVE_X], y = answer[ON_CURVE_X + 1], z = answer[ON_CURVE_X + 2]
    const nx = x - answer[ON_SOLID_X], ny = y - answer[ON_SOLID_X + 1], nz = z - answer[ON_SOLID_X + 2]
    const size = Math.sqrt(nx * nx + ny * ny + nz * nz) * (distance < 0 ? -1 : 1)
    if (Math.abs(size) < 1e-6) {
      lack.note(distance - neededMm)
      return
    }
    putPoint(lack.rows, course, base, e, x, y, z, nx / size, ny / size, nz / size)
    lack.close(distance - neededMm)
    if (e % 2 === 0) this.#along(course, base, e, elements, at, solids, solid, neededMm, lookMm, lack, x, y, z)
  }

  /** A leg beside a solid turns about the place where it is nearest: the ends of the stretch that lies beside it count as well. */
  #along(course: Course, base: number, e: number, elements: Float64Array, at: number, solids: SolidSet, solid: number, neededMm: number, lookMm: number, lack: Lack, x: number, y: number, z: number): void {
    const { bounds } = solids, reach = neededMm + lookMm, length = elements[at + LENGTH]
    let low = 0, high = length
    for (let k = 0; k < 3; k++) {
      const way = elements[at + RADIAL_X + k], from = elements[at + START_X + k], least = bounds[6 * solid + k] - reach, most = bounds[6 * solid + 3 + k] + reach
      if (Math.abs(way) < 1e-9) continue
      low = Math.max(low, ((way > 0 ? least : most) - from) / way)
      high = Math.min(high, ((way > 0 ? most : least) - from) / way)
    }
    const here = (x - elements[at + START_X]) * elements[at + RADIAL_X] + (y - elements[at + START_X + 1]) * elements[at + RADIAL_X + 1] + (z - elements[at + START_X + 2]) * elements[at + RADIAL_X + 2]
    for (const there of [low, high]) {
      if (Math.abs(there - here) < FURTHER_MM) continue
      const px = elements[at + START_X] + there * elements[at + RADIAL_X], py = elements[at + START_X + 1] + there * elements[at + RADIAL_X + 1], pz = elements[at + START_X + 2] + there * elements[at + RADIAL_X + 2]
      writeLeg(point, 0, px, py, pz, px, py, pz, 0)
      const distance = elementDistance(point, 0, solids, solid, reach, answer)
      if (!(distance < reach)) continue
      const nx = px - answer[ON_SOLID_X], ny = py - answer[ON_SOLID_X + 1], nz = pz - answer[ON_SOLID_X + 2]
      const size = Math.sqrt(nx * nx + ny * ny + nz * nz) * (distance < 0 ? -1 : 1)
      if (Math.abs(size) < 1e-6) continue
      putPoint(lack.rows, course, base, e, px, py, pz, nx / size, ny / size, nz / size)
      lack.closeFurther(distance - neededMm)
    }
  }

  /** @param other null: the other stands still */
  #ducts(
    course: Course, base: number, bounds: Float64Array, other: Course | null, otherBase: number, others: Float64Array, otherCount: number, otherBounds: Float64Array,
    otherRadiusMm: number, lookMm: number, lack: Lack,
  ): void {
    const neededMm = course.ends.radiusMm + otherRadiusMm + this.#context.clearances.mm[DUCT_CODE] + OVER_MM, reach = neededMm + lookMm
    const whole = bounds.length - 6, otherWhole = otherBounds.length - 6, { elements, elementCount } = course
    if (!boundsMeet(bounds, whole, otherBounds, otherWhole, reach)) return
    for (let a = 0; a < elementCount; a++) {
      if (a % 2 === 1 && elements[a * ELEMENT_STRIDE + KIND] !== ARC || !boundsMeet(bounds, 6 * a, otherBounds, otherWhole, reach)) continue
      for (let b = 0; b < otherCount; b++) {
        if (other !== null && b % 2 === 1 && others[b * ELEMENT_STRIDE + KIND] !== ARC || !boundsMeet(bounds, 6 * a, otherBounds, 6 * b, reach)) continue
        const distance = elementsDistance(elements, a * ELEMENT_STRIDE, others, b * ELEMENT_STRIDE, reach, answer)
        if (!(distance < reach)) continue
        const x = answer[ON_CURVE_X], y = answer[ON_CURVE_X + 1], z = answer[ON_CURVE_X + 2]
        const ox = answer[ON_SOLID_X], oy = answer[ON_SOLID_X + 1], oz = answer[ON_SOLID_X + 2]
        let nx = x - ox, ny = y - oy, nz = z - oz
        const size = Math.sqrt(nx * nx + ny * ny + nz * nz)
        if (size < 1e-3) {
          nx = 0
          ny = 0
          nz = 1
        } else {
          nx /= size
          ny /= size
          nz /= size
        }
        putPoint(lack.rows, course, base, a, x, y, z, nx, ny, nz)
        if (other !== null) putPoint(lack.rows, other, otherBase, b, ox, oy, oz, -nx, -ny, -nz)
        lack.close(distance - neededMm)
        if (elements[a * ELEMENT_STRIDE + KIND] === ARC || others[b * ELEMENT_STRIDE + KIND] === ARC) continue
        this.#beside(course, base, a, other, otherBase, others, b, neededMm, reach, lack, x, y, z, false)
        this.#beside(course, base, a, other, otherBase, others, b, neededMm, reach, lack, ox, oy, oz, true)
      }
    }
  }

  /** Two legs side by side turn likewise: the ends of the one count against the other. (x, y, z): where the one is nearest. */
  #beside(
    course: Course, base: number, a: number, other: Course | null, otherBase: number, others: Float64Array, b: number, neededMm: number, reach: number, lack: Lack,
    x: number, y: number, z: number, isOther: boolean,
  ): void {
    const one = isOther ? others : course.elements, at = (isOther ? b : a) * ELEMENT_STRIDE, two = isOther ? course.elements : others, o = (isOther ? a : b) * ELEMENT_STRIDE
    for (const end of [START_X, END_X]) {
      const px = one[at + end], py = one[at + end + 1], pz = one[at + end + 2]
      if ((px - x) ** 2 + (py - y) ** 2 + (pz - z) ** 2 < FURTHER_MM * FURTHER_MM) continue
      const along = Math.min(two[o + LENGTH], Math.max(0, (px - two[o + START_X]) * two[o + RADIAL_X] + (py - two[o + START_X + 1]) * two[o + RADIAL_X + 1] + (pz - two[o + START_X + 2]) * two[o + RADIAL_X + 2]))
      const qx = two[o + START_X] + along * two[o + RADIAL_X], qy = two[o + START_X + 1] + along * two[o + RADIAL_X + 1], qz = two[o + START_X + 2] + along * two[o + RADIAL_X + 2]
      const distance = Math.sqrt((px - qx) ** 2 + (py - qy) ** 2 + (pz - qz) ** 2)
      if (!(distance < reach) || distance < 1e-3) continue
      const nx = (px - qx) / distance, ny = (py - qy) / distance, nz = (pz - qz) / distance
      if (isOther) {
        putPoint(lack.rows, course, base, a, qx, qy, qz, -nx, -ny, -nz)
        if (other !== null) putPoint(lack.rows, other, otherBase, b, px, py, pz, nx, ny, nz)
      } else {
        putPoint(lack.rows, course, base, a, px, py, pz, nx, ny, nz)
        if (other !== null) putPoint(lack.rows, other, otherBase, b, qx, qy, qz, -nx, -ny, -nz)
      }
      lack.closeFurther(distance - neededMm)
    }
  }
}
