import { ARC, CENTRE_X, ELEMENT_STRIDE, KIND, LENGTH, RADIAL_X, RADIUS, START_X, TANGENT_X } from '../curve/centreline.ts'
import { angleNearest } from '../clearance/pointArc.ts'
import { ringsOf } from './degenerate.ts'
import { ringHolds } from './ring.ts'
import { BOX, CYLINDER, PRISM } from './solidSet.ts'
import type { SolidSet } from './solidSet.ts'

/**
 * Signed distance from a point to a solid's surface, mm, exact: negative inside.
 * For a tube that touches itself or turns a sharp corner the depth inside is that below the nearest leg's or bend's own surface.
 * @param out3 the nearest point of the surface, mm
 */
export function distanceToSolid(
  set: SolidSet, solidIndex: number, x: number, y: number, z: number, out3: Float64Array | number[],
): number {
  const { data } = set, s = set.offset[solidIndex]
  switch (set.kind[solidIndex]) {
    case BOX: return toBox(data, s, x, y, z, out3)
    case PRISM: return toPrism(data, s, x, y, z, out3)
    case CYLINDER: return toCylinder(data, s, x, y, z, out3)
    default: return toTube(data, s, x, y, z, out3)
  }
}

type Out = Float64Array | number[]

function toBox(data: Float64Array, s: number, x: number, y: number, z: number, out: Out): number {
  const local = [0, 0, 0], near = [0, 0, 0]
  let outside = 0, depth = Infinity, shallowest = 0
  for (let k = 0; k < 3; k++) {
    const a = s + 6 + 3 * k, half = data[s + 3 + k]
    local[k] = (x - data[s]) * data[a] + (y - data[s + 1]) * data[a + 1] + (z - data[s + 2]) * data[a + 2]
    near[k] = Math.min(Math.max(local[k], -half), half)
    outside += (local[k] - near[k]) ** 2
    if (half - Math.abs(local[k]) < depth) {
      depth = half - Math.abs(local[k])
      shallowest = k
    }
  }
  if (outside === 0) near[shallowest] = local[shallowest] < 0 ? -data[s + 3 + shallowest] : data[s + 3 + shallowest]
  for (let k = 0; k < 3; k++) {
    out[k] = data[s + k] + near[0] * data[s + 6 + k] + near[1] * data[s + 9 + k] + near[2] * data[s + 12 + k]
  }
  return outside > 0 ? Math.sqrt(outside) : -depth
}

function toPrism(data: Float64Array, s: number, x: number, y: number, z: number, out: Out): number {
  const u = dotFrom(data, s, s + 3, x, y, z), v = dotFrom(data, s, s + 6, x, y, z), w = dotFrom(data, s, s + 9, x, y, z)
  const bottom = data[s + 12], top = data[s + 13]
  let inside = false, nearU = u, nearV = v, aside = Infinity
  for (const ring of ringsOf(data, s)) {
    if (ringHolds(ring, u, v)) inside = !inside
    for (let i = 0, n = ring.length; i < n; i += 2) {
      const j = (i + 2) % n
      const du = ring[j] - ring[i], dv = ring[j + 1] - ring[i + 1], squared = du * du + dv * dv
      const free = squared > 0 ? ((u - ring[i]) * du + (v - ring[i + 1]) * dv) / squared : 0
      const along = Math.min(Math.max(free, 0), 1)
      const pu = ring[i] + along * du, pv = ring[i + 1] + along * dv
      const distance = Math.hypot(u - pu, v - pv)
      if (distance < aside) {
        aside = distance
        nearU = pu
        nearV = pv
      }
    }
  }
  const nearW = Math.min(Math.max(w, bottom), top)
  const depth = Math.min(w - bottom, top - w)
  if (inside && depth >= 0) {
    const throughSide = aside <= depth
    placePrism(data, s, throughSide ? nearU : u, throughSide ? nearV : v, throughSide ? w : w - bottom < top - w ? bottom : top, out)
    return -Math.min(aside, depth)
  }
  placePrism(data, s, inside ? u : nearU, inside ? v : nearV, nearW, out)
  return Math.hypot(inside ? 0 : aside, w - nearW)
}

function placePrism(data: Float64Array, s: number, u: number, v: number, w: number, out: Out): void {
  for (let k = 0; k < 3; k++) out[k] = data[s + k] + u * data[s + 3 + k] + v * data[s + 6 + k] + w * data[s + 9 + k]
}

function toCylinder(data: Float64Array, s: number, x: number, y: number, z: number, out: Out): number {
  const radius = data[s + 6], half = data[s + 7]
  const along = dotFrom(data, s, s + 3, x, y, z)
  const side = [x - data[s] - along * data[s + 3], y - data[s + 1] - along * data[s + 4], z - data[s + 2] - along * data[s + 5]]
  const rho = Math.hypot(side[0], side[1], side[2])
  const isWithin = rho <= radius && Math.abs(along) <= half
  const throughSide = isWithin ? radius - rho <= half - Math.abs(along) : rho > radius
  const throughEnd = isWithin ? !throughSide : Math.abs(along) > half
  const nearAlong = throughEnd ? (along < 0 ? -half : half) : along
  if (throughSide && !(rho > 0)) squareTo(data[s + 3], data[s + 4], data[s + 5], side)
  const scale = throughSide ? radius / (rho > 0 ? rho : 1) : 1
  for (let k = 0; k < 3; k++) out[k] = data[s + k] + nearAlong * data[s + 3 + k] + scale * side[k]
  if (isWithin) return throughSide ? rho - radius : Math.abs(along) - half
  return Math.hypot(Math.max(rho - radius, 0), along - nearAlong)
}

function toTube(data: Float64Array, s: number, x: number, y: number, z: number, out: Out): number {
  const radius = data[s], count = data[s + 1]
  let least = Infinity
  const near = [0, 0, 0], along = [0, 0, 0], direction = [0, 0, 0]
  for (let i = 0, e = s + 2; i < count; i++, e += ELEMENT_STRIDE) {
    const isArc = data[e + KIND] === ARC
    const t = isArc ? angleNearest(data, e, x, y, z) : Math.min(Math.max(dotFrom(data, e + START_X, e + RADIAL_X, x, y, z), 0), data[e + LENGTH])
    const c = Math.cos(t), sine = Math.sin(t)
    for (let k = 0; k < 3; k++) {
      near[k] = isArc
        ? data[e + CENTRE_X + k] + data[e + RADIUS] * (c * data[e + RADIAL_X + k] + sine * data[e + TANGENT_X + k])
        : data[e + START_X + k] + t * data[e + RADIAL_X + k]
    }
    const distance = Math.hypot(x - near[0], y - near[1], z - near[2])
    if (distance >= least) continue
    least = distance
    for (let k = 0; k < 3; k++) {
      along[k] = near[k]
      direction[k] = isArc ? c * data[e + TANGENT_X + k] - sine * data[e + RADIAL_X + k] : data[e + RADIAL_X + k]
    }
  }
  const away = [x - along[0], y - along[1], z - along[2]]
  if (!(least > 0)) squareTo(direction[0], direction[1], direction[2], away)
  const scale = radius / (least > 0 ? least : 1)
  for (let k = 0; k < 3; k++) out[k] = along[k] + scale * away[k]
  return least - radius
}

/** How far (x, y, z) lies from the point at `from`, along the direction at `axis`. */
function dotFrom(data: Float64Array, from: number, axis: number, x: number, y: number, z: number): number {
  return (x - data[from]) * data[axis] + (y - data[from + 1]) * data[axis + 1] + (z - data[from + 2]) * data[axis + 2]
}

/** Any unit vector square to (x, y, z); +z when that has no length. */
function squareTo(x: number, y: number, z: number, out: number[]): void {
  const flat = Math.abs(x) + Math.abs(y) < Math.abs(z)
  const length = flat ? Math.hypot(x, z) : Math.hypot(x, y)
  out[0] = length > 0 ? (flat ? z : -y) / length : 0
  out[1] = length > 0 && !flat ? x / length : 0
  out[2] = length > 0 ? (flat ? -x / length : 0) : 1
}
