/**
 * Lengths that no course of a run can be shorter than, worked out from its two ends and its least bend radius alone: nothing
 * that stands in the way is looked at, nor any other run.
 */
import type { PlacedRun } from '#assembly/assembly.ts'
import { isSpigot } from '#assembly/runs.ts'
import { shortestDubins } from './dubins.ts'

type Vec = readonly [number, number, number]

export interface LeastLength {
  /** from mouth to mouth, mm: true of any course */
  readonly straightMm: number
  /** true of any course in space that bends no tighter than the radius, mm; at least straightMm */
  readonly freeMm: number
  /**
   * Shortest course in the plane that holds both mouths and both axes, mm; null where there is no such plane. True of courses
   * that keep to that plane. One that leaves it can be shorter where ends are near and turned away from each other.
   */
  readonly planarMm: number | null
}

/** Axes and mouths within this of one plane lie in it, as a share of their size. */
const IN_PLANE = 1e-9

export function leastLengthOf({ from, to, type }: PlacedRun): LeastLength {
  const radiusMm = type.kind === 'semi-rigid' ? type.minBendRadiusMm : Math.min(...type.fittings.map((fitting) => fitting.radiusMm))
  // through a sleeve a run may come at any slant
  const out = isSpigot(from) ? from.axis : null, into = isSpigot(to) ? minus([0, 0, 0], to.axis) : null
  return {
    straightMm: Math.hypot(...minus(to.at, from.at)),
    freeMm: leastFreeLength(from.at, out, to.at, into, radiusMm),
    planarMm: out === null || into === null ? null : planarLength(from.at, out, to.at, into, radiusMm),
  }
}

/**
 * A course of length L from p, leaving along u, to q, arriving along v, with curvature at most 1 / R. Let e point from p to
 * q, a distance D off, and let theta(s) be the angle between the course and e. The course turns by at most s / R in a length s, so
 * theta(s) >= max(0, a - s / R, b - (L - s) / R), a and b being the angles of u and v to e; and D = integral of cos theta.
 * So D <= G(L), the integral of the cosine of that least angle. G falls while the angle where both parts meet is above a
 * right angle and rises from there on, and G(0) = 0: so L is at least where G rises to D. Also L >= R times the angle of u to v.
 * @param out unit direction of leaving, or null for any; `into` likewise on arrival
 */
export function leastFreeLength(p: Vec, out: Vec | null, q: Vec, into: Vec | null, radiusMm: number): number {
  const way = minus(q, p), D = Math.hypot(...way)
  const turned = out === null || into === null ? 0 : radiusMm * angle(out, into)
  if (D === 0) return turned
  const a = out === null ? 0 : angle(out, way), b = into === null ? 0 : angle(into, way)
  const reach = (L: number): number => {
    if (L >= radiusMm * (a + b)) return L - radiusMm * (a - Math.sin(a) + b - Math.sin(b))
    const most = Math.max(a, b), other = Math.min(a, b)
    if (L <= radiusMm * (most - other)) return radiusMm * (Math.sin(most) - Math.sin(most - L / radiusMm))
    return radiusMm * (Math.sin(a) + Math.sin(b) - 2 * Math.sin((a + b - L / radiusMm) / 2))
  }
  let low = 0, high = D + radiusMm * (a + b)
  for (let k = 0; k < 200 && high - low > 1e-12 * high; k++) {
    const middle = (low + high) / 2
    if (reach(middle) < D) low = middle
    else high = middle
  }
  return Math.max(low, turned)
}

function planarLength(p: Vec, out: Vec, q: Vec, into: Vec, radiusMm: number): number | null {
  const way = minus(q, p), D = Math.hypot(...way)
  const normals = [cross(out, way), cross(into, way), cross(out, into)].map((n, k) => ({ n, size: Math.hypot(...n) / (k < 2 && D > 0 ? D : 1) }))
  const { n, size } = normals.reduce((best, one) => one.size > best.size ? one : best)
  if (size < IN_PLANE) return dot(out, into) > 0 && dot(out, way) >= 0 ? D : null
  const length = Math.hypot(...n), up: Vec = [n[0] / length, n[1] / length, n[2] / length]
  if (Math.abs(dot(up, way)) > IN_PLANE * D || Math.abs(dot(up, out)) > IN_PLANE || Math.abs(dot(up, into)) > IN_PLANE) return null
  const aside = cross(up, out)
  const at = { x: dot(way, out), y: dot(way, aside), headingRad: Math.atan2(dot(into, aside), dot(into, out)) }
  return shortestDubins({ x: 0, y: 0, headingRad: 0 }, at, radiusMm).length
}

function minus(a: Vec, b: Vec): [number, number, number] {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

function dot(a: Vec, b: Vec): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

function cross(a: Vec, b: Vec): [number, number, number] {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

function angle(a: Vec, b: Vec): number {
  return Math.atan2(Math.hypot(...cross(a, b)), dot(a, b))
}
