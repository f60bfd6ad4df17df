/**
 * Laid runs pulled taut together: every corner of every run is moved at once, so that the whole is shortest and every clearance is
 * met exactly. Each round asks the exact kernels how near each leg and bend is to what stands round it and to the other runs,
 * takes those distances as straight lines in the moves, and solves for the moves (sequential quadratic programming with an exact penalty:
 * Nocedal & Wright, Numerical Optimization, 18.5). A run whose own worth has become less is put back and moves less the next time.
 */
import { boundsMeet, type CheckContext } from '#checks/context.ts'
import { DUCT_CODE } from '#checks/requirement.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { ON_CURVE_X, ON_SOLID_X, PAIR_ANSWER_SIZE, elementDistance, elementsDistance } from '#geometry/clearance/index.ts'
import { writeLeg } from '#geometry/curve/build.ts'
import { ARC, ELEMENT_STRIDE, END_X, KIND, LENGTH, START_X, TURN, RADIUS, type Centreline } from '#geometry/curve/centreline.ts'
import { curveBounds } from '#geometry/curve/measure.ts'
import type { SolidSet } from '#geometry/solid/solidSet.ts'
import { tangentOf, type Course } from './course.ts'
import { Rows, leastMoves } from './settleRows.ts'

/** Kept over what is required, mm: the checks must find nothing whatever rounding does. */
export const OVER_MM = 0.05
/** what a millimetre of missing clearance is worth in millimetres of length */
const PRICE = 12
const FIRST_MOVE_MM = 30, MOST_MOVE_MM = 60, LEAST_MOVE_MM = 0.02
/** looked at beyond what is required: as far as two things may move towards each other in one round */
const LOOK_MM = 45
const NUDGE_MM = 1e-4

export interface FixedDuct { readonly curve: Centreline, readonly radiusMm: number }

export interface SettleOptions {
  /** of pulling */
  readonly rounds: number
  /** of moving no more than clearances ask for, where something is still missing after that */
  readonly mendRounds: number
}

export interface Settled {
  /** clearance missing at the worst place of each course, mm; 0 where nothing is */
  readonly missingMm: readonly number[]
  readonly rounds: number
}

const answer = new Float64Array(PAIR_ANSWER_SIZE)
const found = new IndexList()
const clipped = new Float64Array(ELEMENT_STRIDE)

/** Moves the courses' corners. */
export function settle(context: CheckContext, courses: readonly Course[], fixed: readonly FixedDuct[], { rounds, mendRounds }: SettleOptions): Settled {
  const first = rounds > 0 ? move(context, courses, fixed, rounds, 1, FIRST_MOVE_MM) : { missingMm: courses.map(() => 1), rounds: 0 }
  if (mendRounds === 0 || first.missingMm.every((mm) => mm === 0)) return first
  const second = move(context, courses, fixed, mendRounds, 0, FIRST_MOVE_MM)
  return { missingMm: second.missingMm, rounds: first.rounds + second.rounds }
}

/** @param pull 1: as short as can be; 0: only clearances count */
function move(context: CheckContext, courses: readonly Course[], fixed: readonly FixedDuct[], rounds: number, pull: number, firstMoveMm: number): Settled {
  const bases: number[] = []
  let variables = 0
  for (const course of courses) {
    bases.push(variables)
    variables += course.variableCount
  }
  const gradient = new Float64Array(variables), stiffness = new Float64Array(variables), most = new Float64Array(variables), moves = new Float64Array(variables)
  const rows = new Rows()
  const trust = courses.map(() => firstMoveMm), before = courses.map(({ xyz }) => Float64Array.from(xyz)), worthBefore = courses.map(() => Infinity)
  const best = courses.map(({ xyz }) => Float64Array.from(xyz))
  let bestWorth = Infinity, bestMissing: number[] = []
  const judge = new Judge(context, courses, fixed, bases, rows)
  let round = 0
  for (; round <= rounds; round++) {
    const { sums, worst } = judge.look()
    const whole = courses.reduce((sum, course, i) => sum + pull * course.lengthMm() + 10 * PRICE * sums[i] + (worst[i] > 0 ? BROKEN : 0), 0)
    if (whole < bestWorth - 1e-9) {
      bestWorth = whole
      bestMissing = worst
      courses.forEach(({ xyz }, i) => best[i].set(xyz))
    }
    if (round === rounds || pull === 0 && worst.every((mm) => mm === 0)) break
    let isStill = true, isBack = false
    courses.forEach((course, i) => {
      const worth = pull * course.lengthMm() + PRICE * sums[i]
      if (worth > worthBefore[i] + 1e-6) {
        course.xyz.set(before[i])
        trust[i] *= 0.45
        isBack = true
      } else {
        if (round > 0) trust[i] = Math.min(MOST_MOVE_MM, trust[i] * (worthBefore[i] - worth > 0.3 ? 1.3 : 0.7))
        worthBefore[i] = worth
        before[i].set(course.xyz)
      }
      if (trust[i] > LEAST_MOVE_MM) isStill = false
    })
    if (isStill) break
    if (isBack) judge.look()
    courses.forEach((course, i) => {
      lengthGradient(course, bases[i], pull, trust[i], gradient, stiffness)
      most.fill(trust[i], bases[i], bases[i] + course.variableCount)
    })
    leastMoves(rows, gradient, stiffness, most, PRICE, moves)
    courses.forEach((course, i) => {
      for (let c = 1; c < course.count - 1; c++) for (let k = 0; k < course.freedom[c]; k++) course.nudge(c, k, moves[bases[i] + course.variableOf[c] + k])
    })
  }
  courses.forEach((course, i) => {
    course.xyz.set(best[i])
    course.shape()
  })
  return { missingMm: bestMissing, rounds: round }
}

/** a course that lacks anything at all, in millimetres of length: it is not clean */
const BROKEN = 50

function lengthGradient(course: Course, base: number, pull: number, trustMm: number, gradient: Float64Array, stiffness: Float64Array): void {
  const { count, freedom, variableOf, xyz } = course
  for (let c = 1; c < count - 1; c++) {
    const before = Math.hypot(xyz[3 * c] - xyz[3 * c - 3], xyz[3 * c + 1] - xyz[3 * c - 2], xyz[3 * c + 2] - xyz[3 * c - 1])
    const after = Math.hypot(xyz[3 * c] - xyz[3 * c + 3], xyz[3 * c + 1] - xyz[3 * c + 4], xyz[3 * c + 2] - xyz[3 * c + 5])
    for (let k = 0; k < freedom[c]; k++) {
      const at = base + variableOf[c] + k
      // no softer than lets a pull move it about as far as it may
      stiffness[at] = Math.max(1 / trustMm, 1 / Math.max(before, 50) + 1 / Math.max(after, 50))
      if (pull === 0) {
        gradient[at] = 0
        continue
      }
      course.nudge(c, k, NUDGE_MM)
      const high = course.lengthAbout(c)
      course.nudge(c, k, -2 * NUDGE_MM)
      const low = course.lengthAbout(c)
      course.nudge(c, k, NUDGE_MM)
      gradient[at] = pull * (high - low) / (2 * NUDGE_MM)
    }
  }
}

/** Asks the kernels about all courses at once and writes the rows. */
class Judge {
  readonly #context: CheckContext
  readonly #courses: readonly Course[]
  readonly #fixed: readonly FixedDuct[]
  readonly #fixedBounds: Float64Array[]
  readonly #bases: readonly number[]
  readonly #rows: Rows
  #sums: number[] = []
  #worst: number[] = []

  constructor(context: CheckContext, courses: readonly Course[], fixed: readonly FixedDuct[], bases: readonly number[], rows: Rows) {
    this.#context = context
    this.#courses = courses
    this.#fixed = fixed
    this.#fixedBounds = fixed.map(({ curve }) => curveBounds(curve.elements, curve.count))
    this.#bases = bases
    this.#rows = rows
  }

  /** @returns for each course what is missing in all, and at its worst place, mm */
  look(): { sums: readonly number[], worst: number[] } {
    const sums = this.#courses.map(() => 0), worst = this.#courses.map(() => 0)
    this.#sums = sums
    this.#worst = worst
    this.#rows.clear()
    const bounds = this.#courses.map((course) => {
      course.shape()
      return curveBounds(course.elements, course.elementCount)
    })
    this.#courses.forEach((course, i) => {
      this.#legs(i, course)
      for (let e = 0; e < course.elementCount; e++) this.#solids(i, course, e)
      for (let f = 0; f < this.#fixed.length; f++) {
        const { curve, radiusMm } = this.#fixed[f]
        this.#pair(i, course, bounds[i], -1, null, curve.elements, curve.count, this.#fixedBounds[f], radiusMm)
      }
      for (let j = i + 1; j < this.#courses.length; j++) {
        const other = this.#courses[j]
        this.#pair(i, course, bounds[i], j, other, other.elements, other.elementCount, bounds[j], other.ends.radiusMm)
      }
    })
    return { sums, worst }
  }

  #note(i: number, roomMm: number): void {
    // OVER_MM itself may be missing to nearly all of it before a check could find anything
    if (roomMm >= 0) return
    this.#sums[i] -= roomMm
    if (roomMm < -0.9 * OVER_MM) this.#worst[i] = Math.max(this.#worst[i], -roomMm)
  }

  /** Legs long enough for their bends and for the straights at the ends. */
  #legs(i: number, course: Course): void {
    const rows = this.#rows, { count, freedom, variableOf } = course, base = this.#bases[i]
    if (count < 3) return
    for (let leg = 0; leg + 1 < count; leg++) {
      const room = course.legRoom(leg) - OVER_MM
      this.#note(i, room)
      if (room > 4 * MOST_MOVE_MM) continue
      for (let c = Math.max(1, leg - 1); c <= Math.min(count - 2, leg + 2); c++) {
        for (let k = 0; k < freedom[c]; k++) {
          course.nudge(c, k, NUDGE_MM)
          const after = course.legRoom(leg) - OVER_MM
          course.nudge(c, k, -NUDGE_MM)
          rows.put(base + variableOf[c] + k, (after - room) / NUDGE_MM)
        }
      }
      rows.close(-room)
    }
  }

  #solids(i: number, course: Course, e: number): void {
    const { assembly: { solids, parts }, clearances, grid, isSound, envelope } = this.#context
    const { ends: { radiusMm, from, to }, elements, elementCount } = course
    const at = e * ELEMENT_STRIDE
    if (e % 2 === 1 && elements[at + KIND] !== ARC) return
    const count = grid.nearElement(elements, at, radiusMm + clearances.mostMm + LOOK_MM, found)
    for (let n = 0; n < count; n++) {
      const solid = found.items[n]
      if (isSound[solid] === 0 || e < 2 && from.exempt.has(solid) || e > elementCount - 3 && to.exempt.has(solid)) continue
      const neededMm = radiusMm + clearances.mm[parts.classCodeOf(solid)] + OVER_MM
      this.#toSolid(i, course, e, elements, at, solids, solid, neededMm)
    }
    if (envelope === null) return
    let own = elements, ownAt = at
    if (e === 0 || e === elementCount - 1) {
      // at a spigot a run may be outside the void
      const length = elements[at + LENGTH], a = e === 0 ? from.zoneMm / length : 0, b = e === elementCount - 1 ? 1 - to.zoneMm / length : 1
      if (!(b > a)) return
      const [sx, sy, sz] = elements.subarray(at + START_X, at + START_X + 3), [ex, ey, ez] = elements.subarray(at + END_X, at + END_X + 3)
      writeLeg(clipped, 0, sx + a * (ex - sx), sy + a * (ey - sy), sz + a * (ez - sz), sx + b * (ex - sx), sy + b * (ey - sy), sz + b * (ez - sz), 0)
      own = clipped
      ownAt = 0
    }
    const sheets = envelope.grid.nearElement(own, ownAt, radiusMm + LOOK_MM, found)
    for (let n = 0; n < sheets; n++) this.#toSolid(i, course, e, own, ownAt, envelope.sheets, found.items[n], radiusMm + OVER_MM)
  }

  #toSolid(i: number, course: Course, e: number, elements: Float64Array, at: number, solids: SolidSet, solid: number, neededMm: number): void {
    const distance = elementDistance(elements, at, solids, solid, neededMm + LOOK_MM, answer)
    if (!(distance < neededMm + LOOK_MM)) return
    this.#note(i, distance - neededMm)
    const x = answer[ON_CURVE_X], y = answer[ON_CURVE_X + 1], z = answer[ON_CURVE_X + 2]
    let nx = x - answer[ON_SOLID_X], ny = y - answer[ON_SOLID_X + 1], nz = z - answer[ON_SOLID_X + 2]
    const size = Math.sqrt(nx * nx + ny * ny + nz * nz) * (distance < 0 ? -1 : 1)
    if (Math.abs(size) < 1e-6) return
    nx /= size
    ny /= size
    nz /= size
    this.#putPoint(i, course, e, x, y, z, nx, ny, nz)
    this.#rows.close(neededMm - distance)
  }

  #pair(i: number, course: Course, bounds: Float64Array, j: number, other: Course | null, others: Float64Array, otherCount: number, otherBounds: Float64Array, otherRadiusMm: number): void {
    const neededMm = course.ends.radiusMm + otherRadiusMm + this.#context.clearances.mm[DUCT_CODE] + OVER_MM, reach = neededMm + LOOK_MM
    const whole = bounds.length - 6, otherWhole = otherBounds.length - 6
    if (!boundsMeet(bounds, whole, otherBounds, otherWhole, reach)) return
    for (let a = 0; a < course.elementCount; a++) {
      if (!boundsMeet(bounds, 6 * a, otherBounds, otherWhole, reach)) continue
      for (let b = 0; b < otherCount; b++) {
        if (!boundsMeet(bounds, 6 * a, otherBounds, 6 * b, reach)) continue
        const distance = elementsDistance(course.elements, a * ELEMENT_STRIDE, others, b * ELEMENT_STRIDE, reach, answer)
        if (!(distance < reach)) continue
        this.#note(i, distance - neededMm)
        if (j >= 0) this.#note(j, distance - neededMm)
        const x = answer[ON_CURVE_X], y = answer[ON_CURVE_X + 1], z = answer[ON_CURVE_X + 2]
        const ox = answer[ON_SOLID_X], oy = answer[ON_SOLID_X + 1], oz = answer[ON_SOLID_X + 2]
        let nx = x - ox, ny = y - oy, nz = z - oz
        const size = Math.sqrt(nx * nx + ny * ny + nz * nz)
        if (size < 1e-3) [nx, ny, nz] = [0, 0, 1]
        else {
          nx /= size
          ny /= size
          nz /= size
        }
        this.#putPoint(i, course, a, x, y, z, nx, ny, nz)
        if (other !== null) this.#putPoint(j, other, b, ox, oy, oz, -nx, -ny, -nz)
        this.#rows.close(neededMm - distance)
      }
    }
  }

  /** Adds to the row being made what the moves of a course do to a point of one of its elements, along a direction. */
  #putPoint(i: number, course: Course, e: number, x: number, y: number, z: number, nx: number, ny: number, nz: number): void {
    const leg = e >> 1
    if (e % 2 === 0) {
      const { xyz } = course, a = 3 * leg
      const dx = xyz[a + 3] - xyz[a], dy = xyz[a + 4] - xyz[a + 1], dz = xyz[a + 5] - xyz[a + 2]
      const share = Math.min(1, Math.max(0, ((x - xyz[a]) * dx + (y - xyz[a + 1]) * dy + (z - xyz[a + 2]) * dz) / (dx * dx + dy * dy + dz * dz || 1)))
      this.#putCorner(i, course, leg, (1 - share) * nx, (1 - share) * ny, (1 - share) * nz)
      this.#putCorner(i, course, leg + 1, share * nx, share * ny, share * nz)
      return
    }
    const corner = leg + 1, share = alongBend(course.elements, e * ELEMENT_STRIDE, x, y, z)
    bendPoint(course, corner, share)
    const px = onBend[0], py = onBend[1], pz = onBend[2]
    for (let c = corner - 1; c <= corner + 1; c++) {
      for (let k = 0; k < course.freedom[c]; k++) {
        course.nudge(c, k, NUDGE_MM)
        bendPoint(course, corner, share)
        course.nudge(c, k, -NUDGE_MM)
        this.#rows.put(this.#bases[i] + course.variableOf[c] + k, ((onBend[0] - px) * nx + (onBend[1] - py) * ny + (onBend[2] - pz) * nz) / NUDGE_MM)
      }
    }
  }

  #putCorner(i: number, course: Course, corner: number, gx: number, gy: number, gz: number): void {
    const at = this.#bases[i] + course.variableOf[corner]
    if (course.freedom[corner] === 3) {
      this.#rows.put(at, gx)
      this.#rows.put(at + 1, gy)
      this.#rows.put(at + 2, gz)
    } else if (course.freedom[corner] === 1) {
      const axis = course.axisAt(corner)
      this.#rows.put(at, gx * axis[0] + gy * axis[1] + gz * axis[2])
    }
  }
}

const onBend = new Float64Array(3)

/** The point at a share of the bend at a corner, written to `onBend`. */
function bendPoint({ xyz, ends: { bendRadiusMm } }: Course, corner: number, share: number): void {
  const a = 3 * corner
  let ux = xyz[a] - xyz[a - 3], uy = xyz[a + 1] - xyz[a - 2], uz = xyz[a + 2] - xyz[a - 1]
  let wx = xyz[a + 3] - xyz[a], wy = xyz[a + 4] - xyz[a + 1], wz = xyz[a + 5] - xyz[a + 2]
  const u = Math.sqrt(ux * ux + uy * uy + uz * uz) || 1, w = Math.sqrt(wx * wx + wy * wy + wz * wz) || 1
  ux /= u
  uy /= u
  uz /= u
  const k = (wx * ux + wy * uy + wz * uz) / w
  wx = wx / w - k * ux
  wy = wy / w - k * uy
  wz = wz / w - k * uz
  const sine = Math.sqrt(wx * wx + wy * wy + wz * wz), tangent = tangentOf(xyz, corner, bendRadiusMm)
  const turn = share * Math.atan2(sine, k), along = bendRadiusMm * Math.sin(turn) - tangent, aside = sine > 1e-12 ? bendRadiusMm * (1 - Math.cos(turn)) / sine : 0
  onBend[0] = xyz[a] + along * ux + aside * wx
  onBend[1] = xyz[a + 1] + along * uy + aside * wy
  onBend[2] = xyz[a + 2] + along * uz + aside * wz
}

/** How far along a bend a point of it lies, 0 to 1. */
function alongBend(elements: Float64Array, e: number, x: number, y: number, z: number): number {
  // half the chord from the start is the radius times the sine of half the turn up to there
  const chord = Math.sqrt((x - elements[e + START_X]) ** 2 + (y - elements[e + START_X + 1]) ** 2 + (z - elements[e + START_X + 2]) ** 2)
  return Math.min(1, 2 * Math.asin(Math.min(1, chord / (2 * elements[e + RADIUS]))) / elements[e + TURN])
}

