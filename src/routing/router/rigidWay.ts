/**
 * The cheapest course of listed fittings for one rigid run: A* over corners on the planes of `rigidPlanes.ts` and the directions of
 * `rigidWays.ts`, ended exactly by `rigidClosing.ts`. Legs and bends are held to the exact kernels without slack as their turn comes, and what
 * is found has passed the checks.
 */
import { writeLeg } from '#geometry/curve/build.ts'
import { ELEMENT_STRIDE } from '#geometry/curve/centreline.ts'
import { dot, plus, type Vec } from '../threadVector.ts'
import { writeBend } from './ductRoom.ts'
import type { Prices } from './laying.ts'
import { closings, leastBends, leastLastMm, leastLegMm, type OpenLeg } from './rigidClosing.ts'
import { spareOf, type RigidCourse } from './rigidCourse.ts'
import type { RigidPlanes } from './rigidPlanes.ts'
import type { RigidRoom } from './rigidRoom.ts'
import type { RigidWays } from './rigidWays.ts'
import { WayHeap } from './wayHeap.ts'
import type { WayEnd } from './wayPlan.ts'

export interface RigidAsk {
  readonly ways: RigidWays
  readonly planes: RigidPlanes
  readonly room: RigidRoom
  readonly from: WayEnd
  readonly to: WayEnd
  readonly offDeg: number
  readonly prices: Prices
  /** in plan, how often a leg passes over or under other runs */
  readonly crossed: (a: Vec, b: Vec) => number
  /** what a whole course costs by the checks, mm; Infinity where they find anything to put right */
  readonly judged: (course: RigidCourse) => number
}

export interface RigidBudget {
  /** more than 1: a little dearer ways are found sooner */
  readonly haste: number
  readonly mostSteps: number
  /** dearer ways are not wanted, mm */
  readonly mostCost: number
  /** about what is still to come from a place, mm, where more is known than the straight way; Infinity where a run has no business */
  readonly guess?: (at: Vec) => number
  /** told of the steps done, now and then; false ends the search */
  readonly mayGoOn?: (steps: number) => boolean
}

/** how often that is, steps */
export const SPELL = 300

export interface RigidFound {
  readonly course: RigidCourse | null
  readonly cost: number
  readonly steps: number
  /** whether every way there is on these planes was looked at, or none can be cheaper than the one found */
  readonly isWhole: boolean
}

interface Node { readonly before: number, readonly at: Vec, readonly way: number, readonly elbow: number, readonly legMm: number, cost: number, readonly stationMm: number, isProved: boolean, readonly last: RigidCourse | null, isJudged: boolean, readonly playMm: number }

/** where bends are given away a course has no more than these, as far as the search knows */
const MOST_BENDS = 8
/** An end out of line costs so much more, so that its play is only used where nothing fits without, mm. */
const PLAY_PRICE_MM = 250
/** How far one leg goes at most, mm. */
const FARTHEST_MM = 25_000
const SAME_STOP_MM = 0.5
const MOST_NODES = 600_000

/** How long a leg may be: to wherever it meets a plane, and to as near to its beginning as each fitting may be; mm, in order. */
export function stopsOn(ways: RigidWays, planes: RigidPlanes, leg: OpenLeg): number[] {
  const u = ways.ways[leg.way], isLeaning = planes.axes.filter((axis) => Math.abs(dot(axis, u)) > 1e-6).length > 1
  const stops = ways.elbows.map((_, next) => leastLegMm(ways, leg, next)), leastMm = Math.min(...stops)
  planes.axes.forEach((axis, k) => {
    const lean = dot(axis, u)
    if (Math.abs(lean) < 0.05) return
    const here = dot(leg.at, axis)
    for (const value of isLeaning ? planes.key[k] : planes.all[k]) stops.push((value - here) / lean)
    if (k !== 0 || Math.abs(lean) < 0.9) return
    for (const value of planes.openingsBeside(leg.at)) stops.push((value - here) / lean)
    // and where a leg that turns off at a slant would pass the middle of an opening
    for (const { way } of ways.turns[leg.way]) for (const value of planes.slantedInto(leg.at, ways.ways[way])) stops.push((value - here) / lean)
  })
  let lastMm = -Infinity
  return stops.sort((a, b) => a - b).filter((legMm) => {
    if (legMm < leastMm - 1e-9 || legMm > FARTHEST_MM || legMm - lastMm < SAME_STOP_MM) return false
    lastMm = legMm
    return true
  })
}

export function rigidWay({ ways, planes, room, from, to, offDeg, prices, crossed, judged }: RigidAsk, { haste, mostSteps, mostCost, guess, mayGoOn = () => true }: RigidBudget): RigidFound {
  const { elbows } = ways, { bendMm, openingMm, crossingMm } = prices
  const nodes: Node[] = [], heap = new WayHeap()
  const element = new Float64Array(ELEMENT_STRIDE)
  const mostSavedMm = Math.max(...elbows.map(({ savedMm }) => savedMm))
  const leastEndMm = Math.min(...elbows.map((_, i) => leastLastMm(ways, to, i)))
  const lastCorner = plus(to.at, to.axis, leastEndMm)
  /** along a way from a corner: how far it is known to be clear, and from where it is known to be barred */
  const rays = new Map<number, { isBendClear: boolean | null, clearMm: number, barredMm: number }>()
  const closed = new Map<string, number>()
  let best: RigidCourse | null = null, bestCost = mostCost, steps = 0

  /** What is still to come costs no less, from a corner reached that way. */
  const least = (at: Vec, way: number): number => {
    const crowMm = Math.hypot(at[0] - lastCorner[0], at[1] - lastCorner[1], at[2] - lastCorner[2]) + leastEndMm
    const bends = leastBends(ways, at, way, to)
    return bendMm >= mostSavedMm ? crowMm + bends * (bendMm - mostSavedMm) : Math.max(0, crowMm + bends * (bendMm - mostSavedMm) - MOST_BENDS * mostSavedMm)
  }
  const push = (node: Node): void => {
    const restMm = node.last === null ? least(node.at, node.way) : 0
    if (node.cost + restMm >= bestCost - 1e-9 || nodes.length >= MOST_NODES) return
    const guessMm = guess === undefined || node.last !== null ? restMm : Math.max(restMm, guess(node.at))
    if (guessMm === Infinity) return
    nodes.push(node)
    heap.push(node.cost + haste * guessMm, nodes.length - 1)
  }

  const root: OpenLeg = { at: from.at, way: ways.start, takenMm: 0, straightMm: Math.max(from.straightMm, 1e-3), lastMm: 0 }
  close(-1, root, 0)
  spread(-1, root, 0, -1, 0)
  while (heap.count > 0 && steps < mostSteps) {
    if (haste === 1 && heap.leastRank >= bestCost - 1e-9) break
    const i = heap.pop(), node = nodes[i]
    if (++steps % SPELL === 0 && !mayGoOn(SPELL)) break
    if (node.cost + (node.last === null ? least(node.at, node.way) : 0) >= bestCost - 1e-9) continue
    if (node.last !== null) {
      if (!node.isJudged) {
        if (spareOf(node.last, room, 0) < 0) continue
        const cost = judged(node.last) + node.playMm
        if (cost === Infinity) continue
        if (cost > node.cost + 1e-9) {
          push({ ...node, cost, isJudged: true })
          continue
        }
        node.cost = cost
      }
      best = node.last
      bestCost = node.cost
      if (haste > 1.3) break
      continue
    }
    if (!node.isProved) {
      if (!isClear(node)) continue
      const a = node.before < 0 ? from.at : nodes[node.before].at
      const extra = openingMm * planes.linesPassed(a, node.at) + crossingMm * crossed(a, node.at)
      if (extra > 0) {
        push({ ...node, cost: node.cost + extra, isProved: true })
        continue
      }
    }
    const key = `${Math.round(2 * node.at[0])} ${Math.round(2 * node.at[1])} ${Math.round(2 * node.at[2])} ${node.way} ${fitCount(node)}`
    if ((closed.get(key) ?? Infinity) <= node.cost + 1e-9) continue
    closed.set(key, node.cost)
    expand(i)
  }
  return { course: best, cost: bestCost, steps, isWhole: heap.count === 0 && nodes.length < MOST_NODES || haste === 1 && heap.leastRank >= bestCost - 1e-9 }

  function fits({ before, elbow, legMm }: Node, next: number): boolean {
    return legMm >= leastLegMm(ways, before < 0 ? root : { takenMm: elbows[elbow].takesMm, straightMm: 0 }, next) - 1e-6
  }

  function fitCount(node: Node): number {
    return elbows.reduce((count, _, next) => count + (fits(node, next) ? 1 : 0), 0)
  }

  /** the longest tangent of a fitting that may stand at the end of a leg */
  function widestMm(node: Node): number {
    return elbows.reduce((most, { tangentMm }, next) => fits(node, next) ? Math.max(most, tangentMm) : most, 0)
  }

  function expand(i: number): void {
    const node = nodes[i]
    for (const { way, elbow } of ways.turns[node.way]) {
      if (!fits(node, elbow)) continue
      const leg: OpenLeg = { at: node.at, way, takenMm: elbows[elbow].takesMm, straightMm: 0, lastMm: leastLastMm(ways, to, elbow) }
      const cost = node.cost + bendMm - elbows[elbow].savedMm
      close(i, leg, cost, elbow)
      spread(i, leg, cost, elbow, node.stationMm - elbows[elbow].savedMm)
    }
  }

  /** Ends a leg at the goal every way there is. */
  function close(before: number, leg: OpenLeg, cost: number, elbow = -1): void {
    closings(ways, leg, to, offDeg, ({ corners, elbows: last, lengthMm, isInPlay }) => {
      const playMm = isInPlay ? PLAY_PRICE_MM : 0, whole = cost + lengthMm + bendMm * last.length + playMm
      if (whole >= bestCost) return
      const points: Vec[] = [], used: number[] = elbow < 0 ? [] : [elbow]
      for (let k = before; k >= 0; k = nodes[k].before) {
        points.unshift(nodes[k].at)
        if (nodes[k].elbow >= 0) used.unshift(nodes[k].elbow)
      }
      const course: RigidCourse = { points: [from.at, ...points, ...corners, to.at], elbows: [...used, ...last].map((e) => elbows[e]) }
      push({ before, at: to.at, way: leg.way, elbow, legMm: 0, cost: whole, stationMm: 0, isProved: true, last: course, isJudged: false, playMm })
    })
  }

  /** Puts corners on a leg wherever it meets a plane, and as near to its beginning as each fitting may be. */
  function spread(before: number, leg: OpenLeg, cost: number, elbow: number, stationMm: number): void {
    const u = ways.ways[leg.way]
    for (const legMm of stopsOn(ways, planes, leg)) {
      const at = plus(leg.at, u, legMm)
      push({ before, at, way: leg.way, elbow, legMm, cost: cost + legMm, stationMm: stationMm + legMm, isProved: false, last: null, isJudged: false, playMm: 0 })
    }
  }

  /** The bend at the corner before, and the leg as far as the next bend may start at the earliest; what comes after is known with the next leg. */
  function isClear(node: Node): boolean {
    const { before, way, elbow, legMm } = node, u = ways.ways[way]
    if (!room.isInVoid(...node.at)) return false
    const key = (before * ways.ways.length + way) * elbows.length + elbow
    let ray = rays.get(key)
    if (ray === undefined) rays.set(key, ray = { isBendClear: null, clearMm: 0, barredMm: Infinity })
    if (before >= 0 && ray.isBendClear === null) ray.isBendClear = isBendClear(before, way, elbow)
    if (ray.isBendClear === false) return false
    const start = before < 0 ? from.at : nodes[before].at, tangentMm = before < 0 ? 0 : elbows[elbow].tangentMm
    const endMm = legMm - widestMm(node)
    if (endMm <= Math.max(tangentMm, ray.clearMm)) return true
    if (endMm >= ray.barredMm) return false
    const stationMm = before < 0 ? 0 : nodes[before].stationMm + elbows[elbow].tangentMm - elbows[elbow].savedMm
    const isFree = legIsClear(start, u, tangentMm, endMm, stationMm)
    if (isFree) ray.clearMm = endMm
    else ray.barredMm = endMm
    return isFree
  }

  function legIsClear(start: Vec, u: Vec, fromMm: number, toMm: number, stationMm: number): boolean {
    writeLeg(element, 0, start[0] + fromMm * u[0], start[1] + fromMm * u[1], start[2] + fromMm * u[2], start[0] + toMm * u[0], start[1] + toMm * u[1], start[2] + toMm * u[2], 0)
    return room.isClear(element, stationMm, Infinity)
  }

  /** A bend, and the last piece of the leg before it. */
  function isBendClear(corner: number, way: number, elbow: number): boolean {
    const node = nodes[corner], { tangentMm, radiusMm } = elbows[elbow], u = ways.ways[node.way]
    writeBend(element, 0, ...node.at, ...u, ...ways.ways[way], radiusMm, tangentMm)
    if (!room.isClear(element, node.stationMm - tangentMm, Infinity)) return false
    const before = node.before < 0 ? 0 : elbows[node.elbow].tangentMm, restMm = Math.min(widestMm(node), node.legMm - before)
    return restMm <= tangentMm || legIsClear(plus(node.at, u, -restMm), u, 0, restMm - tangentMm, node.stationMm - restMm)
  }
}
