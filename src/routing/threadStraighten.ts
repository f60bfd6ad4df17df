/** Courses with fewer corners: one leg from one end's axis to the other's through every gate, and corners that can be done without. */
import { roomOf, type Passage } from './threadGates.ts'
import type { Ending } from './threadString.ts'
import type { Tried, Try } from './threadRun.ts'
import { minus, plus, turnOf, type Vec } from './threadVector.ts'

const STEPS = 20
/** More room than this is as good, mm: then the shorter way wins. */
const PLENTY_MM = 8

/** One corner on each axis and one leg between, where such a leg passes every gate and both bends fit: the one with most room, or null. */
export function byOneLeg(from: Ending, to: Ending | null, passages: readonly Passage[], bendRadiusMm: number): Vec[] | null {
  if (to === null || from.axis === null || to.axis === null || passages.some(({ kind }) => kind === 'point')) return null
  const reachMm = Math.hypot(...minus(to.at, from.at)) + bendRadiusMm
  let best = { s: 0, t: 0, worth: 0 }
  const offer = (s: number, t: number): void => {
    const worth = worthOf(from, to, passages, bendRadiusMm, s, t)
    if (worth > best.worth) best = { s, t, worth }
  }
  for (let i = 0; i <= STEPS; i++) for (let j = 0; j <= STEPS; j++) offer(from.straightMm + reachMm * i / STEPS, to.straightMm + reachMm * j / STEPS)
  if (!(best.worth > 0)) return null
  for (let step = reachMm / STEPS / 2; step > 1; step /= 1.7) {
    const { s, t } = best
    for (const ds of [-step, 0, step]) for (const dt of [-step, 0, step]) offer(s + ds, t + dt)
  }
  return [from.at, plus(from.at, from.axis, best.s), plus(to.at, to.axis, best.t), to.at]
}

/** 0 where it does not pass, or a bend has no room; else grows with the room and falls with the length. */
function worthOf(from: Ending, to: Ending, passages: readonly Passage[], bendRadiusMm: number, s: number, t: number): number {
  const a = plus(from.at, from.axis!, s), b = plus(to.at, to.axis!, t), leg = minus(b, a), size = Math.hypot(...leg)
  if (!(size > 0)) return 0
  const back: Vec = [-leg[0], -leg[1], -leg[2]]
  const tangentA = bendRadiusMm * Math.tan(Math.min(turnOf(from.axis!, leg), 3) / 2), tangentB = bendRadiusMm * Math.tan(Math.min(turnOf(to.axis!, back), 3) / 2)
  if (s < from.straightMm + tangentA || t < to.straightMm + tangentB || size < tangentA + tangentB) return 0
  let room = PLENTY_MM
  for (const passage of passages) {
    if (passage.kind === 'point') continue
    // where the leg is bent within the joist its own slant is not that of the duct: the checks will say
    room = Math.min(room, Math.max(roomOf(passage, a, b), roomOf(passage, from.at, a), roomOf(passage, b, to.at)))
    if (room <= 0) return 0
  }
  return room / PLENTY_MM + 1 / (1 + (s + size + t) / 1000)
}

/** The same course without the corners that the checks do not miss; the ends' own corners stay. */
export function withoutNeedlessCorners(attempt: Try, course: Tried): Tried {
  let best = course
  for (let i = 2; i < best.points.length - 2;) {
    const tried = attempt(best.points.filter((_, k) => k !== i))
    if (tried.badness === 0) best = tried
    else i++
  }
  return best
}
