/**
 * The largest round duct that passes an opening straight on beside ducts that already pass it. mm.
 *
 * The room about a centre c is the least of b - a.c over the opening's edges and |c - o| - q over the ducts there. Where it is
 * largest, three of these are equal: with fewer the centre could still move away from all of them at once. Edges are linear in
 * (x, y, r), and the difference of two ducts' equations |c - o|^2 = (r + q)^2 is too, so every three leave at most one quadratic
 * (the problem of Apollonius). Every three are tried; what the others leave is measured.
 */
import type { Opening } from './opening.ts'
import { EDGE_STRIDE } from './opening.ts'
import { largestStraight } from './largestDuct.ts'

/** A duct that is there: its middle, and its radius with what must be left clear round it. */
export interface DuctThere { readonly x: number, readonly y: number, readonly keptMm: number }

export interface Beside {
  /** 0 when nothing fits */
  readonly diameterMm: number
  readonly x: number
  readonly y: number
}

/** A row of x, y, r coefficients and its right-hand side. */
type Row = readonly [number, number, number, number]

/** Exact but for rounding; time grows with the fourth power of edges and ducts together, a dozen of which take well under a millisecond. */
export function largestBeside(opening: Opening, ducts: readonly DuctThere[]): Beside {
  let best: Beside = { diameterMm: 0, x: 0, y: 0 }
  const offer = (x: number, y: number): void => {
    const room = roomAt(opening, ducts, x, y)
    if (2 * room > best.diameterMm) best = { diameterMm: 2 * room, x, y }
  }
  const alone = new Float64Array(3)
  largestStraight(opening, alone)
  if (!(alone[0] > 0)) return best
  offer(alone[1], alone[2])
  if (ducts.length === 0) return best
  const { edges, edgeCount } = opening
  const rows: Row[] = Array.from({ length: edgeCount }, (_, i) => [edges[i * EDGE_STRIDE], edges[i * EDGE_STRIDE + 1], 1, edges[i * EDGE_STRIDE + 2]])
  const count = edgeCount + ducts.length
  for (let i = 0; i < count; i++) {
    for (let j = i + 1; j < count; j++) {
      for (let k = j + 1; k < count; k++) {
        const picked = [i, j, k], linear: Row[] = picked.filter((n) => n < edgeCount).map((n) => rows[n])
        const round = picked.filter((n) => n >= edgeCount).map((n) => ducts[n - edgeCount])
        if (round.length === 0) {
          const [a, b, c] = linear
          for (const [x, y] of meetingOf(difference(a, b), difference(b, c))) offer(x, y)
          continue
        }
        for (let n = 1; n < round.length; n++) linear.push(betweenDucts(round[0], round[n]))
        for (const [x, y] of onDuct(linear[0], linear[1], round[0])) offer(x, y)
      }
    }
  }
  return best
}

/** How large a radius the centre takes; negative when it is out of the opening or in a duct. */
function roomAt({ edges, edgeCount }: Opening, ducts: readonly DuctThere[], x: number, y: number): number {
  let room = Infinity
  for (let e = 0; e < edgeCount * EDGE_STRIDE; e += EDGE_STRIDE) room = Math.min(room, edges[e + 2] - edges[e] * x - edges[e + 1] * y)
  for (const duct of ducts) room = Math.min(room, Math.hypot(x - duct.x, y - duct.y) - duct.keptMm)
  return Number.isFinite(room) ? room : -Infinity
}

function difference(a: Row, b: Row): Row {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2], a[3] - b[3]]
}

/** The point where two rows without r meet. */
function meetingOf([ax, ay, , a]: Row, [bx, by, , b]: Row): [number, number][] {
  const det = ax * by - ay * bx
  return det === 0 ? [] : [[(a * by - b * ay) / det, (ax * b - bx * a) / det]]
}

/** 2 (o2 - o1).c + 2 (q2 - q1) r = |o2|^2 - q2^2 - |o1|^2 + q1^2 */
function betweenDucts(one: DuctThere, two: DuctThere): Row {
  return [
    2 * (two.x - one.x), 2 * (two.y - one.y), 2 * (two.keptMm - one.keptMm),
    two.x ** 2 + two.y ** 2 - two.keptMm ** 2 - one.x ** 2 - one.y ** 2 + one.keptMm ** 2,
  ]
}

/** Both rows hold along a line p + t q of (x, y, r); the duct's own equation leaves a quadratic in t. */
function onDuct(one: Row, two: Row, duct: DuctThere): [number, number][] {
  const q = [one[1] * two[2] - one[2] * two[1], one[2] * two[0] - one[0] * two[2], one[0] * two[1] - one[1] * two[0]]
  const square = q[0] ** 2 + q[1] ** 2 + q[2] ** 2
  if (!(square > 0)) return []
  // the point of the line nearest to the origin: (d1 n2 - d2 n1) x q / |q|^2
  const m = [one[3] * two[0] - two[3] * one[0], one[3] * two[1] - two[3] * one[1], one[3] * two[2] - two[3] * one[2]]
  const p = [(m[1] * q[2] - m[2] * q[1]) / square, (m[2] * q[0] - m[0] * q[2]) / square, (m[0] * q[1] - m[1] * q[0]) / square]
  const dx = p[0] - duct.x, dy = p[1] - duct.y, dr = p[2] + duct.keptMm
  const a = q[0] ** 2 + q[1] ** 2 - q[2] ** 2, b = dx * q[0] + dy * q[1] - dr * q[2], c = dx * dx + dy * dy - dr * dr
  const times = Math.abs(a) <= 1e-14 * square ? [-c / (2 * b)] : rootsOf(a, b, c)
  return times.filter(Number.isFinite).map((t): [number, number] => [p[0] + t * q[0], p[1] + t * q[1]])
}

/** Of a t^2 + 2 b t + c, without cancellation. */
function rootsOf(a: number, b: number, c: number): number[] {
  const inside = b * b - a * c
  if (inside < 0) return []
  const far = -(b + Math.sign(b || 1) * Math.sqrt(inside))
  return [far / a, c / far]
}
