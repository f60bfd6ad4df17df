/**
 * The pencil that lays points down in plan, whatever they are for: an outline, a box by two corners, a line, a path or a
 * single point. A point is tapped, or typed as a length along the direction shown. Pure: every function gives a new pen.
 */
import type { Point2 } from '#model/index.ts'

export type PenShape = 'ring' | 'box' | 'line' | 'path' | 'point'
export interface Pen {
  readonly shape: PenShape
  readonly points: readonly Point2[]
  /** unit direction that a typed length goes */
  readonly towards: Point2
  /** right, left, up and down only */
  readonly square: boolean
}
/** `done` with the points that were wanted, or the pen that waits for more; or why the point cannot be. */
export type PenStep = { readonly pen: Pen } | { readonly done: readonly Point2[] } | { readonly why: string }

/** Two points nearer than this are the same, mm. */
const SAME_MM = 1
const FEWEST: Readonly<Record<PenShape, number>> = { ring: 3, box: 2, line: 2, path: 2, point: 1 }

export function newPen(shape: PenShape, square = true): Pen {
  // a box goes by its diagonal, so being square makes no sense for it
  return { shape, points: [], towards: [1, 0], square: shape !== 'box' && square }
}

export function penTap(pen: Pen, at: Point2): PenStep {
  const { points, shape } = pen
  const last = points.at(-1)
  if (shape === 'ring' && points.length >= 3 && apart(at, points[0]) < SAME_MM) return penClose(pen)
  if (last !== undefined && apart(at, last) < SAME_MM) return { why: 'that is where the last point is' }
  if (shape === 'box' && last !== undefined && (Math.abs(at[0] - last[0]) < SAME_MM || Math.abs(at[1] - last[1]) < SAME_MM)) return { why: 'the two corners must lie across from each other' }
  if (shape === 'ring' && last !== undefined && crossesItself(points, at)) return { why: 'the outline would cross itself' }
  const now = [...points, at]
  if (now.length === FEWEST[shape] && shape !== 'ring' && shape !== 'path') return { done: now }
  return { pen: { ...pen, points: now, towards: last === undefined ? pen.towards : nextTowards(last, at) } }
}

/** The next point, so far along the direction shown. */
export function penTyped(pen: Pen, lengthMm: number): PenStep {
  const last = pen.points.at(-1)
  if (last === undefined) return { why: 'the first point is tapped, or typed as x and y' }
  if (!(lengthMm > 0)) return { why: 'the length must be more than 0' }
  return penTap(pen, [tidy(last[0] + pen.towards[0] * lengthMm), tidy(last[1] + pen.towards[1] * lengthMm)])
}

export function penClose(pen: Pen): PenStep {
  const { points, shape } = pen
  if (points.length < FEWEST[shape]) return { why: shape === 'ring' ? 'an outline needs three corners' : 'it needs two points' }
  if (shape === 'ring') {
    if (crossesItself(points.slice(1), points[0])) return { why: 'the outline would cross itself' }
    if (Math.abs(areaMm2(points)) < 1) return { why: 'the corners lie in one line' }
  }
  return { done: points }
}

export function penBack(pen: Pen): Pen {
  return { ...pen, points: pen.points.slice(0, -1) }
}

/** Turned to where the pointer is, so that a typed length goes the way that is shown. */
export function penTowards(pen: Pen, at: Point2): Pen {
  const last = pen.points.at(-1)
  const far = last === undefined ? 0 : apart(at, last)
  if (last === undefined || far < SAME_MM) return pen
  return { ...pen, towards: [(at[0] - last[0]) / far, (at[1] - last[1]) / far] }
}

/** 'right', '37° from right': the direction that a typed length goes, in words. */
export function towardsWords([x, y]: Point2): string {
  if (Math.abs(y) < 1e-9) return x > 0 ? 'right' : 'left'
  if (Math.abs(x) < 1e-9) return y > 0 ? 'up' : 'down'
  return `${Math.round(Math.atan2(y, x) * 1800 / Math.PI) / 10}\u00b0 from right`
}

export function areaMm2(ring: readonly Point2[]): number {
  return ring.reduce((sum, [x, y], i) => {
    const [nx, ny] = ring[(i + 1) % ring.length]
    return sum + (x * ny - nx * y) / 2
  }, 0)
}

/** A left turn is the usual one after each wall of a room drawn counter-clockwise. */
function nextTowards(last: Point2, at: Point2): Point2 {
  const far = apart(last, at)
  return [-(at[1] - last[1]) / far || 0, (at[0] - last[0]) / far || 0]
}

/** Whether the leg from the last point to `at` meets an earlier one that it does not start from. */
function crossesItself(points: readonly Point2[], at: Point2): boolean {
  const last = points[points.length - 1]
  for (let i = 0; i + 2 < points.length; i++) if (legsCross(points[i], points[i + 1], last, at)) return true
  return false
}

function legsCross(a: Point2, b: Point2, c: Point2, d: Point2): boolean {
  const side = (p: Point2, q: Point2, r: Point2): number => Math.sign((q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0]))
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0
}

/** no more digits than a tape has; turns of 90° leave none over */
function tidy(value: number): number {
  return Math.round(value * 1e4) / 1e4
}

function apart(a: Point2, b: Point2): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1])
}
