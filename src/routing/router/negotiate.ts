/**
 * Many runs at once: each is laid as if what stands in its way could be bought off, and those that then lie in one place are laid again
 * at a higher price until none do (McMurchie & Ebeling, PathFinder, 1995). Then all are pulled taut together, and what still lacks
 * room is taken up and laid again about what is there.
 */
import { DUCT_CODE } from '#checks/requirement.ts'
import { centrelineOf } from '#geometry/curve/build.ts'
import { dot, minus, unit, type Vec } from '../threadVector.ts'
import type { CostField } from './costField.ts'
import { Course } from './course.ts'
import { findWay } from './findWay.ts'
import { inTheWayOf, standingDucts, type Laying, type RouteSpace } from './laying.ts'
import { OtherDucts } from './otherDucts.ts'
import type { Progress } from './progress.ts'
import { settle, type FixedDuct } from './settle.ts'
import { fieldFor, guessOf, type WayPlan } from './wayPlan.ts'

/** Work done, in steps that are the same on every machine; it may be told to stop. */
export class Work {
  done = 0
  readonly most: number
  readonly #isCancelled: () => boolean
  readonly progress: Progress

  constructor(most: number, isCancelled: () => boolean, progress: Progress) {
    this.most = most
    this.#isCancelled = isCancelled
    this.progress = progress
  }

  add(steps: number): void {
    this.done += steps
  }

  get isOver(): boolean {
    return this.done >= this.most || this.#isCancelled()
  }
}

/** a round of `settle` for one run counts as so many corners looked at */
export const SETTLE_STEPS = 4
/** the last only where the others found nothing */
const TRIES: readonly (readonly [haste: number, steps: number, isLast: boolean])[] = [[1.5, 300, false], [1.12, 350, false], [1.5, 3000, true], [1.25, 2500, true]]
/** bends cost at least so much in the last tries: where they are all but free there are too many ways to look at, mm */
const LAST_BEND_MM = 300
/** working out a field anew counts as so many */
const FIELD_STEPS = 1000
const PRICE_GROWTH = 1.8
const MOST_PRICE_MM = 3000
const MOST_ROUNDS = 14

export interface Scene { readonly space: RouteSpace, readonly fixed: readonly FixedDuct[], readonly work: Work }

/**
 * The cheapest way found for one run beside the others, at a price for going through them, and moved until it clears what stands still;
 * null when none was found. Where the first way found lacks room that moving does not give, one is looked for with less slack.
 */
export function wayFor(scene: Scene, laying: Laying, others: readonly Laying[], throughMm: number, { weights, slacks = SLACKS, patience = 1, bendPriceMm = scene.space.prices.bendMm }: WayOptions = {}): Course | null {
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
  const fields = laying.plans.map((plan) => steered(scene, laying, plan, others, throughMm))
  let best: { readonly course: Course, readonly missingMm: number } | null = null
  for (const slackMm of slacks) {
    const points = cheapest(scene, laying, fields, ducts, throughMm, slackMm, patience, bendPriceMm)
    if (points === null) continue
    const course = laying.courseOf(points)
    const { missingMm: [missingMm], rounds } = settle(space.context, [course], fixed, { rounds: 0, mendRounds: FIRST_ROUNDS })
    work.add(rounds * SETTLE_STEPS)
    if (best === null || missingMm < best.missingMm) best = { course, missingMm }
    if (missingMm === 0 || work.isOver) break
  }
  return best?.course ?? null
}

/** One leg from spigot to spigot, where they look at each other and nothing stands between; null elsewhere. */
function straightOn({ context }: RouteSpace, { ends, plans }: Laying): Course | null {
  const { from, to } = ends, way = unit(minus(to.at, from.at))
  const leastCos = Math.cos(context.assembly.job.settings.connection.offDeg * Math.PI / 180) - 1e-12
  if (dot(way, from.axis) < leastCos || -dot(way, to.axis) < leastCos) return null
  const isClear = plans[0].room.legIsClear(...from.at, ...to.at, 0, new Set([...from.exempt, ...to.exempt]))
  return isClear ? new Course(ends, [from.at, to.at]) : null
}

interface WayOptions {
  readonly weights?: ReadonlyMap<Laying, number>
  /** clearance that may be missing, tried in turn until what is found can be made to fit */
  readonly slacks?: readonly number[]
  /** times as many steps as usual */
  readonly patience?: number
  /** the job's own when left out */
  readonly bendPriceMm?: number
}

const SLACKS = [3, -0.1]
const FIRST_ROUNDS = 25, MEND_ROUNDS = 25

/** Steered round the others: in haste first, which seldom takes long, then a cheaper way is looked for, for a while. */
function cheapest({ work }: Scene, laying: Laying, fields: readonly (CostField | null)[], ducts: OtherDucts, throughMm: number, slackMm: number, patience: number, bendPriceMm: number): readonly Vec[] | null {
  let best: { readonly points: readonly Vec[], readonly cost: number } | null = null
  for (const [i, plan] of laying.plans.entries()) {
    const field = fields[i]
    for (const [haste, steps, isLast] of TRIES) {
      if (isLast && best !== null || work.isOver) break
      const found = findWay({ ...plan, field, bendPriceMm: isLast ? Math.max(bendPriceMm, LAST_BEND_MM) : bendPriceMm }, { others: ducts, throughMm, mostSteps: steps * patience, haste, slackMm })
      work.add(found.steps)
      if (found.kind === 'found' && (best === null || found.way.cost < best.cost)) best = found.way
    }
  }
  return best?.points ?? null
}

function steered({ space: { context }, work }: Scene, laying: Laying, plan: WayPlan, others: readonly Laying[], throughMm: number): CostField | null {
  const { cells } = plan
  if (cells === null || others.every((other) => other === laying || other.course === null)) return plan.field
  const traffic = new Float32Array(cells.stateCount)
  for (const other of others) {
    if (other === laying || other.course === null) continue
    const { elements, elementCount, ends } = other.course
    cells.addTraffic({ elements, count: elementCount, lengthMm: 0 }, laying.ends.radiusMm + ends.radiusMm + context.clearances.mm[DUCT_CODE], throughMm, traffic)
  }
  work.add(FIELD_STEPS)
  return fieldFor(plan, traffic)
}

const FIXED_WEIGHT = 30

/** Lays all of them; those that find no way at all keep none. @param start another leads to other courses */
export function negotiate(scene: Scene, layings: readonly Laying[], start: Start = STARTS[0]): void {
  const { space, work } = scene
  const gapMm = space.context.clearances.mm[DUCT_CODE]
  let price = start.priceMm
  let turn: readonly Laying[] = start.order(layings)
  const weights = new Map<Laying, number>()
  for (let round = 0; round < MOST_ROUNDS && turn.length > 0 && !work.isOver; round++) {
    for (const [i, laying] of turn.entries()) {
      laying.course = wayFor(scene, laying, layings, price, { weights }) ?? laying.course
      work.progress.reached(layings.length - turn.length + i + 1, layings.length, null, 1 - (1 - (i + 1) / turn.length / 2) / 2 ** round)
      if (work.isOver) break
    }
    const deep = layings.map((laying) => ({ laying, count: inTheWayOf(laying, layings, gapMm).length })).filter(({ count }) => count > 0).sort((a, b) => b.count - a.count)
    // a run that is in the way again and again becomes dearer to go through, so that others learn to go round it
    for (const { laying } of deep) weights.set(laying, (weights.get(laying) ?? 1) * 1.15)
    turn = deep.map(({ laying }) => laying)
    price = Math.min(MOST_PRICE_MM, price * PRICE_GROWTH)
  }
}

interface Start { readonly priceMm: number, readonly order: (layings: readonly Laying[]) => readonly Laying[] }

/** Which run is laid first, and how dear it is at first to go through another: each leads to other courses. */
export const STARTS: readonly Start[] = [
  { priceMm: 150, order: (layings) => layings },
  { priceMm: 400, order: (layings) => [...layings].reverse() },
  { priceMm: 250, order: (layings) => layings.map((laying) => ({ laying, mm: guessOfLaying(laying) })).sort((a, b) => b.mm - a.mm).map(({ laying }) => laying) },
]

/** About the least that a run's course costs, mm. */
export function guessOfLaying({ plans }: Laying): number {
  return Math.min(...plans.map(guessOf))
}

/** Pulls the courses taut together. @returns what each lacks, mm */
export function settleTogether({ space, fixed, work }: Scene, moving: readonly Laying[], still: readonly Laying[], rounds: number): number[] {
  const courses = moving.map(({ course }) => course!)
  const ducts = [...fixed, ...standingDucts(still)]
  const { missingMm, rounds: taken } = settle(space.context, courses, ducts, { rounds, mendRounds: MEND_ROUNDS })
  work.add(taken * moving.length * SETTLE_STEPS)
  return [...missingMm]
}

/** Bends on site beyond so many count three times: few runs should need them. */
const USUAL_BENDS = 4, BEYOND_TIMES = 2

/** What a course is worth: its length and the price of its bends, mm. */
export function worthOf({ prices }: RouteSpace, course: Course): number {
  const bends = course.count - 2
  return course.lengthMm() + prices.bendMm * (bends + BEYOND_TIMES * Math.max(0, bends - USUAL_BENDS))
}
