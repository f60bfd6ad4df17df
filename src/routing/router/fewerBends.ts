/** Laid runs with corners left out where the rest still clears: each try is pulled taut beside all the others, which stay. */
import type { Vec } from '../threadVector.ts'
import { Course } from './course.ts'
import { SHARE_OF_IMPROVING } from './improve.ts'
import type { Laying } from './laying.ts'
import { settleTogether, worthOf, type Scene } from './negotiate.ts'

const ROUNDS = 16

/** Changes the courses of those that lack nothing. */
export function withFewerBends(scene: Scene, layings: readonly Laying[], missing: readonly number[]): void {
  for (const [i, laying] of layings.entries()) {
    scene.work.progress.reached(i, layings.length, null, SHARE_OF_IMPROVING + (1 - SHARE_OF_IMPROVING) * i / layings.length)
    if (laying.course === null || missing[i] > 0) continue
    for (let corner = 2; corner < laying.course.count - 2;) {
      if (scene.work.isOver) return
      const isBetter = tryWithout(scene, layings, laying, corner)
      // a corner that has gone may free the one before it
      corner = isBetter ? Math.max(2, corner - 1) : corner + 1
    }
  }
}

/** The corner and its neighbour made one, then left out. */
function tryWithout(scene: Scene, layings: readonly Laying[], laying: Laying, corner: number): boolean {
  const old = laying.course!, { points } = old
  const tries: Vec[][] = [points.filter((_, i) => i !== corner)]
  const next = points[corner + 1], here = points[corner]
  if (corner + 1 < points.length - 2) {
    const middle: Vec = [(here[0] + next[0]) / 2, (here[1] + next[1]) / 2, (here[2] + next[2]) / 2]
    tries.push([...points.slice(0, corner), middle, ...points.slice(corner + 2)])
  }
  for (const tried of tries) {
    laying.course = new Course(old.ends, tried)
    const [missingMm] = settleTogether(scene, [laying], layings.filter((one) => one !== laying), ROUNDS)
    if (missingMm === 0 && worthOf(scene.space, laying.course) < worthOf(scene.space, old)) return true
  }
  laying.course = old
  return false
}
