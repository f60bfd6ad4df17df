/** Where a tapped point really goes: on to a corner that is there, on to an edge, or square to the last point. What it held to is said. Pure. */
import type { Job, Point2 } from '#model/index.ts'

export type Edge = readonly [Point2, Point2]
/** What there is to hold to. */
export interface Holds {
  readonly corners: readonly Point2[]
  readonly edges: readonly Edge[]
}
export interface SnapAsk extends Holds {
  /** how near is near enough, mm: a fingertip at this zoom */
  readonly reachMm: number
  /** the last point placed */
  readonly from?: Point2
  /** the point that closes the outline */
  readonly first?: Point2
  /** only right, left, up and down from the last point */
  readonly square: boolean
}
export interface Snapped {
  readonly at: Point2
  readonly held: 'close' | 'corner' | 'edge' | 'line' | 'square' | 'free'
  /** what it holds to, for the person to read */
  readonly words: string
  /** a corner that it stands in line with, to draw the line from */
  readonly inLineWith?: Point2
}

/** A point that holds to nothing goes to the nearest of these, mm: a tap is no finer. */
const STEP_MM = 10

export function snapPoint(raw: Point2, ask: SnapAsk): Snapped {
  const { from, first, reachMm, square } = ask
  if (first !== undefined && apart(raw, first) <= reachMm) return { at: first, held: 'close', words: 'closes the outline' }
  const corner = nearestOf(ask.corners, raw, reachMm)
  const isSquareTo = (at: Point2): boolean => from === undefined || !square || Math.abs(at[0] - from[0]) < 0.5 || Math.abs(at[1] - from[1]) < 0.5
  if (corner !== null && isSquareTo(corner)) return { at: corner, held: 'corner', words: 'on a corner' }
  if (from !== undefined && square) return squareOff(raw, from, ask)
  const edge = nearestOnEdges(ask.edges, raw, reachMm)
  if (edge !== null) return { at: edge, held: 'edge', words: 'on an edge' }
  return { at: [stepped(raw[0]), stepped(raw[1])], held: 'free', words: `to the nearest ${STEP_MM} mm` }
}

/** On the level or the upright line through the last point, at an edge or in line with a corner where one is near. */
function squareOff(raw: Point2, from: Point2, { edges, corners, first, reachMm }: SnapAsk): Snapped {
  const axis = Math.abs(raw[0] - from[0]) >= Math.abs(raw[1] - from[1]) ? 0 : 1
  const on = (value: number): Point2 => axis === 0 ? [value, from[1]] : [from[0], value]
  const wanted = raw[axis]
  let best: { readonly value: number, readonly snapped: Snapped } | null = null
  const offer = (value: number, snapped: Snapped): void => {
    const off = Math.abs(value - wanted)
    if (off <= reachMm && (best === null || off < Math.abs(best.value - wanted)) && Math.abs(value - from[axis]) > 0.5) best = { value, snapped }
  }
  for (const edge of edges) {
    const value = crossing(edge, axis, from[1 - axis])
    if (value !== null) offer(value, { at: on(value), held: 'edge', words: 'square, on an edge' })
  }
  for (const corner of first === undefined ? corners : [first, ...corners]) {
    offer(corner[axis], { at: on(corner[axis]), held: 'line', words: 'square, in line with a corner', inLineWith: corner })
  }
  if (best !== null) return (best as { readonly snapped: Snapped }).snapped
  const value = from[axis] + stepped(wanted - from[axis])
  return { at: on(value), held: 'square', words: `square, to the nearest ${STEP_MM} mm` }
}

/** Where an edge meets a level (axis 0) or upright (axis 1) line; null when it does not, or lies along it. */
function crossing([a, b]: Edge, axis: 0 | 1, at: number): number | null {
  const other = axis === 0 ? 1 : 0
  const da = a[other] - at, db = b[other] - at
  if (da === db || da * db > 0) return null
  return a[axis] + (b[axis] - a[axis]) * da / (da - db)
}

function nearestOf(points: readonly Point2[], raw: Point2, reachMm: number): Point2 | null {
  let best: Point2 | null = null
  for (const point of points) if (apart(point, raw) <= (best === null ? reachMm : apart(best, raw))) best = point
  return best
}

function nearestOnEdges(edges: readonly Edge[], raw: Point2, reachMm: number): Point2 | null {
  return nearestOf(edges.map(edge => nearestOnEdge(edge, raw)), raw, reachMm)
}

export function nearestOnEdge([a, b]: Edge, p: Point2): Point2 {
  const dx = b[0] - a[0], dy = b[1] - a[1], size = dx * dx + dy * dy
  const t = size === 0 ? 0 : Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / size))
  return [a[0] + dx * t, a[1] + dy * t]
}

export function edgesOf(ring: readonly Point2[]): Edge[] {
  return ring.map((a, i) => [a, ring[(i + 1) % ring.length]])
}

/** Corners and edges of rooms, ceiling zones and walls. @param skip id of what is being moved, which cannot hold to itself */
export function holdsOf(job: Job, skip?: string): Holds {
  const rings: Point2[][] = []
  for (const { id, outline } of job.rooms) if (id !== skip) rings.push(outline)
  for (const { id, outline, holes } of job.zones) if (id !== skip) rings.push(outline, ...holes)
  for (const { id, shape } of job.solids) {
    if (id !== skip && shape.kind === 'prism' && [...shape.origin, ...shape.rotationDeg].every(value => value === 0)) rings.push(shape.outline)
  }
  return { corners: rings.flat(), edges: rings.flatMap(edgesOf) }
}

function stepped(value: number): number {
  return Math.round(value / STEP_MM) * STEP_MM
}

function apart(a: Point2, b: Point2): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1])
}
