/**
 * Where it costs no more than a hair, a run that lies taut against something is moved off it: of equal routes the one with the larger spare.
 * The least spare counts most: the first millimetre is worth more than all that come after, and so on.
 */
import type { PlacedRun } from '#assembly/assembly.ts'
import { curveBounds } from '#geometry/curve/measure.ts'
import type { Course } from './course.ts'
import { writeEvenStiffness, writeLengthSlope, writeStiffness } from './courseSlopes.ts'
import { standingDucts, type Laying } from './laying.ts'
import { leastMoves } from './leastMoves.ts'
import { SETTLE_STEPS, type Scene } from './negotiate.ts'
import { planCrossings } from './planCrossings.ts'
import { Judge, Lack, MISSING_PRICE } from './settleJudge.ts'
import { settle } from './settle.ts'
import { Rows } from './settleRows.ts'

/**
 * A run may become so much longer for it: what a tape measure of accuracy class II may be off over its length (0.3 mm and 0.2 mm a metre:
 * Measuring Instruments Directive 2014/32/EU, annex X, from memory). Nobody can find that on site.
 */
export const HAIR_MM = 0.3, HAIR_SHARE = 0.0002
/** Up to so many millimetres of spare each is worth so much length, those of the lines below besides; beyond the last nothing is gained. */
const LEVELS: readonly (readonly [mm: number, price: number])[] = [[0.25, 20], [1, 4], [3, 1], [6, 0.4], [10, 0.2], [15, 0.1]]
const MOST_MM = 15, ROUNDS = 8, PULL_ROUNDS = 12
const FIRST_MOVE_MM = 8, MOST_MOVE_MM = 20, LEAST_MOVE_MM = 0.3
/** a round that brings less is the last, mm of length */
const LEAST_GAIN_MM = 0.01
const LEAST_STIFFNESS = 1e-4, ERROR_MM = 1e-3
/** what is missing after a move, because clearances do not change in straight lines, is made good by corners that go so many times as far */
const CORRECTION_REACH = 10, CORRECTION_ERROR_MM = 1e-4

/** Changes the courses of those that lack nothing. */
export function withMargin({ space, fixed, work }: Scene, layings: readonly Laying[], missing: readonly number[]): void {
  const placed = layings.map((laying) => laying.course === null ? null : laying.placed())
  const crossingsOf = (i: number): number => planCrossings([placed[i]!], placed.filter((one, k): one is PlacedRun => k !== i && one !== null)).length
  for (const [i, laying] of layings.entries()) {
    const { course } = laying
    if (course === null || missing[i] > 0 || course.variableCount === 0 || work.isOver) continue
    const ducts = [...fixed, ...standingDucts(layings.filter((other) => other !== laying))]
    const before = course.copy(), was = placed[i], crossings = crossingsOf(i)
    // others have moved since it was pulled taut
    const { missingMm: [missingMm], rounds } = settle(space.context, [course], ducts, { rounds: PULL_ROUNDS, mendRounds: 0 })
    work.add(rounds * SETTLE_STEPS)
    if (missingMm > 0 || course.lengthMm() > before.lengthMm()) {
      course.xyz.set(before.xyz)
      course.shape()
    }
    widen(new Judge(space.context, ducts), course, (1 + HAIR_SHARE) * course.lengthMm() + HAIR_MM)
    placed[i] = laying.placed()
    if (crossingsOf(i) <= crossings) continue
    laying.course = before
    placed[i] = was
  }
}

const lookMm = MOST_MM + 2 * MOST_MOVE_MM
const soft = LEVELS.map(([, price]) => new Rows(price)), hair = new Rows(MISSING_PRICE)

/** Moves one course's corners, never to where anything is missing nor to where it is longer than `mostMm`. */
function widen(judge: Judge, course: Course, mostMm: number): void {
  const n = course.variableCount, block = new Float64Array(n * n), gradient = new Float64Array(n), most = new Float64Array(n), moves = new Float64Array(n), lack = new Lack()
  const kept = Float64Array.from(course.xyz), stiffness = [{ first: 0, size: n, block }]
  const look = (): void => {
    course.shape()
    judge.alone(course, 0, curveBounds(course.elements, course.elementCount), lookMm, lack)
  }
  const isWell = (): boolean => lack.worstMm === 0 && course.lengthMm() <= mostMm
  look()
  if (!isWell()) return
  let worth = course.lengthMm() + priceOfNearness(lack.rows), trustMm = FIRST_MOVE_MM, isStale = false, curvedMm = 0
  for (let round = 0; round < ROUNDS && trustMm > LEAST_MOVE_MM; round++) {
    if (isStale) look()
    isStale = false
    writeLengthSlope(course, 0, gradient)
    writeStiffness(course, LEAST_STIFFNESS, block)
    most.fill(trustMm)
    hair.clear()
    for (let v = 0; v < n; v++) hair.put(v, -gradient[v])
    hair.close(course.lengthMm() + curvedMm - mostMm)
    LEVELS.forEach(([mm], k) => lack.rows.raisedInto(soft[k], mm, trustMm))
    leastMoves([lack.rows, hair, ...soft], gradient, stiffness, most, ERROR_MM, moves)
    course.moveBy(moves, 0)
    look()
    if (lack.sumMm > 0) {
      gradient.fill(0)
      writeEvenStiffness(n, 1, block)
      most.fill(Math.min(trustMm, CORRECTION_REACH * lack.sumMm))
      leastMoves([lack.rows], gradient, stiffness, most, CORRECTION_ERROR_MM, moves)
      course.moveBy(moves, 0)
      look()
    }
    const next = course.lengthMm() + priceOfNearness(lack.rows)
    if (isWell() && next < worth) {
      const gained = worth - next
      kept.set(course.xyz)
      worth = next
      trustMm = Math.min(MOST_MOVE_MM, 1.5 * trustMm)
      if (gained < LEAST_GAIN_MM) break
    } else if (isWell() && next < worth + LEAST_GAIN_MM) break
    else {
      // length does not change in straight lines either: what it grew beyond what was allowed is kept back the next time
      const overMm = course.lengthMm() - mostMm
      if (overMm > 0) curvedMm += 1.2 * overMm
      course.xyz.set(kept)
      trustMm *= overMm > 0 ? 0.8 : 0.4
      isStale = true
    }
  }
  course.xyz.set(kept)
  course.shape()
}

/** What is lost by lying nearer than the last level to anything, mm of length. */
function priceOfNearness({ count, least, kind }: Rows): number {
  let sum = 0
  for (let k = 0; k < count;) {
    if (kind[k] === Rows.LEG) {
      k++
      continue
    }
    // of rows that go together only the nearest place counts
    let room = -least[k]
    for (k++; k < count && kind[k] === Rows.FURTHER; k++) room = Math.min(room, -least[k])
    for (const [mm, price] of LEVELS) if (room < mm) sum += price * (mm - room)
  }
  return sum
}
