/**
 * Laid runs pulled taut together: every corner of every run is moved at once, so that the whole is shortest and every clearance is
 * met exactly. Each round asks the exact kernels how near each leg and bend is to what stands round it and to the other runs,
 * takes those distances as straight lines in the moves, and solves for the moves (sequential quadratic programming with an exact penalty
 * within a region of trust: Nocedal & Wright, Numerical Optimization, 18.5). A run whose own worth has become less is put back and moves less the next time.
 */
import type { CheckContext } from '#checks/context.ts'
import { curveBounds } from '#geometry/curve/measure.ts'
import type { Course } from './course.ts'
import { writeEvenStiffness, writeLengthSlope, writeStiffness } from './courseSlopes.ts'
import { leastMoves, type Stiffness } from './leastMoves.ts'
import { Judge, Lack, MISSING_PRICE as PRICE, type FixedDuct } from './settleJudge.ts'

export { OVER_MM, type FixedDuct } from './settleJudge.ts'

const FIRST_MOVE_MM = 30, MOST_MOVE_MM = 60, LEAST_MOVE_MM = 0.02
/** looked at beyond what is required, at most: as far as two things may move towards each other in one round */
const LOOK_MM = 45
/** a course that lacks anything at all, in millimetres of length: it is not clean */
const BROKEN = 50
/** A round that promises less is the last, mm; so are five that brought less for each course together. */
const LEAST_GAIN_MM = 0.005, LEAST_LATE_GAIN_MM = 0.6, LATE_ROUNDS = 5
/** mending ends when a round promises less than this share of what is missing */
const MENDED_SHARE = 0.02
/** pulling one course alone ends likewise: with so little to gain and more than a little missing it does not fit */
const HOPELESS_SHARE = 0.03
/** with more than this missing after pulling, mending does not help, mm */
const HOPELESS_MM = 5
/** what is promised and what is got may differ by so much for nothing, mm: neighbours move as well */
const NOISE_MM = 0.05
/** more than this missing beyond what was promised is made good at once, mm; corners may go so many times as far for it */
const CORRECTED_MM = 0.03, CORRECTION_REACH = 10
/** a corner in line moves no more than so many times as far */
const LEAST_LEVER = 0.1
/** second derivatives of what has none of its own, for each millimetre */
const LEAST_STIFFNESS = 1e-4, MEND_STIFFNESS = 0.03
/** solved to this share of the largest move, and of what is to be made good */
const ERROR_SHARE = 0.01, CORRECTION_ERROR_SHARE = 0.2

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

/** Moves the courses' corners. */
export function settle(context: CheckContext, courses: readonly Course[], fixed: readonly FixedDuct[], { rounds, mendRounds }: SettleOptions): Settled {
  const group = new MovingGroup(new Judge(context, fixed), courses)
  let taken = rounds > 0 ? group.pull(rounds) : 0
  if (mendRounds > 0 && (rounds === 0 || group.missingMm.some((mm) => mm > 0 && mm < HOPELESS_MM))) taken += group.mend(mendRounds)
  group.takeBest()
  return { missingMm: group.missingMm, rounds: taken }
}

/** A course at one place, and what it lacks there by itself. */
interface Place { readonly xyz: Float64Array, bounds: Float64Array, readonly lack: Lack, lengthMm: number }

/** One of the courses on the move. */
class Mover {
  readonly course: Course
  readonly base: number
  readonly stiffness: Stiffness
  /** where it was last kept, where it is now, and a place to look at next */
  kept: Place
  now: Place
  spare: Place
  trustMm = FIRST_MOVE_MM
  worth = Infinity
  /** how much better the last move should have made it */
  promised = 0
  /** and what it should have left missing */
  promisedSumMm = 0
  isStill = false

  constructor(course: Course, base: number) {
    this.course = course
    this.base = base
    this.stiffness = { first: base, size: course.variableCount, block: new Float64Array(course.variableCount ** 2) }
    const place = (): Place => ({ xyz: Float64Array.from(course.xyz), bounds: new Float64Array(0), lack: new Lack(), lengthMm: 0 })
    this.kept = place()
    this.spare = place()
    this.now = this.spare
  }

  begin(): void {
    this.trustMm = FIRST_MOVE_MM
    this.isStill = false
  }

  /** Looks at the course where it is. */
  look(judge: Judge): void {
    const { course, spare } = this
    course.shape()
    spare.xyz.set(course.xyz)
    spare.bounds = curveBounds(course.elements, course.elementCount)
    spare.lengthMm = course.lengthMm()
    judge.alone(course, this.base, spare.bounds, lookMm(this.trustMm), spare.lack)
    this.now = spare
  }

  keep(): void {
    if (this.now === this.kept) return
    this.spare = this.kept
    this.kept = this.now
  }

  putBack(): void {
    this.course.xyz.set(this.kept.xyz)
    this.course.shape()
    this.now = this.kept
  }
}

function lookMm(trustMm: number): number {
  return Math.min(LOOK_MM, 3.5 * trustMm + 1)
}

interface Pair { readonly a: number, readonly b: number, readonly lack: Lack }

/** The courses as they were at their best. */
class Best {
  worth = Infinity
  missing: readonly number[] = []
  readonly xyz: Float64Array[]

  constructor(movers: readonly Mover[]) {
    this.xyz = movers.map(({ course }) => Float64Array.from(course.xyz))
  }
}

class MovingGroup {
  readonly #judge: Judge
  readonly #movers: readonly Mover[]
  readonly #pairs: readonly Pair[]
  readonly #gradient: Float64Array
  readonly #most: Float64Array
  readonly #moves: Float64Array
  /** what each lacks in all, and at its worst place, mm */
  readonly #sums: Float64Array
  #missing: number[] = []
  readonly #best: Best

  constructor(judge: Judge, courses: readonly Course[]) {
    let variables = 0
    this.#judge = judge
    this.#movers = courses.map((course) => {
      const mover = new Mover(course, variables)
      variables += course.variableCount
      return mover
    })
    this.#pairs = this.#movers.flatMap((_, a) => this.#movers.slice(a + 1).map((_, n) => ({ a, b: a + 1 + n, lack: new Lack() })))
    this.#gradient = new Float64Array(variables)
    this.#most = new Float64Array(variables)
    this.#moves = new Float64Array(variables)
    this.#sums = new Float64Array(courses.length)
    this.#best = new Best(this.#movers)
  }

  get missingMm(): readonly number[] {
    return this.#best.missing
  }

  takeBest(): void {
    this.#movers.forEach(({ course }, i) => {
      course.xyz.set(this.#best.xyz[i])
      course.shape()
    })
  }

  /** As short as can be. @returns rounds taken */
  pull(rounds: number): number {
    this.#begin()
    let round = 0
    const worths: number[] = []
    for (; round <= rounds; round++) {
      this.#look()
      if (round > 0) this.#correct()
      this.#note()
      worths.push(Math.min(worths.at(-1) ?? Infinity, this.#movers.reduce((sum, { now }, i) => sum + now.lengthMm + PRICE * this.#sums[i], 0)))
      if (round > LATE_ROUNDS && worths[round - LATE_ROUNDS] - worths[round] < LEAST_LATE_GAIN_MM * this.#movers.length) break
      this.#weigh(1, round === 0)
      if (round === rounds || this.#movers.every(({ isStill }) => isStill)) break
      // one that is all but as good as it gets and still lacks much is none; of a group others go on
      const hopeless = this.#movers.length === 1 ? HOPELESS_SHARE * PRICE * this.#sums[0] : 0
      if (this.#step(1) < LEAST_GAIN_MM + hopeless) break
    }
    return round
  }

  /** Moves no more than clearances ask for. @returns rounds taken */
  mend(rounds: number): number {
    this.#begin()
    let round = 0
    for (; round <= rounds; round++) {
      this.#look()
      this.#note()
      if (this.#missing.every((mm) => mm === 0)) break
      this.#weigh(0, round === 0)
      if (round === rounds || this.#movers.every(({ isStill }) => isStill)) break
      if (this.#step(0) < MENDED_SHARE * PRICE * this.#sums.reduce((sum, mm) => sum + mm, 0)) break
    }
    return round
  }

  #begin(): void {
    for (const mover of this.#movers) mover.begin()
  }

  #look(): void {
    for (const mover of this.#movers) if (!mover.isStill) mover.look(this.#judge)
    this.#lookAtPairs()
    this.#sum()
  }

  #lookAtPairs(): void {
    for (const { a, b, lack } of this.#pairs) {
      const one = this.#movers[a], two = this.#movers[b]
      this.#judge.together(one.course, one.base, one.now.bounds, two.course, two.base, two.now.bounds, lookMm((one.trustMm + two.trustMm) / 2), lack)
    }
  }

  #sum(): void {
    const sums = this.#sums
    this.#missing = this.#movers.map(({ now }) => now.lack.worstMm)
    this.#movers.forEach(({ now }, i) => { sums[i] = now.lack.sumMm })
    for (const { a, b, lack } of this.#pairs) for (const i of [a, b]) {
      sums[i] += lack.sumMm
      this.#missing[i] = Math.max(this.#missing[i], lack.worstMm)
    }
  }

  #note(): void {
    const worth = this.#movers.reduce((sum, { now }, i) => sum + now.lengthMm + 10 * PRICE * this.#sums[i] + (this.#missing[i] > 0 ? BROKEN : 0), 0), best = this.#best
    if (worth >= best.worth - 1e-9) return
    best.worth = worth
    best.missing = this.#missing
    this.#movers.forEach(({ now }, i) => best.xyz[i].set(now.xyz))
  }

  /** Keeps what has become better, puts back the rest, and trusts each as far as it did what was promised. */
  #weigh(pull: number, isFirst: boolean): void {
    let isBack = false
    this.#movers.forEach((mover, i) => {
      if (mover.isStill) return
      const worth = pull * mover.now.lengthMm + PRICE * this.#sums[i]
      // as a share of what was promised; a course may be asked to make way for another
      const short = isFirst ? 0 : (mover.promised - (mover.worth - worth)) / (Math.abs(mover.promised) + NOISE_MM)
      if (short > 0.75) mover.trustMm *= 0.45
      else if (short < 0.25 && !isFirst) mover.trustMm = Math.min(MOST_MOVE_MM, mover.trustMm * 1.6)
      mover.isStill = mover.trustMm < LEAST_MOVE_MM
      if (short < 0.9) {
        mover.worth = worth
        mover.keep()
      } else {
        mover.putBack()
        isBack = true
      }
    })
    if (!isBack) return
    this.#lookAtPairs()
    this.#sum()
    this.#movers.forEach((mover, i) => { mover.worth = pull * mover.now.lengthMm + PRICE * this.#sums[i] })
  }

  /** @returns how much better the whole should become */
  #step(pull: number): number {
    let largest = 0
    for (const { course, base, trustMm, isStill, stiffness: { block } } of this.#movers) {
      writeStiffness(course, pull === 0 ? MEND_STIFFNESS : LEAST_STIFFNESS, block)
      if (pull === 0) this.#gradient.fill(0, base, base + course.variableCount)
      else writeLengthSlope(course, base, this.#gradient)
      this.#most.fill(isStill ? 0 : trustMm, base, base + course.variableCount)
      if (!isStill) this.#trustEnds(course, base, trustMm)
      largest = Math.max(largest, trustMm)
    }
    this.#solve(ERROR_SHARE * largest)
    this.#promise()
    for (const mover of this.#movers) if (!mover.isStill) mover.course.moveBy(this.#moves, mover.base)
    return this.#movers.reduce((sum, { promised }) => sum + promised, 0)
  }

  /** A corner on the axis of its spigot turns little by little into it: what it moves, its other leg moves aside by the sine of the turn. */
  #trustEnds(course: Course, base: number, trustMm: number): void {
    for (const corner of [1, course.count - 2]) {
      if (course.freedom[corner] === 1) this.#most[base + course.variableOf[corner]] = trustMm / Math.max(LEAST_LEVER, Math.sqrt(1 - course.turnCos[corner] ** 2))
    }
  }

  /** What the last step left missing because clearances do not change in straight lines is made good at once. */
  #correct(): void {
    let more = 0
    this.#movers.forEach(({ promisedSumMm }, i) => { more = Math.max(more, this.#sums[i] - promisedSumMm) })
    if (more < CORRECTED_MM) return
    this.#gradient.fill(0)
    for (const { stiffness: { block, size } } of this.#movers) writeEvenStiffness(size, 1, block)
    this.#movers.forEach(({ course, base, isStill, trustMm, promisedSumMm }, i) => {
      const over = this.#sums[i] - promisedSumMm
      this.#most.fill(isStill || over < CORRECTED_MM / 2 ? 0 : Math.min(trustMm, CORRECTION_REACH * over), base, base + course.variableCount)
    })
    this.#solve(CORRECTION_ERROR_SHARE * more)
    for (const mover of this.#movers) if (!mover.isStill) mover.course.moveBy(this.#moves, mover.base)
    this.#look()
  }

  #solve(error: number): void {
    const rows = [...this.#movers.map(({ now }) => now.lack.rows), ...this.#pairs.map(({ lack }) => lack.rows)]
    leastMoves(rows, this.#gradient, this.#inOrder(), this.#most, error, this.#moves)
  }

  /** Those that have to do with each other near each other, which leaves less to be worked out (Cuthill & McKee 1969). */
  #inOrder(): Stiffness[] {
    const beside: number[][] = this.#movers.map(() => [])
    for (const { a, b, lack: { rows } } of this.#pairs) {
      if (rows.count === 0) continue
      beside[a].push(b)
      beside[b].push(a)
    }
    const byFewest = (a: number, b: number): number => beside[a].length - beside[b].length
    const order: number[] = [], isTaken = new Uint8Array(beside.length)
    for (const start of [...beside.keys()].sort(byFewest)) {
      if (isTaken[start] === 1) continue
      isTaken[start] = 1
      order.push(start)
      for (let k = order.length - 1; k < order.length; k++) for (const next of beside[order[k]].sort(byFewest)) {
        if (isTaken[next] === 1) continue
        isTaken[next] = 1
        order.push(next)
      }
    }
    return order.reverse().map((i) => this.#movers[i].stiffness)
  }

  /** Writes how much better each should become. */
  #promise(): void {
    const moves = this.#moves
    for (const mover of this.#movers) {
      const { base, now: { lack }, stiffness: { size, block } } = mover
      mover.promisedSumMm = lack.rows.missingAfter(moves)
      let gain = PRICE * (lack.sumMm - mover.promisedSumMm)
      for (let a = 0; a < size; a++) {
        let bend = 0
        for (let b = 0; b < size; b++) bend += block[a * size + b] * moves[base + b]
        gain -= (this.#gradient[base + a] + bend / 2) * moves[base + a]
      }
      mover.promised = gain
    }
    for (const { a, b, lack } of this.#pairs) {
      const left = lack.rows.missingAfter(moves)
      for (const i of [a, b]) {
        this.#movers[i].promisedSumMm += left
        this.#movers[i].promised += PRICE * (lack.sumMm - left)
      }
    }
  }
}
