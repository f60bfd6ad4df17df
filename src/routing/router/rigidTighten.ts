/** Slides the legs of a rigid course along one another, every angle kept: shorter while there is room, then to where the room is largest. */
import { cross, dot, minus, plus, unit, type Vec } from '../threadVector.ts'
import { holdsFittings, leastLegsMm, lengthOf, spareOf, type RigidCourse } from './rigidCourse.ts'
import type { RigidRoom } from './rigidRoom.ts'
import type { WayEnd } from './wayPlan.ts'

/** room that is worth seeking, mm */
const ENOUGH_MM = 25
const SWEEPS = 3, HALVINGS = 12, PLACES = 8
/** what is not worth a slide, mm */
const LEAST_GAIN_MM = 0.05, LEAST_ROOM_MM = 0.5
const MOST_SHARE = 20

/** How much each leg grows for each mm of a slide that leaves both ends where they are. */
type Slide = readonly number[]

/** @param judged what a course costs by the checks, mm; Infinity where they find anything */
export function tightened(course: RigidCourse, room: RigidRoom, from: WayEnd, to: WayEnd, judged: (course: RigidCourse) => number): RigidCourse {
  let best = course, cost = judged(course), spareMm = spareOf(course, room, ENOUGH_MM)
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    let isBetter = false
    const ways = waysOf(best)
    for (const slide of slidesOf(ways).sort((a, b) => Math.abs(sumOf(b)) - Math.abs(sumOf(a)))) {
      const rate = sumOf(slide)
      const [low, high] = rangeOf(best, ways, slide, from, to)
      if (Math.abs(rate) > 1e-6) {
        const end = rate < 0 ? high : low
        let most = Math.min(Math.abs(end), FARTHEST_MM), clear = 0
        for (let k = 0, step = most; k < HALVINGS && most * Math.abs(rate) > LEAST_GAIN_MM; k++) {
          if (spareOf(slid(best, ways, slide, Math.sign(end) * (clear + step)), room, 0) >= 0) clear += step
          if (clear === most) break
          step /= 2
        }
        most = clear
        const moved = slid(best, ways, slide, Math.sign(end) * most)
        if (most * Math.abs(rate) > LEAST_GAIN_MM && holdsFittings(moved, from, to)) isBetter = take(moved) || isBetter
      } else if (spareMm < ENOUGH_MM) {
        const tries = Array.from({ length: PLACES + 1 }, (_, i) => slid(best, ways, slide, Math.max(low, -ROOM_REACH_MM) + (Math.min(high, ROOM_REACH_MM) - Math.max(low, -ROOM_REACH_MM)) * i / PLACES))
        const moved = tries.reduce((a, b) => spareOf(b, room, ENOUGH_MM) > spareOf(a, room, ENOUGH_MM) + LEAST_ROOM_MM ? b : a, best)
        if (moved !== best && holdsFittings(moved, from, to)) isBetter = take(moved) || isBetter
      }
    }
    for (let leg = 1; leg + 1 < ways.length; leg++) for (const side of [1, -1] as const) {
      const swung = shortestSwing(best, leg, side, (moved) => holdsFittings(moved, from, to) && spareOf(moved, room, 0) >= 0)
      if (swung !== null) isBetter = take(swung) || isBetter
    }
    if (!isBetter) break
  }
  return best

  function take(moved: RigidCourse): boolean {
    const movedCost = judged(moved), movedSpareMm = spareOf(moved, room, ENOUGH_MM)
    const isBetter = movedSpareMm >= 0 && (movedCost < cost - LEAST_GAIN_MM / 2 || movedCost <= cost + 1e-6 && movedSpareMm > spareMm + LEAST_ROOM_MM / 2)
    if (isBetter) [best, cost, spareMm] = [moved, movedCost, movedSpareMm]
    return isBetter
  }
}

const FARTHEST_MM = 20_000, ROOM_REACH_MM = 400

function waysOf({ points }: RigidCourse): Vec[] {
  return points.slice(1).map((point, i) => unit(minus(point, points[i])))
}

const FIRST_SWING_MM = 256, LAST_SWING_MM = 0.25

/**
 * A leg square to two parallel ones swings about one of them as the other goes along the leg after (or, with -1, before) it: every angle stays.
 * @returns the course with the shortest swing that may be; null where none is shorter
 */
function shortestSwing(course: RigidCourse, leg: number, side: 1 | -1, mayBe: (moved: RigidCourse) => boolean): RigidCourse | null {
  const ways = waysOf(course), beyond = ways[leg + 2 * side], upright = ways[leg + side]
  if (beyond === undefined || Math.hypot(...cross(ways[leg - 1], ways[leg + 1])) > 1e-7 || Math.abs(dot(ways[leg], upright)) > 1e-7 || Math.abs(dot(beyond, upright)) > 1e-7) return null
  const first = side === 1 ? leg + 1 : leg - 1
  let best: RigidCourse | null = null, at = 0, shortestMm = lengthOf(course)
  for (let step = FIRST_SWING_MM; step >= LAST_SWING_MM; step /= 2) for (const way of [1, -1]) for (;;) {
    const to = at + way * step
    const moved = { ...course, points: course.points.map((point, i) => i === first || i === first + 1 ? plus(point, beyond, to) : point) }
    const mm = lengthOf(moved)
    if (mm > shortestMm - LEAST_GAIN_MM || dot(waysOf(moved)[leg + 2 * side], beyond) < 0.5 || !mayBe(moved)) break
    at = to
    shortestMm = mm
    best = moved
  }
  return best
}

function sumOf(slide: Slide): number {
  return slide.reduce((sum, share) => sum + share, 0)
}

function slid({ points, elbows }: RigidCourse, ways: readonly Vec[], slide: Slide, byMm: number): RigidCourse {
  let off: Vec = [0, 0, 0]
  const moved = points.map((point, i) => {
    if (i === 0 || i === points.length - 1) return point
    off = plus(off, ways[i - 1], slide[i - 1] * byMm)
    return plus(point, off)
  })
  return { points: moved, elbows }
}

/** How far a slide may go either way before a leg is too short for its fittings. */
function rangeOf(course: RigidCourse, ways: readonly Vec[], slide: Slide, from: WayEnd, to: WayEnd): [number, number] {
  const { points } = course, leastMm = leastLegsMm(course, from, to)
  let low = -FARTHEST_MM, high = FARTHEST_MM
  slide.forEach((share, i) => {
    if (share === 0) return
    const restMm = Math.max(0, dot(minus(points[i + 1], points[i]), ways[i]) - leastMm[i])
    if (share < 0) high = Math.min(high, restMm / -share)
    else low = Math.max(low, -restMm / share)
  })
  return [Math.min(low, 0), Math.max(high, 0)]
}

/** Of legs that have no others in the plane, or the space, that they span: those that a slide moves. Corners between them go along. */
function slidesOf(ways: readonly Vec[]): Slide[] {
  const slides: Slide[] = [], n = ways.length
  const add = (...parts: readonly (readonly [number, number])[]): void => {
    if (parts.some(([, share]) => !(Math.abs(share) < MOST_SHARE) || Math.abs(share) < 1 / MOST_SHARE)) return
    const slide = new Array<number>(n).fill(0)
    for (const [i, share] of parts) slide[i] = share
    slides.push(slide)
  }
  const isParallel = (i: number, j: number): boolean => Math.hypot(...cross(ways[i], ways[j])) < 1e-7
  for (let i = 0; i < n; i++) for (let j = i + 1; j < n; j++) {
    if (isParallel(i, j)) {
      add([i, 1], [j, -Math.sign(dot(ways[i], ways[j]))])
      continue
    }
    const normal = cross(ways[i], ways[j]), size = dot(normal, normal)
    for (let k = j + 1; k < n; k++) {
      if (isParallel(i, k) || isParallel(j, k)) continue
      const lift = dot(normal, ways[k])
      if (Math.abs(lift) < 1e-7) {
        // k in the plane of both: k = a i + b j
        add([i, -dot(cross(ways[k], ways[j]), normal) / size], [j, -dot(cross(ways[i], ways[k]), normal) / size], [k, 1])
        continue
      }
      for (let m = k + 1; m < n; m++) {
        const d = ways[m]
        add([i, -dot(d, cross(ways[j], ways[k])) / lift], [j, -dot(ways[i], cross(d, ways[k])) / lift], [k, -dot(normal, d) / lift], [m, 1])
      }
    }
  }
  return slides
}
