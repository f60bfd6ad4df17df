/** From one straight line to another by as few bends as will do: the corners between them. mm. */
import { dot, minus, plus, turnOf, unit, type Vec } from './threadVector.ts'

/** A line that the run goes along: through `at`, the way it goes, and how much of it from `at` must stay straight. */
export interface Line { readonly at: Vec, readonly way: Vec | null, readonly straightMm: number }

export interface Fitting { readonly angleDeg: number, readonly radiusMm: number, readonly insertionMm: number }
export type Bending =
  | { readonly kind: 'free', readonly radiusMm: number }
  | { readonly kind: 'fittings', readonly fittings: readonly Fitting[] }

const ON_LINE_MM = 0.05, SAME_WAY_RAD = 1e-6

/** @returns corners in order, none when the lines are one; null when listed fittings cannot join them */
export function cornersBetween(from: Line, to: Line, bending: Bending): Vec[] | null {
  if (from.way !== null && to.way !== null) {
    const gap = minus(to.at, from.at), ahead = dot(gap, from.way)
    const off = Math.hypot(...minus(gap, scaled(from.way, ahead)))
    const turn = turnOf(from.way, to.way)
    if (turn < SAME_WAY_RAD && off < ON_LINE_MM && ahead > 0) return []
    const meeting = cornerWhereTheyMeet(from.at, from.way, to.at, to.way)
    if (meeting !== null && hasRoom(from, to, meeting, turn, bending)) return [meeting]
    if (bending.kind === 'fittings') return byFittings(from, from.way, to, to.way, bending.fittings)
  }
  return bending.kind === 'fittings' ? null : byHand(from, to, bending.radiusMm)
}

function scaled(a: Vec, k: number): Vec {
  return [a[0] * k, a[1] * k, a[2] * k]
}

/** The corner of two lines in one plane, ahead on the first and before the second's point; null when there is none. */
function cornerWhereTheyMeet(p: Vec, u: Vec, q: Vec, v: Vec): Vec | null {
  const c = dot(u, v), sine = 1 - c * c
  if (sine < 1e-9) return null
  const gap = minus(q, p), s = (dot(gap, u) - c * dot(gap, v)) / sine, t = s * c - dot(gap, v)
  const on = plus(p, u, s), other = plus(q, v, t)
  return s > 0 && t < 0 && Math.hypot(...minus(on, other)) < ON_LINE_MM ? on : null
}

function hasRoom(from: Line, to: Line, corner: Vec, turn: number, bending: Bending): boolean {
  const fitting = bending.kind === 'fittings' ? bending.fittings.find(({ angleDeg }) => Math.abs(angleDeg - turn * 180 / Math.PI) < 0.4) : null
  if (fitting === undefined) return false
  const tangentMm = (bending.kind === 'free' ? bending.radiusMm : fitting!.radiusMm) * Math.tan(turn / 2)
  return Math.hypot(...minus(corner, from.at)) - tangentMm >= from.straightMm && Math.hypot(...minus(to.at, corner)) - tangentMm >= to.straightMm
}

const STEPS = 12

/** Two corners, one on each line, the shortest way with room for its bends; where there is no room, with least wanting. A line without a way turns at its own point. */
function byHand(from: Line, to: Line, radiusMm: number): Vec[] {
  const reachMm = Math.hypot(...minus(to.at, from.at)) + 2 * radiusMm
  let best = { s: 0, t: 0, cost: Infinity }
  const offer = (s: number, t: number): void => {
    if (s < 0 || t < 0) return
    const cost = costOf(from, to, radiusMm, s, t)
    if (cost < best.cost) best = { s, t, cost }
  }
  const places = (way: Vec | null): number[] => way === null ? [0] : Array.from({ length: STEPS + 1 }, (_, i) => reachMm * i / STEPS)
  for (const s of places(from.way)) for (const t of places(to.way)) offer(s, t)
  for (let step = reachMm / STEPS / 2; step > 0.2; step /= 1.6) {
    const { s, t } = best
    for (const ds of from.way === null ? [0] : [-step, 0, step]) for (const dt of to.way === null ? [0] : [-step, 0, step]) offer(s + ds, t + dt)
  }
  return [
    ...(from.way === null ? [] : [plus(from.at, from.way, best.s)]),
    ...(to.way === null ? [] : [plus(to.at, to.way, -best.t)]),
  ]
}

/** Length, a little for every turn, and a thousand for every millimetre that a bend wants. */
function costOf(from: Line, to: Line, radiusMm: number, s: number, t: number): number {
  const a = from.way === null ? from.at : plus(from.at, from.way, s), b = to.way === null ? to.at : plus(to.at, to.way, -t)
  const between = minus(b, a), size = Math.hypot(...between)
  if (size < 1e-6) return Infinity
  const turnA = from.way === null ? 0 : turnOf(from.way, between), turnB = to.way === null ? 0 : turnOf(between, to.way)
  const tangentA = radiusMm * Math.tan(Math.min(turnA, 3) / 2), tangentB = radiusMm * Math.tan(Math.min(turnB, 3) / 2)
  const short = Math.max(0, tangentA + tangentB - size)
    + (from.way === null ? 0 : Math.max(0, tangentA + from.straightMm - s)) + (to.way === null ? 0 : Math.max(0, tangentB + to.straightMm - t))
  return s + size + t + 60 * (turnA + turnB) + 1000 * short
}

/**
 * Two listed fittings: the leg between them stands at the first's angle to the first line and at the second's to the second, which
 * leaves at most two directions (where two cones meet), and the lines' places then give all three lengths.
 */
function byFittings(from: Line, u: Vec, to: Line, v: Vec, fittings: readonly Fitting[]): Vec[] | null {
  const gap = minus(to.at, from.at)
  let best: Vec[] | null = null, bestMm = Infinity
  for (const first of fittings) {
    for (const second of fittings) {
      for (const w of middleWays(u, v, gap, first.angleDeg * Math.PI / 180, second.angleDeg * Math.PI / 180)) {
        const lengths = lengthsAlong(u, w, v, gap)
        if (lengths === null) continue
        let [s, between, t] = lengths
        const tangentA = first.radiusMm * Math.tan(first.angleDeg * Math.PI / 360), tangentB = second.radiusMm * Math.tan(second.angleDeg * Math.PI / 360)
        const leastS = from.straightMm + tangentA + first.insertionMm, leastT = to.straightMm + tangentB + second.insertionMm
        if (turnOf(u, v) < SAME_WAY_RAD) {
          // parallel lines: the pair may slide along; halfway between what both ends want
          const free = s + t - leastS - leastT
          s = leastS + free / 2
          t = leastT + free / 2
        }
        if (s < leastS - 1e-6 || t < leastT - 1e-6 || between < tangentA + tangentB + first.insertionMm + second.insertionMm) continue
        const mm = s + between + t + 100
        if (mm >= bestMm) continue
        bestMm = mm
        const a = plus(from.at, u, s)
        best = [a, plus(a, w, between)]
      }
    }
  }
  return best
}

function middleWays(u: Vec, v: Vec, gap: Vec, alpha: number, beta: number): Vec[] {
  const c = dot(u, v)
  if (turnOf(u, v) < SAME_WAY_RAD) {
    if (Math.abs(alpha - beta) > 1e-9) return []
    const aside = unit(minus(gap, scaled(u, dot(gap, u))))
    return [plus(scaled(u, Math.cos(alpha)), aside, Math.sin(alpha))]
  }
  const sine = 1 - c * c
  if (sine < 1e-9) return []
  const x = (Math.cos(alpha) - c * Math.cos(beta)) / sine, y = (Math.cos(beta) - c * Math.cos(alpha)) / sine
  const left = 1 - x * x - y * y - 2 * x * y * c
  if (left < -1e-9) return []
  const z = Math.sqrt(Math.max(0, left) / sine)
  const normal: Vec = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]]
  const flat = plus(scaled(u, x), v, y)
  return z < 1e-6 ? [flat] : [plus(flat, normal, z), plus(flat, normal, -z)]
}

/** gap = s u + between w + t v with nothing left over, or null. */
function lengthsAlong(u: Vec, w: Vec, v: Vec, gap: Vec): [number, number, number] | null {
  const det = triple(u, w, v)
  if (Math.abs(det) > 1e-6) {
    return [triple(gap, w, v) / det, triple(u, gap, v) / det, triple(u, w, gap) / det]
  }
  if (turnOf(u, v) < SAME_WAY_RAD) {
    // in the plane of u and w: what is square to u fixes the middle leg
    const aside = minus(w, scaled(u, dot(w, u))), size = dot(aside, aside)
    if (size < 1e-9) return null
    const between = dot(gap, aside) / size, rest = minus(gap, scaled(w, between)), s = dot(rest, u)
    return Math.hypot(...minus(rest, scaled(u, s))) < ON_LINE_MM ? [s, between, 0] : null
  }
  return null
}

function triple(a: Vec, b: Vec, c: Vec): number {
  return a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]) + a[2] * (b[0] * c[1] - b[1] * c[0])
}
