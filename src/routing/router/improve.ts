/** Runs that go a long way round are laid again as if others could be gone through cheaply; those then in their way are laid about them. */
import { DUCT_CODE } from '#checks/requirement.ts'
import type { Course } from './course.ts'
import { inTheWayOf, type Laying } from './laying.ts'
import { guessOfLaying, settleTogether, wayFor, worthOf, type Scene } from './negotiate.ts'
import { withNeighbours } from './repair.ts'

/** Each time a run is tried in another way. */
const WAYS: readonly { readonly throughMm: number, readonly bendTimes: number }[] = [{ throughMm: 150, bendTimes: 1.3 }, { throughMm: 400, bendTimes: 1 }, { throughMm: 1000, bendTimes: 2 }]
/** what those in its way are laid at, mm */
const ABOUT_MM = 1500
/** A run that was tried promises so much less. */
const TRIED_SHARE = 0.4
/** Who promises less is left, mm of worth; what is so much dearer before it is pulled taut does not become cheaper by that. */
const LEAST_PROMISE_MM = 100, ROUGH_MM = 600
/** of the work of making courses straighter */
export const SHARE_OF_IMPROVING = 0.7
const ROUNDS = 25, LEAST_GAIN_MM = 5

/** Changes the courses of those that lack nothing; what is taken over clears, and is worth more in all. */
export function improve(scene: Scene, layings: readonly Laying[], missing: readonly number[], tries: number): void {
  const count = new Int32Array(layings.length), leastMm = layings.map(guessOfLaying)
  for (let k = 0; k < tries && !scene.work.isOver; k++) {
    scene.work.progress.reached(Math.min(k, layings.length - 1), layings.length, null, SHARE_OF_IMPROVING * k / tries)
    const promise = layings.map(({ course }, i) => course === null || missing[i] > 0 ? 0 : (worthOf(scene.space, course) - leastMm[i]) * TRIED_SHARE ** count[i])
    const most = Math.max(...promise), i = promise.indexOf(most)
    if (!(most > LEAST_PROMISE_MM)) return
    layAnew(scene, layings, layings[i], WAYS[count[i]++ % WAYS.length])
  }
}

function layAnew(scene: Scene, layings: readonly Laying[], laying: Laying, { throughMm, bendTimes }: typeof WAYS[number]): void {
  const { space } = scene, gapMm = space.context.clearances.mm[DUCT_CODE]
  const before = new Map<Laying, Course | null>(layings.map((one) => [one, one.course]))
  const gainOf = (group: readonly Laying[]): number => group.reduce((sum, one) => sum + worthOf(space, before.get(one)!) - worthOf(space, one.course!), 0)
  const isTaken = (): boolean => {
    const course = wayFor(scene, laying, layings, throughMm, { bendPriceMm: bendTimes * space.prices.bendMm })
    if (course === null || worthOf(space, course) > worthOf(space, laying.course!)) return false
    laying.course = course
    const inTheWay = inTheWayOf(laying, layings, gapMm)
    for (const one of inTheWay) one.course = null
    for (const one of inTheWay) {
      one.course = wayFor(scene, one, layings, ABOUT_MM)
      if (one.course === null) return false
    }
    const group = withNeighbours(layings, [laying, ...inTheWay].map((one) => layings.indexOf(one)), gapMm).map((i) => layings[i])
    if (gainOf(group) < -ROUGH_MM) return false
    // pulling moves corners where they are: those of before are kept
    for (const one of group) one.course = one.course!.copy()
    return settleTogether(scene, group, layings.filter((one) => !group.includes(one)), ROUNDS).every((mm) => mm === 0) && gainOf(group) > LEAST_GAIN_MM
  }
  if (!isTaken()) for (const [one, course] of before) one.course = course
}
