/** The fittings of a rigid duct, the directions that its legs may take, and which fitting turns one into which. */
import type { DuctType } from '#model/index.ts'
import { cross, dot, minus, plus, turnOf, unit, type Vec } from '../threadVector.ts'

export type RigidType = Extract<DuctType, { kind: 'rigid' }>

/** A listed fitting and what it takes of a course, mm. */
export interface Elbow {
  readonly angleDeg: number
  readonly turnRad: number
  readonly sin: number
  readonly cos: number
  readonly radiusMm: number
  readonly insertionMm: number
  /** of each of its legs, to its arc: radius times the tangent of half the turn */
  readonly tangentMm: number
  /** the same and what slides into the duct */
  readonly takesMm: number
  /** its arc is so much shorter than its two tangents */
  readonly savedMm: number
  /** not the first of its angle, so that a waypoint must say its radius */
  readonly isTold: boolean
}

/** Fittings that all but turn a duct back are no corners, degrees. */
const MOST_DEG = 170

export function elbowsOf({ fittings }: RigidType): Elbow[] {
  const isAgain = (i: number): boolean => fittings.findIndex(({ angleDeg, radiusMm }) => angleDeg === fittings[i].angleDeg && radiusMm === fittings[i].radiusMm) < i
  return fittings.flatMap(({ angleDeg, radiusMm, insertionMm }, i) => {
    if (angleDeg > MOST_DEG || isAgain(i)) return []
    const turnRad = angleDeg * Math.PI / 180, tangentMm = radiusMm * Math.tan(turnRad / 2)
    return [{
      angleDeg, turnRad, sin: Math.sin(turnRad), cos: Math.cos(turnRad), radiusMm, insertionMm, tangentMm, takesMm: tangentMm + insertionMm, savedMm: 2 * tangentMm - radiusMm * turnRad,
      isTold: fittings.findIndex((other) => other.angleDeg === angleDeg) < i,
    }]
  })
}

export interface Turn { readonly way: number, readonly elbow: number }
/** A leg between two last fittings, so that the run ends up going the arrival's way. */
export interface Joining { readonly way: Vec, readonly first: number, readonly second: number }

export interface RigidWays {
  readonly elbows: readonly Elbow[]
  /** unit directions */
  readonly ways: readonly Vec[]
  /** what each may turn into by one fitting */
  readonly turns: readonly (readonly Turn[])[]
  readonly start: number
  readonly arrival: Vec
  /** fittings that turn each direction straight into the arrival's */
  readonly lastTurns: readonly (readonly number[])[]
  /** legs between two fittings that turn each into it; for those along the arrival see `rigidClosing.ts` */
  readonly joinings: readonly (readonly Joining[])[]
  /** fewest fittings that turn each into it, 0 for the arrival itself */
  readonly leastTurns: readonly number[]
}

const SAME_RAD = 1e-7
/** more directions than this are not looked at */
const MOST_WAYS = 400

/**
 * Legs go along the three axes of the frame, the two ends' own and their level ways, and at a listed angle from one of them towards another.
 * @param frame unit directions square to each other
 * @param start the way out of the first end; @param arrival the way into the other
 */
export function rigidWays(type: RigidType, frame: readonly [Vec, Vec, Vec], start: Vec, arrival: Vec): RigidWays {
  const elbows = elbowsOf(type)
  const mains: Vec[] = [], ways: Vec[] = []
  const add = (list: Vec[], way: Vec): void => {
    if (list.length < MOST_WAYS && Math.hypot(...way) > 0.5 && list.every((other) => turnOf(other, way) > SAME_RAD)) list.push(way)
  }
  const up: Vec = [0, 0, 1]
  for (const way of [start, arrival, ...frame, unit([start[0], start[1], 0]), unit(cross(up, start)), unit([arrival[0], arrival[1], 0]), unit(cross(up, arrival))]) {
    add(mains, way)
    add(mains, opposite(way))
  }
  for (const way of mains) add(ways, way)
  const angles = [...new Set(elbows.map(({ turnRad }) => turnRad))]
  for (const a of mains) for (const b of mains) {
    const apart = turnOf(a, b)
    if (apart < SAME_RAD || apart > Math.PI - SAME_RAD) continue
    const aside = unit(minus(b, scaled(a, dot(a, b))))
    for (const turnRad of angles) add(ways, plus(scaled(a, Math.cos(turnRad)), aside, Math.sin(turnRad)))
  }
  const last = ways.map((way) => joined(elbows, way, arrival))
  const isMain = (i: number): boolean => i < mains.length
  const turns = ways.map((from, i) => ways.flatMap((to, way): Turn[] => {
    const turn = turnOf(from, to)
    if (turn < SAME_RAD || !isMain(i) && !isMain(way) && !isInOnePlane(mains, from, to) || isMain(i) && !isMain(way) && !mains.some((main) => turnOf(main, from) > SAME_RAD && turnOf(main, from) < Math.PI - SAME_RAD && Math.abs(dot(cross(from, main), to)) < SAME_RAD)) return []
    return elbows.flatMap(({ turnRad }, elbow) => Math.abs(turnRad - turn) < SAME_RAD ? [{ way, elbow }] : [])
  }))
  return {
    elbows, ways, turns, start: 0, arrival,
    lastTurns: last.map((one) => one.lastTurns[0]), joinings: last.map((one) => one.joinings[0]), leastTurns: last.map((one) => one.leastTurns[0]),
  }
}

/** What ends a run that goes one way and is to arrive another: what `closings` needs of that one way, as number 0. */
export function joined(elbows: readonly Elbow[], way: Vec, arrival: Vec): Omit<RigidWays, 'turns'> {
  const apart = turnOf(way, arrival)
  const lastTurns = elbows.flatMap(({ turnRad }, elbow) => Math.abs(turnRad - apart) < SAME_RAD ? [elbow] : [])
  // the sum of two turns is at least what lies between the ways, and their difference at most
  const byTwo = elbows.some(({ turnRad: a }) => elbows.some(({ turnRad: b }) => a + b >= apart - SAME_RAD && Math.abs(a - b) <= apart + SAME_RAD))
  return { elbows, ways: [way], start: 0, arrival, lastTurns: [lastTurns], joinings: [joiningsOf(elbows, way, arrival)], leastTurns: [apart < SAME_RAD ? 0 : lastTurns.length > 0 ? 1 : byTwo ? 2 : 3] }
}

function opposite([x, y, z]: Vec): Vec {
  return [-x, -y, -z]
}

export function scaled([x, y, z]: Vec, k: number): Vec {
  return [x * k, y * k, z * k]
}

/** Both in the plane of two of the main ways. */
function isInOnePlane(mains: readonly Vec[], a: Vec, b: Vec): boolean {
  const normal = cross(a, b)
  return mains.filter((main) => Math.abs(dot(main, normal)) < SAME_RAD).some((main, _, list) => list.some((other) => Math.hypot(...cross(main, other)) > SAME_RAD))
}

/** Where the cone about one way and the cone about the other meet: two directions at most for each pair of fittings. */
function joiningsOf(elbows: readonly Elbow[], u: Vec, v: Vec): Joining[] {
  const c = dot(u, v), sine = 1 - c * c
  if (sine < 1e-9) return []
  const normal = cross(u, v)
  return elbows.flatMap(({ turnRad: alpha }, first) => elbows.flatMap(({ turnRad: beta }, second): Joining[] => {
    const x = (Math.cos(alpha) - c * Math.cos(beta)) / sine, y = (Math.cos(beta) - c * Math.cos(alpha)) / sine
    const left = 1 - x * x - y * y - 2 * x * y * c
    // a hair out of the plane of both is in it
    if (left < -1e-9) return []
    const z = Math.sqrt(Math.max(0, left) / sine), flat = plus(scaled(u, x), v, y)
    return z < 1e-5 ? [{ way: unit(flat), first, second }] : [1, -1].map((side) => ({ way: plus(flat, normal, side * z), first, second }))
  }))
}
