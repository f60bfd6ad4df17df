/**
 * Every way on the corners that the router's search tries, one after the other: no order, no merging of corners that are all but one, no
 * field to steer by. A way is given up only where even
 * the shortest curve on from it (leastLength.ts) would make it dearer than the cheapest found. For small voids.
 * Legs and bends are held to every solid there is by the kernels, not by the search's own quick answers.
 */
import type { CheckContext } from '#checks/context.ts'
import { elementDistance } from '#geometry/clearance/index.ts'
import { writeLeg } from '#geometry/curve/build.ts'
import { ELEMENT_STRIDE } from '#geometry/curve/centreline.ts'
import { elementBounds } from '#geometry/curve/measure.ts'
import { writeBend } from '#routing/router/ductRoom.ts'
import type { OtherDucts } from '#routing/router/otherDucts.ts'
import { bayAt, bayMiddleMm, baySideMm, passesLine } from '#routing/router/routeSpace.ts'
import type { WayPlan } from '#routing/router/wayPlan.ts'
import type { Vec } from '#routing/threadVector.ts'
import { leastFreeLength } from './leastLength.ts'

export interface EveryWayAsk {
  readonly others: OtherDucts
  readonly throughMm: number
  readonly slackMm: number
  /** ways no cheaper than this are not looked for, mm */
  readonly belowMm: number
}

/** The moves of findWay.ts: slants across the joists, up, and lanes of a bay. */
const SLANTS = Array.from({ length: 51 }, (_, i) => Math.tan((i - 25) * 2.4 * Math.PI / 180)), TILTS = [0, 0.08, -0.08], LANES = [0, -0.8, 0.8]
const LEAST_LEG_MM = 60, MOST_TURN_COS = Math.cos(125 * Math.PI / 180), STRAIGHT_ON_COS = Math.cos(1.5 * Math.PI / 180)

interface Corner { readonly at: Vec, readonly axis: Vec, readonly freeMm: number, readonly cost: number, readonly isFirst: boolean }

const element = new Float64Array(ELEMENT_STRIDE), answer = new Float64Array(8)

/** @param plan of joists along x from its group's origin on; @returns what the cheapest way below it costs, mm, or that itself, and how many corners were looked at */
export function cheapestOfAll(context: CheckContext, plan: WayPlan, { others, throughMm, slackMm, belowMm }: EveryWayAsk): { cost: number, corners: number } {
  const { group, levels, from, to, bendRadiusMm: R, room: { radiusMm: r }, bendPriceMm, openingPriceMm, startStops, goalStops } = plan
  const { lines, origin } = group
  if (group.along[0] !== 1 || origin[0] !== 0 || origin[1] !== 0) throw new Error('everyWay: joists must lie along x from 0, 0')
  const on = ({ at, axis }: typeof from, t: number): Vec => [at[0] + t * axis[0], at[1] + t * axis[1], at[2] + t * axis[2]]
  const stops = goalStops.map((t) => ({ t, at: on(to, t) })), into: Vec = [-to.axis[0], -to.axis[1], -to.axis[2]]
  const lastCost = stops.map(({ at }) => {
    writeLeg(element, 0, ...at, ...to.at, 0)
    return others.costOf(element, 0, r, throughMm)
  })
  let best = belowMm, corners = 0
  const mostTangentMm = R * Math.tan(Math.acos(MOST_TURN_COS) / 2)
  /** No way on to the goal is shorter from where the next bend begins, at the earliest, with one bend more to pay for. */
  const leastOn = (at: Vec, b: Vec, spareMm: number, dearness: number): number => {
    const t = Math.min(spareMm, mostTangentMm)
    const crowMm = Math.hypot(to.at[0] - at[0] + t * b[0], to.at[1] - at[1] + t * b[1], to.at[2] - at[2] + t * b[2])
    if (dearness + crowMm - t + bendPriceMm >= best) return Infinity
    return leastFreeLength([at[0] - t * b[0], at[1] - t * b[1], at[2] - t * b[2]], b, to.at, into, R) - t + bendPriceMm
  }

  const box = new Float64Array(6)
  function* near(bounds: Float64Array, count: number, reachMm: number): Generator<number> {
    elementBounds(element, 0, box)
    for (let i = 0; i < count; i++) if ([0, 1, 2].every((k) => bounds[6 * i + k] - reachMm <= box[k + 3] && bounds[6 * i + k + 3] + reachMm >= box[k])) yield i
  }

  /** What stands within its clearance of the element just written: -1, else what other ducts cost it. */
  const elementCost = (exempt: ReadonlySet<number>): number => {
    const { assembly: { solids, parts }, clearances, envelope } = context
    for (const i of near(solids.bounds, solids.count, r + clearances.mostMm)) {
      const neededMm = r + clearances.mm[parts.classCodeOf(i)] - slackMm
      if (!exempt.has(i) && elementDistance(element, 0, solids, i, neededMm, answer) < neededMm) return -1
    }
    if (envelope !== null) for (const i of near(envelope.sheets.bounds, envelope.sheets.count, r)) if (elementDistance(element, 0, envelope.sheets, i, r - slackMm, answer) < r - slackMm) return -1
    return others.costOf(element, 0, r, throughMm)
  }

  const offer = (from_: Corner, at: Vec, openings: number, stop: number): void => {
    const { at: p, axis: a, freeMm, cost: before, isFirst } = from_
    const d: Vec = [at[0] - p[0], at[1] - p[1], at[2] - p[2]], size = Math.hypot(...d)
    if (size < LEAST_LEG_MM) return
    const b: Vec = [d[0] / size, d[1] / size, d[2] / size], k = a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
    if (k < MOST_TURN_COS || k > STRAIGHT_ON_COS) return
    const turn = Math.acos(k), tangent = R * Math.tan(turn / 2)
    if (tangent > freeMm || tangent > size) return
    let cost = before + size + R * turn - 2 * tangent + openingPriceMm * openings + bendPriceMm, endTangent = 0
    if (stop >= 0) {
      const ek = b[0] * into[0] + b[1] * into[1] + b[2] * into[2], endTurn = Math.acos(Math.min(1, ek))
      endTangent = R * Math.tan(endTurn / 2)
      if (ek < MOST_TURN_COS || tangent + endTangent > size || endTangent > stops[stop].t - to.straightMm) return
      cost += stops[stop].t + R * endTurn - 2 * endTangent + lastCost[stop]
      if (cost >= best) return
    } else if (cost + leastOn(at, b, size - tangent, cost) >= best) return
    corners++
    const exempt = new Set([...isFirst ? from.exempt : [], ...stop >= 0 ? to.exempt : []])
    writeLeg(element, 0, p[0] + tangent * b[0], p[1] + tangent * b[1], p[2] + tangent * b[2], at[0] - endTangent * b[0], at[1] - endTangent * b[1], at[2] - endTangent * b[2], 0)
    let dear = elementCost(exempt)
    if (dear < 0) return
    for (const [corner, one, other, mm] of [[p, a, b, tangent], ...stop >= 0 ? [[at, b, into, endTangent] as const] : []] as const) {
      if (!writeBend(element, 0, ...corner, ...one, ...other, R, mm)) continue
      const bend = elementCost(exempt)
      if (bend < 0) return
      dear = Math.max(dear, bend)
    }
    cost += dear
    if (stop >= 0) best = Math.min(best, cost)
    else expand({ at, axis: b, freeMm: size - tangent, cost, isFirst: false })
  }

  const passes = (p: Vec, q: Vec): number => {
    const a = bayAt(group, p[1]), b = bayAt(group, q[1]), dv = q[1] - p[1], su = (q[0] - p[0]) / dv, sz = (q[2] - p[2]) / dv
    const between = lines.slice(Math.min(a, b), Math.max(a, b))
    return between.every((line) => passesLine(line, p[0] + su * (line.v - p[1]), p[2] + sz * (line.v - p[1]), su, sz, r, slackMm)) ? between.length : -1
  }

  const expand = (corner: Corner): void => {
    const [u, v, z] = corner.at, bay = bayAt(group, v)
    stops.forEach(({ at }, stop) => {
      const openings = passes(corner.at, at)
      if (openings >= 0) offer(corner, at, openings, stop)
    })
    const middle = bayMiddleMm(group, bay), side = Math.max(0, baySideMm(group, bay) - r - 3)
    for (const way of [1, -1]) for (let far = 100, k = 0; far < 4000; far += far < 1000 ? 50 : far < 3000 ? 100 : 200, k++) {
      const tu = Math.round((u + way * far) / 50) * 50
      if (tu < group.u0 - 400 || tu > group.u1 + 400) break
      offer(corner, [tu, v, z], 0, -1)
      if (far < 250 || k % 3 !== 0) continue
      for (const lane of LANES) if (Math.abs(middle + lane * side - v) > 5) offer(corner, [tu, middle + lane * side, z], 0, -1)
      for (const level of levels) if (Math.abs(level - z) > 5 && Math.abs(level - z) < far) offer(corner, [tu, v, level], 0, -1)
    }
    for (const way of [1, -1]) for (const slant of SLANTS) for (const tilt of TILTS) {
      for (let b = bay + way, count = 1; b >= 0 && b <= lines.length; b += way, count++) {
        const line = lines[way > 0 ? b - 1 : b], su = slant * way, sz = tilt * way, over = line.v - v
        if (!passesLine(line, u + su * over, z + sz * over, su, sz, r, slackMm)) break
        for (const lane of LANES) {
          const dv = bayMiddleMm(group, b) + lane * Math.max(0, baySideMm(group, b) - r - 3) - v
          offer(corner, [u + su * dv, v + dv, z + sz * dv], count, -1)
        }
      }
    }
  }

  for (const t of startStops) {
    const at = on(from, t)
    writeLeg(element, 0, ...from.at, ...at, 0)
    expand({ at, axis: from.axis, freeMm: t - from.straightMm, cost: t + bendPriceMm + others.costOf(element, 0, r, throughMm), isFirst: true })
  }
  return { cost: best, corners }
}
