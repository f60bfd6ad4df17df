/** All runs laid together: from nothing, where some are left without room all over again from another start, and then made shorter and straighter. */
import type { Course } from './course.ts'
import { withFewerBends } from './fewerBends.ts'
import { improve } from './improve.ts'
import type { Laying } from './laying.ts'
import { withMargin } from './margin.ts'
import { STARTS, negotiate, settleTogether, type Scene } from './negotiate.ts'
import { badnessOf, repair } from './repair.ts'

const SETTLE_ROUNDS = 50, REPAIRS_PER_RUN = 0.8, IMPROVES_PER_RUN = 1.5

interface Proves { readonly isHopeless: (laying: Laying) => boolean, readonly isFull: (layings: readonly Laying[], lacks: ReadonlySet<string>) => boolean }

/**
 * @param layings is changed: a run may have another spigot afterwards
 * @param proves asked of a run for which no way was found, and of those that lack room, whether there is proved to be none, so that no more work is done for them
 */
export function layAll(scene: Scene, layings: Laying[], mayChangePorts: (laying: Laying) => boolean, proves: Proves): void {
  const missing = layFromStarts(scene, layings, mayChangePorts, proves)
  scene.work.progress.begin('straightening', layings.length)
  improve(scene, layings, missing, IMPROVES_PER_RUN * layings.length)
  withFewerBends(scene, layings, missing)
  withMargin(scene, layings, missing)
}

/** @returns what each lacks, mm; Infinity without a course, and 0 where there is proved to be none */
function layFromStarts(scene: Scene, layings: Laying[], mayChangePorts: (laying: Laying) => boolean, proves: Proves): number[] {
  const given = [...layings], { progress } = scene.work, hopeless = new Map<string, boolean>()
  const isLost = (laying: Laying): boolean => {
    if (laying.course !== null || scene.work.isOver) return false
    const known = hopeless.get(laying.run.id) ?? proves.isHopeless(laying)
    hopeless.set(laying.run.id, known)
    return known
  }
  let best: { readonly layings: readonly Laying[], readonly courses: readonly (Course | null)[], readonly missing: number[], readonly badness: number } | null = null
  for (const start of STARTS) {
    given.forEach((laying, i) => {
      laying.course = null
      layings[i] = laying
    })
    progress.begin('looking', layings.length)
    negotiate(scene, layings, start)
    const missing = layings.map((laying) => isLost(laying) ? 0 : Infinity), laid = layings.map((_, i) => i).filter((i) => layings[i].course !== null)
    progress.begin('pulling-taut')
    settleTogether(scene, laid.map((i) => layings[i]), [], SETTLE_ROUNDS).forEach((mm, n) => { missing[laid[n]] = mm })
    progress.begin('making-room', layings.length)
    repair(scene, layings, missing, REPAIRS_PER_RUN * layings.length, mayChangePorts)
    const badness = badnessOf(missing)
    if (best === null || badness < best.badness) best = { layings: [...layings], courses: layings.map(({ course }) => course), missing, badness }
    if (badness === 0 || scene.work.isOver || proves.isFull(layings, new Set(layings.flatMap(({ run }, i) => missing[i] > 0 ? [run.id] : [])))) break
  }
  best!.layings.forEach((laying, i) => {
    layings[i] = laying
    laying.course = best!.courses[i]
  })
  return best!.missing
}
