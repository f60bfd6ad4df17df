/** Courses with fewer corners: one leg from one end's axis to the other's through every gate, and corners that can be done without. */
import { roomOf, type Passage } from './threadGates.ts'
import type { Ending } from './threadString.ts'
import type { Tried, Try } from './threadRun.ts'
import { apart, dot, minus, plus, turnOf, unit, type Vec } from './threadVector.ts'

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

/** Most courses that are checked for the sake of fewer corners. */
const MOST_TRIES = 16

/** The same course with fewer corners where the checks allow it: one left out, or two made one. The ends' own corners stay on their axes. */
export function withoutNeedlessCorners(attempt: Try, course: Tried, passages: readonly Passage[]): Tried {
  let best = course
  for (let tries = 0, i = 2; i < best.points.length - 2;) {
    const fewer = fewerAt(best.points, i, passages)
    let isFewer = false
    for (const points of fewer) {
      if (tries++ >= MOST_TRIES) return best
      const tried = attempt(points)
      if (tried.badness > 0) continue
      best = tried
      isFewer = true
      break
    }
    // a corner that has gone may free the one before it
    i = isFewer ? Math.max(2, i - 1) : i + 1
  }
  return best
}

const SHARES = [0.5, 0.25, 0.75, 0, 1]

/** Courses with one corner less about corner i, that leave room at every gate for a straight duct. */
function fewerAt(points: readonly Vec[], i: number, passages: readonly Passage[]): Vec[][] {
  const courses: Vec[][] = []
  const [a, b, c, d] = points.slice(i - 1, i + 3)
  // the first and last of `before` stay
  const isRoomy = (legs: readonly Vec[], before: readonly Vec[]): boolean => passages.every((passage) => passage.kind === 'point'
    ? !before.slice(1, -1).some((at) => apart(at, passage.at) < 1) : !roomAlong(passage, before).isMet || roomAlong(passage, legs).room >= 0)
  if (isRoomy([a, c], [a, b, c])) courses.push(points.filter((_, k) => k !== i))
  // the next corner is the other end's own where nothing comes after it
  if (d === undefined || i + 1 > points.length - 3) return courses
  const merged = [meetingPlace(a, b, d, c), ...SHARES.map((share) => plus(b, minus(c, b), share))]
  for (const at of merged) {
    if (at !== null && isRoomy([a, at, d], [a, b, c, d])) courses.push([...points.slice(0, i), at, ...points.slice(i + 2)])
  }
  return courses
}

function roomAlong(passage: Passage & { readonly kind: 'joist' }, points: readonly Vec[]): { isMet: boolean, room: number } {
  let room = -Infinity
  for (let k = 0; k + 1 < points.length; k++) room = Math.max(room, roomOf(passage, points[k], points[k + 1]))
  return { isMet: room > -Infinity, room }
}

/** Halfway between where a -> b and d -> c, gone on, come nearest to each other; null when they part. */
function meetingPlace(a: Vec, b: Vec, d: Vec, c: Vec): Vec | null {
  const u = unit(minus(b, a)), v = unit(minus(c, d)), k = dot(u, v), sine = 1 - k * k
  if (sine < 1e-6) return null
  const gap = minus(d, a), s = (dot(gap, u) - k * dot(gap, v)) / sine, t = (k * dot(gap, u) - dot(gap, v)) / sine
  return s > 0 && t > 0 ? plus(plus(a, u, s), minus(plus(d, v, t), plus(a, u, s)), 0.5) : null
}
