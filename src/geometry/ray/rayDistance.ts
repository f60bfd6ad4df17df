/**
 * How far a ray goes before it meets the surface of a solid, mm, exact but for rounding: the first t >= 0 at which
 * origin + t * direction lies on the surface. From inside that is where it leaves. `direction` must be a unit vector; Infinity when it
 * misses. A ray that only runs along a face may go either way.
 */
import { ringsOf } from '../solid/degenerate.ts'
import { ringHolds } from '../solid/ring.ts'
import { BOX, CYLINDER, PRISM } from '../solid/solidSet.ts'
import type { SolidSet } from '../solid/solidSet.ts'
import { rayToTube } from './rayToTube.ts'

type Vector = ArrayLike<number>

export function rayDistance(set: SolidSet, solidIndex: number, origin3: Vector, direction3: Vector): number {
  const { data } = set, s = set.offset[solidIndex]
  switch (set.kind[solidIndex]) {
    case BOX: return toBox(data, s, origin3, direction3)
    case PRISM: return toPrism(data, s, origin3, direction3)
    case CYLINDER: return toCylinder(data, s, origin3, direction3)
    default: return rayToTube(data, s + 2, data[s + 1], data[s], origin3, direction3)
  }
}

/** Slab by slab (Kay & Kajiya 1986). */
function toBox(data: Float64Array, s: number, o: Vector, d: Vector): number {
  let enter = -Infinity, leave = Infinity
  for (let k = 0; k < 3; k++) {
    const a = s + 6 + 3 * k, half = data[s + 3 + k]
    const at = dotFrom(data, s, a, o), step = along(data, a, d)
    if (step === 0) {
      if (Math.abs(at) > half) return Infinity
      continue
    }
    const one = (-half - at) / step, two = (half - at) / step
    enter = Math.max(enter, Math.min(one, two))
    leave = Math.min(leave, Math.max(one, two))
  }
  if (enter > leave || leave < 0) return Infinity
  return enter >= 0 ? enter : leave
}

function toCylinder(data: Float64Array, s: number, o: Vector, d: Vector): number {
  const radius = data[s + 6], half = data[s + 7]
  const at = dotFrom(data, s, s + 3, o), step = along(data, s + 3, d)
  const px = o[0] - data[s] - at * data[s + 3], py = o[1] - data[s + 1] - at * data[s + 4], pz = o[2] - data[s + 2] - at * data[s + 5]
  const qx = d[0] - step * data[s + 3], qy = d[1] - step * data[s + 4], qz = d[2] - step * data[s + 5]
  let least = Infinity
  for (const t of roots(qx * qx + qy * qy + qz * qz, px * qx + py * qy + pz * qz, px * px + py * py + pz * pz - radius * radius)) {
    if (t >= 0 && t < least && Math.abs(at + t * step) <= half) least = t
  }
  if (step !== 0) {
    for (const end of [-half, half]) {
      const t = (end - at) / step
      if (t < 0 || t >= least) continue
      const x = o[0] + t * d[0] - data[s] - end * data[s + 3], y = o[1] + t * d[1] - data[s + 1] - end * data[s + 4], z = o[2] + t * d[2] - data[s + 2] - end * data[s + 5]
      if (x * x + y * y + z * z <= radius * radius) least = t
    }
  }
  return least
}

function toPrism(data: Float64Array, s: number, o: Vector, d: Vector): number {
  const u = dotFrom(data, s, s + 3, o), v = dotFrom(data, s, s + 6, o), w = dotFrom(data, s, s + 9, o)
  const du = along(data, s + 3, d), dv = along(data, s + 6, d), dw = along(data, s + 9, d)
  const bottom = data[s + 12], top = data[s + 13], rings = ringsOf(data, s)
  let least = Infinity
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i += 2) {
      const j = (i + 2) % ring.length
      const ex = ring[j] - ring[i], ey = ring[j + 1] - ring[i + 1]
      const facing = du * ey - dv * ex
      if (facing === 0) continue
      const t = ((ring[i] - u) * ey - (ring[i + 1] - v) * ex) / facing
      const share = ((ring[i] - u) * dv - (ring[i + 1] - v) * du) / facing
      const height = w + t * dw
      if (t >= 0 && t < least && share >= 0 && share <= 1 && height >= bottom && height <= top) least = t
    }
  }
  if (dw !== 0) {
    for (const end of [bottom, top]) {
      const t = (end - w) / dw
      if (t < 0 || t >= least) continue
      let inside = false
      for (const ring of rings) if (ringHolds(ring, u + t * du, v + t * dv)) inside = !inside
      if (inside) least = t
    }
  }
  return least
}

function dotFrom(data: Float64Array, from: number, axis: number, p: Vector): number {
  return (p[0] - data[from]) * data[axis] + (p[1] - data[from + 1]) * data[axis + 1] + (p[2] - data[from + 2]) * data[axis + 2]
}

function along(data: Float64Array, axis: number, d: Vector): number {
  return d[0] * data[axis] + d[1] * data[axis + 1] + d[2] * data[axis + 2]
}

/** Of a t^2 + 2 b t + c, in order, without cancellation; none when it never changes sign. */
export function roots(a: number, b: number, c: number): number[] {
  const inside = b * b - a * c
  if (!(a > 0) || !(inside > 0)) return []
  const far = -(b + (b < 0 ? -1 : 1) * Math.sqrt(inside))
  const one = far / a, two = c / far
  return one < two ? [one, two] : [two, one]
}
