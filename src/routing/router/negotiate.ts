/**
 * Many runs at once: each is laid as if what stands in its way could be bought off, and those that then lie in one place are laid again
 * at a higher price until none do (McMurchie & Ebeling, PathFinder, 1995). Then all are pulled taut together, and what still lacks
 * room is taken up and laid again about what is there.
 */
import { DUCT_CODE } from '#checks/requirement.ts'
import { centrelineOf } from '#geometry/curve/build.ts'
import { dot, minus, unit, type Vec } from '../threadVector.ts'
import { Course } from './course.ts'
import { findWay } from './findWay.ts'
import { SLACK_MM, missingBetween, type Laying, type RouteSpace } from './laying.ts'
import { OtherDucts } from './otherDucts.ts'
import { settle, type FixedDuct } from './settle.ts'

/** Work done, in steps that are the same on every machine; it may be told to stop. */
export class Work {
  done = 0
  readonly most: number
  readonly #isCancelled: () => boolean
  readonly #onStep: (doneRatio: number) => void

  constructor(most: number, isCancelled: () => boolean, onStep: (doneRatio: number) => void) {
    this.most = most
    this.#isCancelled = isCancelled
    this.#onStep = onStep
  }

  add(steps: number): void {
    this.done += steps
    this.#onStep(Math.min(1, this.done / this.most))
  }

  get isOver(): boolean {
    return this.done >= this.most || this.#isCancelled()
  }
}

/** a round of `settle` for one run counts as so many corners looked at */
const SETTLE_STEPS = 4
const HASTES: readonly (readonly [haste: number, steps: number])[] = [[1.08, 400], [1.3, 800], [1.6, 2500]]
/** Two runs nearer than this deep are not merely pushed apart. */
const DEEP_MM = 14
const FIRST_PRICE_MM = 150, PRICE_GROWTH = 1.8
const MOST_ROUNDS = 14

export interface Scene { readonly space: RouteSpace, readonly fixed: readonly FixedDuct[], readonly work: Work }

/**
 * The cheapest way found for one run beside the others, at a price for going through them, and moved until it clears what stands still;
 * null when none was found. Where the first way found lacks room that moving does not give, one is looked for with less slack.
 */
export function wayFor(scene: Scene, laying: Laying, others: readonly Laying[], throughMm: number, weights?: ReadonlyMap<Laying, number>): Course | null {
  const { space, fixed, work } = scene
  const ducts = new OtherDucts(space.context.clearances.mm[DUCT_CODE])
  // what cannot move must not be gone through
  for (const { curve, radiusMm } of fixed) ducts.add(curve, radiusMm, FIXED_WEIGHT)
  for (const other of others) {
    if (other === laying || other.course === null) continue
    ducts.add(centrelineOf(other.course.elements, other.course.elementCount), other.ends.radiusMm, weights?.get(other) ?? 1)
  }
  const straight = straightOn(space, laying)
  if (straight !== null && ducts.costOf(straight.elements, 0, laying.ends.radiusMm, throughMm) === 0) return straight
  let best: { readonly course: Course, readonly missingMm: number } | null = null
  for (const slackMm of SLACKS) {
    const points = cheapest(scene, laying, ducts, throughMm, slackMm)
    if (points === null) return best?.course ?? null
    const course = laying.courseOf(points)
    const { missingMm: [missingMm], rounds } = settle(space.context, [course], fixed, { rounds: 0, mendRounds: FIRST_ROUNDS })
    work.add(rounds * SETTLE_STEPS)
    if (best === null || missingMm < best.missingMm) best = { course, missingMm }
    if (missingMm === 0 || work.isOver) break
  }
  return best!.course
}

/** One leg from spigot to spigot, where they look at each other and nothing stands between; null elsewhere. */
function straightOn({ context }: RouteSpace, { ends, plans }: Laying): Course | null {
  const { from, to } = ends, way = unit(minus(to.at, from.at))
  const leastCos = Math.cos(context.assembly.job.settings.connection.offDeg * Math.PI / 180) - 1e-12
  if (dot(way, from.axis) < leastCos || -dot(way, to.axis) < leastCos) return null
  const isClear = plans[0].room.legIsClear(...from.at, ...to.at, 0, new Set([...from.exempt, ...to.exempt]))
  return isClear ? new Course(ends, [from.at, to.at]) : null
}

const SLACKS = [SLACK_MM, 1]
const FIRST_ROUNDS = 25, MEND_ROUNDS = 25

function cheapest({ work }: Scene, { plans }: Laying, others: OtherDucts, throughMm: number, slackMm: number): readonly Vec[] | null {
  for (const [haste, mostSteps] of HASTES) {
    let best: { readonly points: readonly Vec[], readonly cost: number } | null = null
    for (const plan of plans) {
      const found = findWay(plan, { others, throughMm, mostSteps, haste, slackMm })
      work.add(found.steps)
      if (found.kind === 'found' && (best === null || found.way.cost < best.cost)) best = found.way
    }
    if (best !== null) return best.points
    if (work.isOver) return null
  }
  return null
}

const FIXED_WEIGHT = 30

/** Lays all of them; those that find no way at all keep none. */
export function negotiate(scene: Scene, layings: readonly Laying[]): void {
  const { space, work } = scene
  const gapMm = space.context.clearances.mm[DUCT_CODE]
  let price = FIRST_PRICE_MM
  let turn: readonly Laying[] = layings
  const weights = new Map<Laying, number>()
  for (let round = 0; round < MOST_ROUNDS && turn.length > 0 && !work.isOver; round++) {
    for (const laying of turn) {
      laying.course = wayFor(scene, laying, layings, price, weights) ?? laying.course
      if (work.isOver) break
    }
    const deep = layings.filter(({ course }) => course !== null).map((laying) => ({
      laying, count: layings.filter((other) => other !== laying && other.course !== null && missingBetween(laying.course!, other.course, gapMm) > DEEP_MM).length,
    })).filter(({ count }) => count > 0).sort((a, b) => b.count - a.count)
    // a run that is in the way again and again becomes dearer to go through, so that others learn to go round it
    for (const { laying } of deep) weights.set(laying, (weights.get(laying) ?? 1) * 1.15)
    turn = deep.map(({ laying }) => laying)
    price *= PRICE_GROWTH
  }
}

/** Pulls the courses taut together. @returns what each lacks, mm */
export function settleTogether({ space, fixed, work }: Scene, moving: readonly Laying[], still: readonly Laying[], rounds: number): number[] {
  const courses = moving.map(({ course }) => course!)
  const ducts = [...fixed, ...still.filter(({ course }) => course !== null).map(({ course, ends }) => ({ curve: centrelineOf(course!.elements, course!.elementCount), radiusMm: ends.radiusMm }))]
  const { missingMm, rounds: taken } = settle(space.context, courses, ducts, { rounds, mendRounds: MEND_ROUNDS })
  work.add(taken * moving.length * SETTLE_STEPS)
  return [...missingMm]
}

/** What a course is worth: its length and the price of its bends, mm. */
export function worthOf({ prices }: RouteSpace, course: Course): number {
  return course.lengthMm() + prices.bendMm * (course.count - 2)
}

/** Takes up what lacks room and lays it again about the rest, dearer each time. @returns what is missing at last, by run */
export function repair(scene: Scene, layings: readonly Laying[], missing: Map<Laying, number>, tries: number): void {
  const { space, work } = scene
  const gapMm = space.context.clearances.mm[DUCT_CODE]
  const weights = new Map<Laying, number>()
  for (let k = 0; k < tries && !work.isOver; k++) {
    const bad = layings.filter((laying) => laying.course === null || missing.get(laying)! > 0)
    if (bad.length === 0) return
    for (const laying of bad) weights.set(laying, (weights.get(laying) ?? 1) * 0.7)
    const laying = bad[k % bad.length]
    const before = new Map(layings.map((one) => [one, one.course === null ? null : Float64Array.from(one.course.xyz)]))
    const oldCourses = new Map(layings.map((one) => [one, one.course])), oldMissing = new Map(missing)
    const course = wayFor(scene, laying, layings, 600 * 1.5 ** Math.floor(k / bad.length), weights)
    if (course === null) continue
    laying.course = course
    // those that it now lies too near to, and theirs, move with it
    const moving = new Set([laying])
    for (let hop = 0; hop < 2; hop++) {
      for (const one of [...moving]) for (const other of layings) {
        if (!moving.has(other) && other.course !== null && missingBetween(one.course!, other.course, gapMm + (hop === 0 ? 10 : 0)) > 0) moving.add(other)
      }
    }
    const group = [...moving]
    const lacks = settleTogether(scene, group, layings.filter((one) => !moving.has(one)), 45)
    group.forEach((one, i) => missing.set(one, lacks[i]))
    const sum = (map: Map<Laying, number>): number => layings.reduce((total, one) => total + (map.get(one)! > 0 ? 1000 + map.get(one)! : 0), 0)
    if (sum(missing) <= sum(oldMissing)) continue
    for (const one of layings) {
      one.course = oldCourses.get(one)!
      const xyz = before.get(one)!
      if (one.course !== null && xyz !== null) {
        one.course.xyz.set(xyz)
        one.course.shape()
      }
      missing.set(one, oldMissing.get(one)!)
    }
  }
}

