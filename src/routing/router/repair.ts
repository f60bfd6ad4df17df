/** What lacks room after all runs were pulled taut is taken up and laid again, alone or with those that it is at odds with. */
import { isSpigot } from '#assembly/runs.ts'
import { DUCT_CODE } from '#checks/requirement.ts'
import type { Course } from './course.ts'
import { inTheWayOf, missingBetween, type Laying } from './laying.ts'
import { settleTogether, wayFor, type Scene } from './negotiate.ts'

/** going through another is dearer than any way round that is worth having, mm */
const THROUGH_MM = 3000
/** cheap enough to be taken where little else is left, mm */
const CHEAP_THROUGH_MM = 400
const ROUNDS = 30
/** Each time round another strictness: another way is found. */
const SLACKS: readonly (readonly number[])[] = [[3, -0.1], [-0.1], [1, -1], [6, -2], [2, -3]]
/** a run nearer than so much over what is required moves along, mm */
const BESIDE_MM = 10

/** How the runs lie, and what each lacks, mm. */
interface State { readonly layings: Laying[], readonly missing: number[] }

/**
 * @param layings is changed: a run may have another spigot afterwards
 * @param missing what each lacks; is changed
 */
export function repair(scene: Scene, layings: Laying[], missing: number[], tries: number, mayChangePorts: (laying: Laying) => boolean): void {
  const gapMm = scene.space.context.clearances.mm[DUCT_CODE]
  const tried = new Map<string, number>()
  for (let k = 0; k < tries && !scene.work.isOver; k++) {
    // the one that was tried least, of those the worst
    const bad = layings.map((_, i) => i).filter((i) => missing[i] > 0)
    if (bad.length === 0) return
    scene.work.progress.reached(layings.length - bad.length, layings.length, null, k / tries)
    const count = (i: number): number => tried.get(layings[i].run.id) ?? 0
    const worst = bad.reduce((best, i) => count(i) < count(best) || count(i) === count(best) && missing[i] > missing[best] ? i : best)
    const kind = count(worst)
    tried.set(layings[worst].run.id, kind + 1)
    const rivals = layings.map((_, i) => i).filter((i) => i !== worst && layings[i].course !== null && layings[worst].course !== null && missingBetween(layings[worst].course!, layings[i].course!, gapMm) > 0)
    const before: State = { layings: layings.map(copied), missing: [...missing] }
    const moved = layAgain(scene, gapMm, layings, worst, rivals, kind, mayChangePorts)
    if (moved === null) continue
    const group = withNeighbours(layings, moved, gapMm)
    const lacks = settleTogether(scene, group.map((i) => layings[i]), layings.filter((_, i) => !group.includes(i)), ROUNDS)
    group.forEach((i, n) => { missing[i] = lacks[n] })
    if (badnessOf(missing) < badnessOf(before.missing)) continue
    before.layings.forEach((laying, i) => {
      layings[i] = laying
      missing[i] = before.missing[i]
    })
  }
}

function copied(laying: Laying): Laying {
  const copy: Laying = Object.assign(Object.create(Object.getPrototypeOf(laying) as object) as Laying, laying)
  copy.course = laying.course?.copy() ?? null
  return copy
}

/** A run that lacks anything counts most, then how much. */
export function badnessOf(missing: readonly number[]): number {
  return missing.reduce((sum, mm) => sum + (mm > 0 ? 30 + Math.min(mm, 100) : 0), 0)
}

/** @returns which runs were laid again; null when nothing new was found */
function layAgain(scene: Scene, gapMm: number, layings: Laying[], worst: number, rivals: readonly number[], kind: number, mayChangePorts: (laying: Laying) => boolean): number[] | null {
  const slacks = SLACKS[Math.floor(kind / (rivals.length === 0 ? 1 : 4)) % SLACKS.length], patience = kind === 0 ? 1 : 2
  const lay = (i: number, throughMm = THROUGH_MM): boolean => {
    const course: Course | null = wayFor(scene, layings[i], layings, throughMm, { slacks, patience })
    if (course !== null) layings[i].course = course
    return course !== null
  }
  if (rivals.length === 0 && kind % 2 === 1) {
    // at odds with what stands still only: the others make way for another course
    if (!lay(worst, CHEAP_THROUGH_MM)) return null
    const inTheWay = inTheWayOf(layings[worst], layings, gapMm).map((one) => layings.indexOf(one))
    return inTheWay.every((i) => lay(i)) ? [worst, ...inTheWay] : null
  }
  const rival = rivals.length === 0 ? -1 : rivals[kind % rivals.length]
  switch (rival < 0 ? 0 : kind % 4) {
    case 0: return lay(worst) ? [worst] : null
    case 1: {
      // the rival gives way
      return lay(rival) ? [rival] : null
    }
    case 2: {
      layings[rival].course = null
      return lay(worst) && lay(rival) ? [worst, rival] : null
    }
    default: {
      const a = layings[worst].start, b = layings[rival].start
      const mayChange = isSpigot(a) && isSpigot(b) && a.equipment === b.equipment && a.spigot.diameterMm === b.spigot.diameterMm
        && layings[worst].isReversed === layings[rival].isReversed && mayChangePorts(layings[worst]) && mayChangePorts(layings[rival])
      if (!mayChange) {
        for (const i of rivals) layings[i].course = null
        if (!lay(worst)) return null
        return rivals.every(lay) ? [worst, ...rivals] : null
      }
      layings[worst] = layings[worst].atSpigot(scene.space, b)
      layings[rival] = layings[rival].atSpigot(scene.space, a)
      return lay(worst) && lay(rival) ? [worst, rival] : null
    }
  }
}

/** With those that they now lie too near to, and theirs. */
export function withNeighbours(layings: readonly Laying[], moved: readonly number[], gapMm: number): number[] {
  const group = [...moved]
  for (let hop = 0, from = 0; hop < 2; hop++) {
    const end = group.length
    for (; from < end; from++) for (let i = 0; i < layings.length; i++) {
      if (group.includes(i) || layings[i].course === null) continue
      if (missingBetween(layings[group[from]].course!, layings[i].course!, gapMm + (hop === 0 ? BESIDE_MM : 0)) > 0) group.push(i)
    }
  }
  return group
}
