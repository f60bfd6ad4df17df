/**
 * Rigid duct goes in piece by piece: how long each piece of each straight leg may be. A leg through joists takes pieces that can be tipped
 * in from below between two of them (tipIn.ts), in the bay and the way round that allow the longest; a leg along a bay takes
 * what its ceiling zones allow. Assumed: the ceiling is not up, nothing but joists and deck bars the way, pieces are put in one after the
 * other, their fittings afterwards, and a piece keeps to the upright plane of its leg. Insulation counts: it goes through the openings
 * with the duct. A leg that slants across joists, or an opening with leaning webs, is taken a little narrower than it is.
 */
import type { PlacedJoist } from '#assembly/assembly.ts'
import type { CheckContext } from '#checks/context.ts'
import type { Crossing } from '#checks/crossings.ts'
import { halfThicknessMm, knownCrossings } from '#checks/openingUse.ts'
import { zonesAlong } from '#checks/zonesAlong.ts'
import { ELEMENT_STRIDE, END_X, KIND, LEG, LENGTH, START_X, STATION } from '#geometry/curve/centreline.ts'
import { EDGE_STRIDE, type Opening } from '#geometry/fit/opening.ts'
import { ZONES_TOUCH_MM } from '#geometry/tolerance.ts'
import { longestTipped, type TipJoist } from './tipIn.ts'
import { dot, minus, type Vec } from './threadVector.ts'

export interface RigidLeg {
  readonly fromMm: number
  readonly toMm: number
  readonly lengthMm: number
  /** 'joists': through their openings; 'bay': along or below them; 'upright': between two of them, straight up */
  readonly kind: 'joists' | 'bay' | 'upright'
  /** longest piece that goes in, rounded down to the whole mm; null when nothing limits it */
  readonly longestMm: number | null
  /** what limits it: the two joists that it is tipped in between, by index; of a leg along a bay, the ceiling zone that its middle lies in, by id */
  readonly between: readonly [number, number] | null
  readonly zoneId: string | null
  /** pieces of one length that the leg takes; 0 when it cannot be made of pieces that go in */
  readonly pieces: number
  readonly pieceMm: number
  /** 'before-joists': no piece of useful length goes in once the joists are fixed; 'no-opening': it passes a joist where there is no opening for it */
  readonly verdict: 'goes-in' | 'before-joists' | 'no-opening'
}

export interface RigidRun {
  readonly runIndex: number
  readonly legs: readonly RigidLeg[]
  readonly verdict: RigidLeg['verdict']
}

/** Shortest piece worth joining: 300 mm, or one diameter of wider duct (a duct works' manual). */
export const LEAST_PIECE_MM = 300
/** Round duct is sold in lengths of 3 m (the same manual). */
export const STOCK_MM = 3000
/** A leg steeper than this goes up between joists. */
const STEEP = Math.SQRT1_2
/** Joists at a flatter angle to a leg than this (a cosine) run along it. */
const ALONG = 0.1
/** How far beyond the leg's ends joists are looked for, mm. */
const REACH_MM = 3000

/** Every rigid run of the job. */
export function rigidRuns(context: CheckContext): RigidRun[] {
  return context.runs.flatMap(({ placed }, runIndex): RigidRun[] => {
    if (placed.type.kind !== 'rigid') return []
    const { elements, count } = placed.centreline
    const legs = Array.from({ length: count }, (_, i) => i * ELEMENT_STRIDE).filter((e) => elements[e + KIND] === LEG).map((e) => legOf(context, runIndex, e))
    const worst = (['no-opening', 'before-joists'] as const).find((verdict) => legs.some((leg) => leg.verdict === verdict))
    return [{ runIndex, legs, verdict: worst ?? 'goes-in' }]
  })
}

interface Leg { readonly start: Vec, readonly way: Vec, readonly lengthMm: number, readonly levelMm: number }

function legOf(context: CheckContext, runIndex: number, e: number): RigidLeg {
  const { centreline: { elements }, outerRadiusMm } = context.runs[runIndex].placed
  const start: Vec = [elements[e + START_X], elements[e + START_X + 1], elements[e + START_X + 2]]
  const span = minus([elements[e + END_X], elements[e + END_X + 1], elements[e + END_X + 2]], start)
  const lengthMm = elements[e + LENGTH], fromMm = elements[e + STATION], levelMm = Math.hypot(span[0], span[1])
  const common = { fromMm, toMm: fromMm + lengthMm, lengthMm, between: null, zoneId: null }
  const made = (kind: RigidLeg['kind'], longest: number, more: Partial<RigidLeg> = {}): RigidLeg => {
    // a hair below a whole millimetre is that millimetre
    const longestMm = longest === Infinity ? null : Math.floor(longest + 1e-6)
    const useful = Math.min(lengthMm, Math.max(LEAST_PIECE_MM, 2 * outerRadiusMm)), goesIn = longestMm === null || longestMm >= useful - 1e-6
    const pieces = goesIn ? Math.max(1, Math.ceil(lengthMm / Math.min(longestMm ?? Infinity, STOCK_MM) - 1e-9)) : 0
    return { ...common, kind, longestMm, pieces, pieceMm: pieces === 0 ? 0 : lengthMm / pieces, verdict: goesIn ? 'goes-in' : 'before-joists', ...more }
  }
  const gap = bayWidthMm(context, { start, way: [0, 0, 0], lengthMm, levelMm }, span, outerRadiusMm)
  if (Math.abs(span[2]) > STEEP * lengthMm) return made('upright', gap < 2 * outerRadiusMm ? 0 : Infinity)
  const leg: Leg = { start, way: [span[0] / levelMm, span[1] / levelMm, span[2] / levelMm], lengthMm, levelMm }
  const joists = joistsOn(context, runIndex, leg, fromMm, outerRadiusMm)
  const crossed = joists.filter(({ isCrossed }) => isCrossed)
  if (crossed.some(({ joist }) => joist.open === null)) return made('joists', 0, { verdict: 'no-opening' })
  const zone = zonesAlong(context, runIndex).find((stretch) => stretch.fromMm <= fromMm + lengthMm / 2 && stretch.toMm >= fromMm + lengthMm / 2)
  if (crossed.length === 0) {
    return made('bay', gap < 2 * outerRadiusMm ? 0 : stretchInZones(context.assembly.job, leg), { zoneId: zone?.id ?? null })
  }
  const deckMm = zone?.topMm ?? Math.max(...joists.map(({ joist }) => joist.topMm))
  let best = 0, between: readonly [number, number] | null = null
  for (const order of [joists, mirrored(joists)]) {
    for (let k = 0; k + 1 < order.length; k++) {
      if (!order[k + 1].isCrossed) continue
      const near = order[k].isCrossed ? order[k].joist : { ...order[k].joist, open: null }
      const longest = longestTipped(shifted(near, order.slice(k + 1).map(({ joist }) => joist), deckMm), 2 * outerRadiusMm)
      if (!(longest > best)) continue
      best = longest
      between = [order[k].index, order[k + 1].index]
    }
  }
  return made('joists', best, { between })
}

interface OnLeg { readonly index: number, readonly joist: TipJoist, readonly isCrossed: boolean }

/** Joists across the upright plane of a leg and a little beyond it, in its order; those beyond its ends are taken as closed. */
function joistsOn(context: CheckContext, runIndex: number, { start, way, lengthMm, levelMm }: Leg, fromMm: number, radiusMm: number): OnLeg[] {
  const crossings = knownCrossings(context, runIndex)
  const found: OnLeg[] = []
  context.assembly.joists.forEach((joist, index) => {
    const { origin, across, along, section } = joist
    const rate = way[0] * across[0] + way[1] * across[1]
    if (Math.abs(rate) < ALONG) return
    const s = dot(minus(origin, start), across) / rate
    if (s < -REACH_MM || s > levelMm + REACH_MM) return
    const x = dot(minus([start[0] + s * way[0], start[1] + s * way[1], origin[2]], origin), along)
    if (x < 0 || x > joist.lengthMm) return
    const z = start[2] + Math.min(levelMm, Math.max(0, s)) * way[2]
    if (z + radiusMm < origin[2] || z - radiusMm > origin[2] + section.depthMm) return
    // a duct that slants across a joist meets its faces earlier on one side than on the other
    const skew = Math.sqrt(Math.max(0, 1 - rate * rate)) / Math.abs(rate), half = halfThicknessMm(joist) / Math.abs(rate) + radiusMm * skew
    const crossing = crossings.find((one) => one.joistIndex === index && one.stationMm >= fromMm - 1e-6 && one.stationMm <= fromMm + lengthMm + 1e-6)
    const open = crossing === undefined ? null : openHeights(context, joist, crossing, radiusMm, Math.abs(rate), skew)
    found.push({ index, isCrossed: crossing !== undefined, joist: { from: s - half, to: s + half, undersideMm: origin[2], topMm: origin[2] + section.depthMm, open } })
  })
  return found.sort((a, b) => a.joist.from - b.joist.from)
}

/** Between which heights a level duct passes a joist beside the webs or in its hole, its axis where the run’s is along the joist; null where it does not. */
function openHeights(context: CheckContext, joist: PlacedJoist, { x, opening, hole }: Crossing, radiusMm: number, rate: number, skew: number): [number, number] | null {
  const range = hole !== null ? inHole(context, joist, hole, x, radiusMm / rate)
    : opening !== null ? inOpening(joist.openings.find(({ number }) => number === opening)!.opening, x, radiusMm, radiusMm / rate, halfThicknessMm(joist) * skew)
      : null
  // a whisker for a duct that fits exactly
  return range === null || range[1] < range[0] - 1e-6 ? null : [joist.origin[2] + range[0] - radiusMm, joist.origin[2] + range[1] + radiusMm]
}

/** Heights of the axis at which an ellipse, upright and wide, stays inside every edge; `strayMm` is how far the axis strays to each side within the joist. */
function inOpening({ edges, edgeCount }: Opening, x: number, upMm: number, asideMm: number, strayMm: number): [number, number] | null {
  let low = -Infinity, high = Infinity
  for (let e = 0; e < edgeCount * EDGE_STRIDE; e += EDGE_STRIDE) {
    const ax = edges[e], ay = edges[e + 1], room = edges[e + 2] - ax * x - Math.abs(ax) * strayMm - Math.hypot(ax * asideMm, ay * upMm)
    if (Math.abs(ay) < 1e-9) {
      if (room < 0) return null
    } else if (ay > 0) high = Math.min(high, room / ay)
    else low = Math.max(low, room / ay)
  }
  return [low, high]
}

function inHole({ assembly }: CheckContext, joist: PlacedJoist, id: string, x: number, radiusMm: number): [number, number] | null {
  const hole = assembly.holes.find((one) => one.id === id)!
  const aside = dot(minus(hole.at, joist.origin), joist.along) - x, free = hole.radiusMm - radiusMm
  if (free < Math.abs(aside) - 1e-6) return null
  const half = Math.sqrt(Math.max(0, free * free - aside * aside)), height = hole.at[2] - joist.origin[2]
  return [height - half, height + half]
}

/** The same joists met the other way round. */
function mirrored(joists: readonly OnLeg[]): OnLeg[] {
  return [...joists].reverse().map((one) => ({ ...one, joist: { ...one.joist, from: -one.joist.to, to: -one.joist.from } }))
}

/** With the near joist's face at 0. */
function shifted(near: TipJoist, beyond: readonly TipJoist[], deckMm: number): Parameters<typeof longestTipped>[0] {
  const move = (joist: TipJoist): TipJoist => ({ ...joist, from: joist.from - near.to, to: joist.to - near.to })
  return { near: move(near), beyond: beyond.map(move), deckMm }
}

/** Clear width between the two joists that a leg lies between, or goes up between; Infinity where it does not lie between two. */
function bayWidthMm({ assembly }: CheckContext, { start }: Leg, span: Vec, radiusMm: number): number {
  const middle: Vec = [start[0] + span[0] / 2, start[1] + span[1] / 2, start[2] + span[2] / 2]
  const lowest = Math.min(start[2], start[2] + span[2]) - radiusMm, highest = Math.max(start[2], start[2] + span[2]) + radiusMm
  let left = Infinity, right = Infinity
  for (const joist of assembly.joists) {
    const { origin, across, along, section } = joist, offset = minus(middle, origin)
    const x = dot(offset, along), n = dot(offset, across)
    const isAcross = Math.abs(span[0] * across[0] + span[1] * across[1]) > ALONG * Math.hypot(...span)
    if (isAcross || x < 0 || x > joist.lengthMm || highest < origin[2] || lowest > origin[2] + section.depthMm) continue
    const freeMm = Math.abs(n) - halfThicknessMm(joist)
    if (n >= 0) left = Math.min(left, freeMm)
    else right = Math.min(right, freeMm)
  }
  return left + right
}

/** Length of the leg's own line, through its middle, inside the ceiling zones of its height, mm; Infinity where its middle lies in none. */
function stretchInZones({ zones }: CheckContext['assembly']['job'], { start, way, lengthMm, levelMm }: Leg): number {
  const middle: Vec = [start[0] + way[0] * levelMm / 2, start[1] + way[1] * levelMm / 2, start[2] + way[2] * levelMm / 2]
  if (!(lengthMm > 0)) return Infinity
  const stretches = zones.filter(({ undersideMm, topMm }) => middle[2] > undersideMm && middle[2] < topMm).flatMap(({ outline, holes }) => {
    const at = [outline, ...holes].flatMap((ring) => cutsOf(ring, middle, way)).sort((a, b) => a - b)
    return Array.from({ length: at.length >> 1 }, (_, k): [number, number] => [at[2 * k], at[2 * k + 1]])
  }).sort((a, b) => a[0] - b[0])
  const joined: [number, number][] = []
  for (const [from, to] of stretches) {
    const last = joined.at(-1)
    if (last !== undefined && from <= last[1] + ZONES_TOUCH_MM) last[1] = Math.max(last[1], to)
    else joined.push([from, to])
  }
  const own = joined.find(([from, to]) => from <= 0 && to >= 0)
  return own === undefined ? Infinity : own[1] - own[0]
}

/** Where a line through a point meets a ring, as distances along it; a corner on the line counts for one of its two sides. */
function cutsOf(ring: readonly (readonly [number, number])[], [x, y]: Vec, way: Vec): number[] {
  return ring.flatMap(([ax, ay], k) => {
    const [bx, by] = ring[(k + 1) % ring.length]
    const offA = (ax - x) * way[1] - (ay - y) * way[0], offB = (bx - x) * way[1] - (by - y) * way[0]
    if (offA > 0 === offB > 0) return []
    const share = offA / (offA - offB)
    return [(ax + share * (bx - ax) - x) * way[0] + (ay + share * (by - ay) - y) * way[1]]
  })
}
