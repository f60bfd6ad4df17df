/** Where one run passes over another, seen in plan, and which of the two lies lower there. */
import type { PlacedRun } from '#assembly/assembly.ts'
import { ARC, ELEMENT_STRIDE, KIND, LENGTH, RADIUS, STATION, TURN } from '#geometry/curve/centreline.ts'
import { elementBounds, pointOfElement } from '#geometry/curve/measure.ts'
import { SAME_POINT_MM } from '#geometry/tolerance.ts'

export interface PlanPass {
  /** index of the run that lies lower, and of the one above it */
  readonly lower: number
  readonly upper: number
  /** their centrelines cross in plan; otherwise they only run one above the other for a way */
  readonly isCrossing: boolean
  /** place in plan, on the lower run's centreline, mm */
  readonly at: readonly [number, number]
  readonly lowerStationMm: number
  readonly upperStationMm: number
  /** from centreline to centreline, upwards, mm */
  readonly riseMm: number
}

/** A piece of a bend is as good as its chord when it strays from it by no more than this, mm. */
const CHORD_MM = 1e-3
/** Two ways nearer to parallel than this (a sine) have no one place where they meet. */
const PARALLEL_SIN = 1e-6
/** Two ways that meet nearer to parallel than this run along each other and do not cross, rad: at five degrees ducts of 90 mm overlap for two metres. */
const ALONG_RAD = 5 * Math.PI / 180
/** A place nearer by less than this is no better, mm. */
const GAIN_MM = 0.05

/**
 * Every pass of every two runs. Two runs pass where their centrelines cross in plan, and where one runs above the other with its
 * axis within the narrower one's half width; runs beside each other do not. Legs are met in closed form, bends by halving to 0.001 mm.
 * At one height (a clash) neither is lower, and there is no pass.
 */
export function planPasses(runs: readonly PlacedRun[]): PlanPass[] {
  const bounds = runs.map(({ centreline }) => planBounds(centreline.elements, centreline.count))
  const passes: PlanPass[] = []
  for (let a = 0; a < runs.length; a++) {
    for (let b = a + 1; b < runs.length; b++) {
      const reachMm = Math.min(runs[a].outerRadiusMm, runs[b].outerRadiusMm)
      if (areNear(bounds[a].whole, bounds[b].whole, reachMm)) passes.push(...passesOf(runs, bounds, a, b, reachMm))
    }
  }
  return passes
}

interface PlanBounds { readonly whole: Float64Array, readonly each: readonly Float64Array[] }

/** A place where two elements come near each other in plan. */
interface Meeting { readonly i: number, readonly j: number, readonly isCrossing: boolean, readonly offMm: number, readonly at: readonly [number, number], readonly aMm: number, readonly bMm: number, readonly riseMm: number }

function passesOf(runs: readonly PlacedRun[], bounds: readonly PlanBounds[], a: number, b: number, reachMm: number): PlanPass[] {
  const one = runs[a].centreline, other = runs[b].centreline
  const meetings: Meeting[] = []
  for (let i = 0; i < one.count; i++) {
    if (!areNear(bounds[a].each[i], bounds[b].whole, reachMm)) continue
    for (let j = 0; j < other.count; j++) {
      if (areNear(bounds[a].each[i], bounds[b].each[j], reachMm)) meetings.push(...meet(one.elements, i, other.elements, j, reachMm))
    }
  }
  const apartMm = runs[a].outerRadiusMm + runs[b].outerRadiusMm
  const kept = inGroups(meetings).flatMap((group) => {
    const crossings = group.filter(({ isCrossing }) => isCrossing)
    if (crossings.length === 0) return [group.reduce((least, other) => other.offMm < least.offMm ? other : least)]
    // a second one is a pass of its own where both ducts have room between the two
    return crossings.filter((p, k) => !crossings.slice(0, k).some((q) => Math.abs(p.aMm - q.aMm) <= apartMm && Math.abs(p.bMm - q.bMm) <= apartMm))
  })
  return kept.sort((p, q) => p.aMm - q.aMm).map(({ isCrossing, at, aMm, bMm, riseMm }) => riseMm > 0
    ? { lower: a, upper: b, isCrossing, at, lowerStationMm: aMm, upperStationMm: bMm, riseMm }
    : { lower: b, upper: a, isCrossing, at, lowerStationMm: bMm, upperStationMm: aMm, riseMm: -riseMm })
}

/** Places that follow one another, on the same or neighbouring elements of both runs and with the same one lower. */
function inGroups(meetings: readonly Meeting[]): Meeting[][] {
  let groups: Meeting[][] = []
  for (const p of meetings) {
    const isNext = (q: Meeting): boolean => p.riseMm > 0 === q.riseMm > 0 && Math.abs(p.i - q.i) <= 1 && Math.abs(p.j - q.j) <= 1
    const joined = groups.filter((group) => group.some(isNext))
    groups = [...groups.filter((group) => !joined.includes(group)), [...joined.flat(), p]]
  }
  return groups
}

/** A stretch of an element as its chord, and how far it strays from that. */
interface Chord { readonly e: number, readonly s0: number, readonly s1: number, readonly p0: readonly number[], readonly p1: readonly number[], readonly strayMm: number, readonly turnRad: number }

function meet(one: Float64Array, i: number, other: Float64Array, j: number, reachMm: number): Meeting[] {
  const e = i * ELEMENT_STRIDE, o = j * ELEMENT_STRIDE
  const a = chordOf(one, e, 0, one[e + LENGTH]), b = chordOf(other, o, 0, other[o + LENGTH])
  const found: Meeting[] = []
  const take = (p: Chord, q: Chord, near: Near): void => {
    const rise = riseOf(p, q, near)
    if (rise === 0) return
    const point: [number, number] = [mix(p.p0[0], p.p1[0], near.s), mix(p.p0[1], p.p1[1], near.s)]
    found.push({ i, j, isCrossing: near.isCrossing, offMm: near.mm, at: point, aMm: one[e + STATION] + mix(p.s0, p.s1, near.s), bMm: other[o + STATION] + mix(q.s0, q.s1, near.t), riseMm: rise })
  }
  search(one, other, a, b, (p, q, near) => near.mm <= p.strayMm + q.strayMm && !isAlong(p, q), (p, q, near) => { if (near.isCrossing) take(p, q, near) })
  if (found.length > 0) return found
  let leastMm = reachMm, least: [Chord, Chord, Near] | null = null
  search(one, other, a, b, (p, q, near) => near.mm - p.strayMm - q.strayMm <= leastMm - GAIN_MM, (p, q, near) => {
    if (!(near.mm < leastMm)) return
    leastMm = near.mm
    least = [p, q, near]
  })
  if (least !== null) take(...least as [Chord, Chord, Near])
  return found
}

/** Offers every pair of stretches, straight to CHORD_MM, that lies in none that is not worth it. */
function search(one: Float64Array, other: Float64Array, a: Chord, b: Chord, isWorth: (p: Chord, q: Chord, near: Near) => boolean, take: (p: Chord, q: Chord, near: Near) => void): void {
  const stack: [Chord, Chord][] = [[a, b]]
  for (let pair = stack.pop(); pair !== undefined; pair = stack.pop()) {
    const [p, q] = pair, near = nearest(p, q)
    if (!isWorth(p, q, near)) continue
    if (p.strayMm <= CHORD_MM && q.strayMm <= CHORD_MM) take(p, q, near)
    else if (p.strayMm >= q.strayMm) for (const half of halves(one, p)) stack.push([half, q])
    else for (const half of halves(other, q)) stack.push([p, half])
  }
}

function chordOf(elements: Float64Array, e: number, s0: number, s1: number): Chord {
  const p0 = [0, 0, 0], p1 = [0, 0, 0]
  pointOfElement(elements, e, s0, p0)
  pointOfElement(elements, e, s1, p1)
  const radius = elements[e + RADIUS]
  const turn = elements[e + KIND] === ARC ? Math.min(elements[e + TURN], (s1 - s0) / radius) : 0
  return { e, s0, s1, p0, p1, turnRad: turn, strayMm: turn > Math.PI ? 2 * radius : radius * (1 - Math.cos(turn / 2)) }
}

/** No part of one crosses a part of the other: their ways differ too little. Of level pieces only: seen in plan a tilted arc turns otherwise than in space. */
function isAlong(p: Chord, q: Chord): boolean {
  const ux = p.p1[0] - p.p0[0], uy = p.p1[1] - p.p0[1], vx = q.p1[0] - q.p0[0], vy = q.p1[1] - q.p0[1]
  if (Math.abs(p.p1[2] - p.p0[2]) + Math.abs(q.p1[2] - q.p0[2]) > CHORD_MM) return false
  return Math.atan2(Math.abs(ux * vy - uy * vx), Math.abs(ux * vx + uy * vy)) + (p.turnRad + q.turnRad) / 2 < ALONG_RAD
}

function halves(elements: Float64Array, { e, s0, s1 }: Chord): [Chord, Chord] {
  const middle = (s0 + s1) / 2
  return [chordOf(elements, e, s0, middle), chordOf(elements, e, middle, s1)]
}

/** Where two segments are nearest in plan, as shares of each. */
interface Near { readonly mm: number, readonly s: number, readonly t: number, readonly isCrossing: boolean }

function nearest({ p0, p1 }: Chord, { p0: q0, p1: q1 }: Chord): Near {
  const ux = p1[0] - p0[0], uy = p1[1] - p0[1], vx = q1[0] - q0[0], vy = q1[1] - q0[1], wx = q0[0] - p0[0], wy = q0[1] - p0[1]
  const uu = ux * ux + uy * uy, vv = vx * vx + vy * vy, facing = ux * vy - uy * vx
  const size = Math.sqrt(uu * vv), isParallel = Math.abs(facing) <= PARALLEL_SIN * size
  if (!isParallel) {
    const s = (wx * vy - wy * vx) / facing, t = (wx * uy - wy * ux) / facing
    if (s >= 0 && s <= 1 && t >= 0 && t <= 1) return { mm: 0, s, t, isCrossing: Math.abs(facing) > Math.sin(ALONG_RAD) * size }
  }
  const ends: Near[] = []
  const offer = (s: number, t: number): void => {
    const dx = wx + t * vx - s * ux, dy = wy + t * vy - s * uy
    ends.push({ mm: Math.hypot(dx, dy), s, t, isCrossing: false })
  }
  for (const t of [0, 1]) offer(clamp(uu > 0 ? ((wx + t * vx) * ux + (wy + t * vy) * uy) / uu : 0), t)
  for (const s of [0, 1]) offer(s, clamp(vv > 0 ? ((s * ux - wx) * vx + (s * uy - wy) * vy) / vv : 0))
  const best = ends.reduce((least, end) => end.mm < least.mm ? end : least)
  if (!isParallel || !(uu > 0 && vv > 0)) return best
  // side by side: the middle of the stretch that they share
  const shared = ends.filter(({ mm }) => mm <= best.mm + SAME_POINT_MM)
  return { ...best, s: meanOf(shared.map(({ s }) => s)), t: meanOf(shared.map(({ t }) => t)) }
}

/** How far the second lies above the first; 0 where neither is lower. Of an upright piece its whole height counts. */
function riseOf(p: Chord, q: Chord, { s, t }: Near): number {
  const heights = ({ p0, p1 }: Chord, share: number): [number, number] => {
    if (Math.hypot(p1[0] - p0[0], p1[1] - p0[1]) > SAME_POINT_MM) return [mix(p0[2], p1[2], share), mix(p0[2], p1[2], share)]
    return p0[2] < p1[2] ? [p0[2], p1[2]] : [p1[2], p0[2]]
  }
  const [pLow, pHigh] = heights(p, s), [qLow, qHigh] = heights(q, t)
  return qLow > pHigh ? qLow - pHigh : qHigh < pLow ? qHigh - pLow : 0
}

function planBounds(elements: Float64Array, count: number): PlanBounds {
  const whole = Float64Array.of(Infinity, Infinity, -Infinity, -Infinity), six = new Float64Array(6)
  const each = Array.from({ length: count }, (_, i) => {
    elementBounds(elements, i * ELEMENT_STRIDE, six)
    const own = Float64Array.of(six[0], six[1], six[3], six[4])
    for (let k = 0; k < 2; k++) {
      whole[k] = Math.min(whole[k], own[k])
      whole[2 + k] = Math.max(whole[2 + k], own[2 + k])
    }
    return own
  })
  return { whole, each }
}

function areNear(a: Float64Array, b: Float64Array, reachMm: number): boolean {
  return a[0] - reachMm <= b[2] && a[1] - reachMm <= b[3] && a[2] + reachMm >= b[0] && a[3] + reachMm >= b[1]
}

function mix(a: number, b: number, share: number): number {
  return a + share * (b - a)
}

function clamp(share: number): number {
  return Math.min(1, Math.max(0, share))
}

function meanOf(list: readonly number[]): number {
  return list.reduce((sum, value) => sum + value, 0) / list.length
}
