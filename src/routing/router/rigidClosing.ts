/**
 * Ways to end a rigid run exactly: from a leg that goes on as long as is wanted to the line on which the other end lies, straight,
 * by one listed fitting or by two.
 */
import { apart, cross, dot, minus, plus, turnOf, unit, type Vec } from '../threadVector.ts'
import { scaled, type RigidWays as AllWays } from './rigidWays.ts'
import type { WayEnd } from './wayPlan.ts'

type RigidWays = Omit<AllWays, 'turns'>

export interface Closing {
  /** after the leg that is closed */
  readonly corners: readonly Vec[]
  readonly elbows: readonly number[]
  /** all legs, from corner to corner, less what the fittings save, mm */
  readonly lengthMm: number
  /** the end is out of line, and met by the play that fittings have */
  readonly isInPlay: boolean
}

/** The leg that is to be closed: from a corner (or the first end) at `at`, direction number `way`, the first `takenMm` of it spoken for. */
export interface OpenLeg {
  readonly at: Vec
  readonly way: number
  /** by the fitting before it, insertion and all; 0 at the run's first end */
  readonly takenMm: number
  /** straight duct wanted from the run's end before a fitting's arc; 0 elsewhere */
  readonly straightMm: number
  /** how long it must be should it be the run's last */
  readonly lastMm: number
}

const ON_LINE_MM = 1e-6
/** so much more than is asked for between two fittings, so that rounding of a coordinate does not eat it, mm */
export const LEG_SPARE_MM = 0.01
/** An end so far out of line is met all the same, by the play that fittings and spigots have, mm. */
const PLAY_MM = 6
/** of the half degree that a fitting has, degrees */
const PLAY_DEG = 0.45
/** places tried where a part of the course may slide */
const SLIDES = 7

/** From the corner that ends a leg to what stands before it: how long the leg must be for a fitting there. */
export function leastLegMm({ elbows }: RigidWays, { takenMm, straightMm }: Pick<OpenLeg, 'takenMm' | 'straightMm'>, elbow: number): number {
  const { tangentMm, insertionMm, takesMm } = elbows[elbow]
  return straightMm > 0 ? tangentMm + Math.max(straightMm, insertionMm) : takenMm + takesMm + LEG_SPARE_MM
}

export function leastLastMm({ elbows }: RigidWays, { straightMm }: WayEnd, elbow: number): number {
  return elbows[elbow].tangentMm + Math.max(straightMm, elbows[elbow].insertionMm)
}

/** @param offDeg how far the job lets a duct be askew at its end; @param take is called with each way there is, whatever stands there */
export function closings(ways: RigidWays, leg: OpenLeg, goal: WayEnd, offDeg: number, take: (closing: Closing) => void): void {
  const { arrival } = ways
  const u = ways.ways[leg.way], gap = minus(goal.at, leg.at), ahead = dot(gap, u)
  const offMm = Math.hypot(...minus(gap, scaled(u, ahead)))
  const isAlong = ways.leastTurns[leg.way] === 0
  if (isAlong && ahead > leg.lastMm - ON_LINE_MM && isMet(offMm, ahead, offDeg)) take({ corners: [], elbows: [], lengthMm: apart(leg.at, goal.at), isInPlay: offMm >= ON_LINE_MM })
  for (const elbow of ways.lastTurns[leg.way]) byOne(ways, leg, goal, offDeg, elbow, take)
  if (Math.abs(dot(u, arrival)) > 1 - 1e-9) {
    alongIt(ways, leg, goal, take)
    return
  }
  for (const { way, first, second } of ways.joinings[leg.way]) {
    const det = dot(u, cross(way, arrival))
    if (Math.abs(det) < 1e-6) {
      inOnePlane(ways, leg, goal, way, first, second, take)
      continue
    }
    const s = dot(gap, cross(way, arrival)) / det, between = dot(u, cross(gap, arrival)) / det, t = dot(u, cross(way, gap)) / det
    byTwo(ways, leg, goal, way, first, second, s, between, t, take)
  }
}

/** About as much as a fitting's play, rad. */
const NEAR_RAD = 0.01

/** Fewest fittings that end a run from a corner reached one way, the one at that corner among them: 1, 2, or 3 for more. */
export function leastBends({ ways, elbows, arrival, lastTurns }: RigidWays, at: Vec, way: number, goal: WayEnd): number {
  const x = goal.at[0] - at[0], y = goal.at[1] - at[1], z = goal.at[2] - at[2], along = x * arrival[0] + y * arrival[1] + z * arrival[2]
  const ox = x - along * arrival[0], oy = y - along * arrival[1], oz = z - along * arrival[2], offMm = Math.sqrt(ox * ox + oy * oy + oz * oz)
  if (offMm <= PLAY_MM) return lastTurns[way].length > 0 ? 1 : 2
  // of a leg from here that meets the other end's line at a fitting's angle
  const u = ways[way], aside = (ox * u[0] + oy * u[1] + oz * u[2]) / offMm, ahead = dot(u, arrival)
  for (const { sin, cos } of elbows) {
    const turn = Math.acos(Math.min(1, Math.max(-1, sin * aside + cos * ahead)))
    for (const { turnRad } of elbows) if (Math.abs(turnRad - turn) < NEAR_RAD) return 2
  }
  return 3
}

/** An end out of line by no more than what a leg so long may lean. */
function isMet(offMm: number, legMm: number, offDeg: number): boolean {
  return offMm < ON_LINE_MM || offMm <= PLAY_MM && Math.atan2(offMm, legMm) * 180 / Math.PI <= Math.min(PLAY_DEG, 0.9 * offDeg)
}

function byOne(ways: RigidWays, leg: OpenLeg, goal: WayEnd, offDeg: number, elbow: number, take: (closing: Closing) => void): void {
  const u = ways.ways[leg.way], v = ways.arrival, c = dot(u, v), gap = minus(goal.at, leg.at)
  if (1 - c * c < 1e-9) return
  const s = (dot(gap, u) - c * dot(gap, v)) / (1 - c * c), t = dot(gap, v) - s * c
  if (s < leastLegMm(ways, leg, elbow) || t < leastLastMm(ways, goal, elbow)) return
  const corner = plus(leg.at, u, s)
  const offMm = apart(plus(corner, v, t), goal.at)
  if (!isMet(offMm, t, offDeg) || Math.abs(turnOf(u, minus(goal.at, corner)) - ways.elbows[elbow].turnRad) * 180 / Math.PI > PLAY_DEG) return
  take({ corners: [corner], elbows: [elbow], lengthMm: s + apart(corner, goal.at) - ways.elbows[elbow].savedMm, isInPlay: offMm >= ON_LINE_MM })
}

function byTwo(ways: RigidWays, leg: OpenLeg, goal: WayEnd, way: Vec, first: number, second: number, s: number, between: number, t: number, take: (closing: Closing) => void): void {
  const { elbows } = ways
  if (s < leastLegMm(ways, leg, first) - ON_LINE_MM || between < elbows[first].takesMm + elbows[second].takesMm + LEG_SPARE_MM - ON_LINE_MM || t < leastLastMm(ways, goal, second) - ON_LINE_MM) return
  const a = plus(leg.at, ways.ways[leg.way], s)
  take({ corners: [a, plus(a, way, between)], elbows: [first, second], lengthMm: s + between + t - elbows[first].savedMm - elbows[second].savedMm, isInPlay: false })
}

/** Legs on parallel lines, the same way or back: the leg between them may slide along. */
function alongIt(ways: RigidWays, leg: OpenLeg, goal: WayEnd, take: (closing: Closing) => void): void {
  const u = ways.ways[leg.way], isBack = dot(u, ways.arrival) < 0
  const gap = minus(goal.at, leg.at), ahead = dot(gap, u), off = minus(gap, scaled(u, ahead)), offMm = Math.hypot(...off)
  if (offMm < ON_LINE_MM) return
  const aside = unit(off)
  ways.elbows.forEach(({ turnRad, angleDeg }, first) => ways.elbows.forEach((other, second) => {
    if (Math.abs(isBack ? angleDeg + other.angleDeg - 180 : angleDeg - other.angleDeg) > 1e-9) return
    const between = offMm / Math.sin(turnRad), rest = ahead - between * Math.cos(turnRad)
    const way = plus(scaled(u, Math.cos(turnRad)), aside, Math.sin(turnRad))
    const leastS = leastLegMm(ways, leg, first), leastT = leastLastMm(ways, goal, second)
    // s + t = rest the same way, s - t = rest on the way back
    const low = isBack ? Math.max(leastS, rest + leastT) : leastS, high = isBack ? low + BACK_MM : rest - leastT
    for (const s of slidesOf(low, high)) byTwo(ways, leg, goal, way, first, second, s, between, isBack ? s - rest : rest - s, take)
  }))
}

/** how much further than it must a run goes before it comes back, mm */
const BACK_MM = 700

/** The two lines and the leg between them in one plane: it cuts the corner off, as far out as is wanted. */
function inOnePlane(ways: RigidWays, leg: OpenLeg, goal: WayEnd, way: Vec, first: number, second: number, take: (closing: Closing) => void): void {
  const u = ways.ways[leg.way], v = ways.arrival, c = dot(u, v), sine = 1 - c * c, gap = minus(goal.at, leg.at)
  const s = (dot(gap, u) - c * dot(gap, v)) / sine, t = (dot(gap, v) - c * dot(gap, u)) / sine
  if (apart(plus(scaled(u, s), v, t), gap) > ON_LINE_MM) return
  const p = (dot(way, u) - c * dot(way, v)) / sine, q = (dot(way, v) - c * dot(way, u)) / sine
  let low = ways.elbows[first].takesMm + ways.elbows[second].takesMm + LEG_SPARE_MM, high = low + FAR_MM
  for (const [whole, share, least] of [[s, p, leastLegMm(ways, leg, first)], [t, q, leastLastMm(ways, goal, second)]]) {
    if (Math.abs(share) < 1e-9) {
      if (whole < least) return
    } else if (share > 0) high = Math.min(high, (whole - least) / share)
    else low = Math.max(low, (whole - least) / share)
  }
  for (const between of slidesOf(low, high)) byTwo(ways, leg, goal, way, first, second, s - p * between, between, t - q * between, take)
}

const FAR_MM = 20_000

function slidesOf(low: number, high: number): number[] {
  if (high < low - ON_LINE_MM) return []
  if (high - low < 1) return [low]
  return Array.from({ length: SLIDES + 1 }, (_, i) => low + (high - low) * i / SLIDES)
}
