/** What a touch is meant for while a run is threaded: openings and holes through joists, places in bays, points of a run. No renderer. */
import type { Assembly, PlacedJoist, PlacedOpening, PlacedRun } from '#assembly/assembly.ts'
import { joistWidthMm } from '#checks/refs.ts'
import { ringHolds } from '#geometry/solid/ring.ts'
import type { Xyz } from './frame.ts'
import type { Touch } from './hand.ts'
import type { Ray } from './pick.ts'

export type WayThrough =
  | { readonly kind: 'opening', readonly joistIndex: number, readonly number: number }
  | { readonly kind: 'hole', readonly holeId: string }

/** A ray nearer than this to lying in a joist's middle plane is from straight above or below, as a sine. */
const EDGE_ON = 0.1
/** a touch beside a hole is still meant for it, as a share of its radius */
const HOLE_REACH = 1.3

/**
 * The opening or hole that a ray meets first. On a member, the opening beside it; from straight above, the one under the chord.
 * @param besideMm how far beside a chord a touch from straight above is still meant for it
 */
export function wayThroughAt(assembly: Assembly, ray: Ray, besideMm = 0): WayThrough | null {
  let best = Infinity
  let found: WayThrough | null = null
  assembly.joists.forEach((joist, joistIndex) => {
    if (joist.openings.length === 0) return
    const meets = meetsJoist(joist, ray, besideMm)
    if (meets === null || meets.t >= best) return
    best = meets.t
    found = { kind: 'opening', joistIndex, number: openingAtOrBeside(joist.openings, meets.x, meets.y).number }
  })
  for (const { id, at, axis, radiusMm } of assembly.holes) {
    const towards = dot(ray.direction, axis)
    if (Math.abs(towards) < EDGE_ON) continue
    const t = dot(minus(at, ray.from), axis) / towards
    if (t <= 0 || t >= best || Math.hypot(...minus(along(ray, t), at)) > HOLE_REACH * radiusMm) continue
    best = t
    found = { kind: 'hole', holeId: id }
  }
  return found
}

/** how far off its middle a thumb may be for an opening or hole to be meant, CSS px */
const THUMB_PX = 22

/** The opening or hole under a thumb: the one that the ray meets where that is as large as a thumb, else the one whose middle is nearest within its reach. */
export function wayUnderThumb(assembly: Assembly, { x, y, ray, toPx }: Pick<Touch, 'x' | 'y' | 'ray' | 'toPx'>): WayThrough | null {
  const met = wayThroughAt(assembly, ray)
  if (met?.kind === 'hole') return met
  if (met !== null) {
    const joist = assembly.joists[met.joistIndex]
    const corners = cornersOf(joist, joist.openings.find(({ number }) => number === met.number)).map(toPx)
    if (corners.every((px) => px !== null) && thicknessOf(corners) >= 2 * THUMB_PX) return met
  }
  let found = met as WayThrough | null, least = THUMB_PX
  const near = (place: Xyz, way: WayThrough): void => {
    const px = toPx(place), away = px === null ? Infinity : Math.hypot(px[0] - x, px[1] - y)
    if (away < least) [found, least] = [way, away]
  }
  assembly.joists.forEach((joist, joistIndex) => {
    for (const opening of joist.openings) {
      const corners = cornersOf(joist, opening)
      if (corners.length > 0) near([0, 1, 2].map((k) => corners.reduce((sum, corner) => sum + corner[k], 0) / corners.length) as unknown as Xyz, { kind: 'opening', joistIndex, number: opening.number })
    }
  })
  for (const { id, at } of assembly.holes) near([at[0], at[1], at[2]], { kind: 'hole', holeId: id })
  return found
}

function cornersOf({ origin, along: way }: PlacedJoist, placed: PlacedOpening | undefined): Xyz[] {
  const v = placed?.opening.verticesXy ?? []
  return Array.from({ length: v.length / 2 }, (_, i): Xyz => [origin[0] + way[0] * v[2 * i], origin[1] + way[1] * v[2 * i], origin[2] + v[2 * i + 1]])
}

/** Of an outline in the picture: its area over how long it is, px. */
function thicknessOf(corners: readonly (readonly [number, number])[]): number {
  let twice = 0, long = 0
  corners.forEach(([ax, ay], i) => {
    const [bx, by] = corners[(i + 1) % corners.length]
    twice += ax * by - bx * ay
    for (const [cx, cy] of corners) long = Math.max(long, Math.hypot(cx - ax, cy - ay))
  })
  return long > 0 ? Math.abs(twice) / 2 / long : 0
}

function meetsJoist(joist: PlacedJoist, ray: Ray, besideMm: number): { readonly t: number, readonly x: number, readonly y: number } | null {
  const { origin, across, section: { depthMm }, lengthMm } = joist
  const towards = dot(ray.direction, across) / Math.hypot(...ray.direction)
  if (Math.abs(towards) >= EDGE_ON) {
    const t = dot(minus(origin, ray.from), across) / dot(ray.direction, across)
    const { x, y } = inPlane(joist, along(ray, t))
    return t > 0 && x >= 0 && x <= lengthMm && y >= 0 && y <= depthMm ? { t, x, y } : null
  }
  if (Math.abs(ray.direction[2]) < 1e-9) return null
  const faceMm = ray.direction[2] < 0 ? origin[2] + depthMm : origin[2]
  const t = (faceMm - ray.from[2]) / ray.direction[2]
  const { x, n } = inPlane(joist, along(ray, t))
  return t > 0 && x >= 0 && x <= lengthMm && Math.abs(n) <= joistWidthMm(joist) / 2 + besideMm ? { t, x, y: depthMm / 2 } : null
}

function inPlane({ origin, along: way, across }: PlacedJoist, at: Xyz): { readonly x: number, readonly y: number, readonly n: number } {
  const from = minus(at, origin)
  return { x: dot(from, way), y: from[2], n: dot(from, across) }
}

function openingAtOrBeside(openings: readonly PlacedOpening[], x: number, y: number): PlacedOpening {
  const inside = openings.find(({ opening: { verticesXy } }) => verticesXy.length > 0 && ringHolds(verticesXy, x, y))
  return inside ?? openings.reduce((best, one) => offOf(one, x, y) < offOf(best, x, y) ? one : best)
}

/** Least distance from a place in a joist's plane to an opening's edge, mm. */
function offOf({ opening: { verticesXy: v } }: PlacedOpening, x: number, y: number): number {
  let least = Infinity
  for (let i = 0; i < v.length; i += 2) {
    const j = (i + 2) % v.length, ex = v[j] - v[i], ey = v[j + 1] - v[i + 1], square = ex * ex + ey * ey
    const t = square > 0 ? Math.min(1, Math.max(0, ((x - v[i]) * ex + (y - v[i + 1]) * ey) / square)) : 0
    least = Math.min(least, Math.hypot(x - v[i] - t * ex, y - v[i + 1] - t * ey))
  }
  return least
}

/** Where a ray comes to a height, mm; null when it runs level, or goes the other way. */
export function placeAtHeight(ray: Ray, zMm: number): Xyz | null {
  const t = (zMm - ray.from[2]) / ray.direction[2]
  return t > 0 && Number.isFinite(t) && Math.abs(ray.direction[2]) > LEVEL * Math.hypot(...ray.direction) ? along(ray, t) : null
}

/** Seen flatter than this a level place cannot be told, as a sine. */
const LEVEL = 0.03

/**
 * Where a thing at `at` goes that is pulled along by a ray.
 * @param lift 'level': at its own height; 'upright': straight up or down
 * @returns null when the view is edge-on to the way that it may go
 */
export function pulledTo(ray: Ray, at: Xyz, lift: 'level' | 'upright'): Xyz | null {
  if (lift === 'level') return placeAtHeight(ray, at[2])
  const [dx, dy, dz] = ray.direction, flat = Math.hypot(dx, dy)
  if (flat < LEVEL * Math.hypot(dx, dy, dz)) return null
  // the upright plane through it that faces the eye
  const t = ((at[0] - ray.from[0]) * dx + (at[1] - ray.from[1]) * dy) / (flat * flat)
  return t > 0 ? [at[0], at[1], ray.from[2] + t * dz] : null
}

/** The nearest of some places in the picture. @returns its index, or -1 when none is within reach */
export function nearestPlace(touch: Pick<Touch, 'x' | 'y' | 'reachPx' | 'toPx'>, placesMm: readonly Xyz[]): number {
  let best = -1, least = touch.reachPx
  placesMm.forEach((place, i) => {
    const px = touch.toPx(place)
    if (px === null) return
    const away = Math.hypot(px[0] - touch.x, px[1] - touch.y)
    if (away <= least) [best, least] = [i, away]
  })
  return best
}

/** The leg of a run nearest to a ray. @returns the place on the leg, and the number that a new point there would get */
export function legAt({ run: { waypoints }, outerRadiusMm }: PlacedRun, ray: Ray): { readonly point: number, readonly at: Xyz } | null {
  let best: { readonly point: number, readonly at: Xyz } | null = null, least = 1.5 * outerRadiusMm
  for (let i = 0; i + 1 < waypoints.length; i++) {
    const { at, offMm } = nearestOnLeg(waypoints[i].at, waypoints[i + 1].at, ray)
    if (offMm < least) [best, least] = [{ point: i + 1, at }, offMm]
  }
  return best
}

/** Ericson, Real-Time Collision Detection 5.1.9, with a ray for the first segment. */
function nearestOnLeg(a: Xyz, b: Xyz, ray: Ray): { readonly at: Xyz, readonly offMm: number } {
  const leg = minus(b, a), gap = minus(a, ray.from)
  const dd = dot(ray.direction, ray.direction), ll = dot(leg, leg), dl = dot(ray.direction, leg)
  const sine = dd * ll - dl * dl
  let s = sine > 1e-9 * dd * ll ? (dot(gap, ray.direction) * dl - dot(gap, leg) * dd) / sine : 0
  s = Math.min(1, Math.max(0, s))
  const at: Xyz = [a[0] + s * leg[0], a[1] + s * leg[1], a[2] + s * leg[2]]
  const t = Math.max(0, dot(minus(at, ray.from), ray.direction) / dd)
  return { at, offMm: Math.hypot(...minus(at, along(ray, t))) }
}

function along({ from, direction }: Ray, t: number): Xyz {
  return [from[0] + t * direction[0], from[1] + t * direction[1], from[2] + t * direction[2]]
}
function minus(a: Xyz, b: Xyz): [number, number, number] {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}
function dot(a: Xyz, b: Xyz): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}
