/**
 * A ray against every point within a radius of a chain of legs and bends. Its surface is made of cylinders, tori and balls, so the ray
 * can only cross it at a root of one of those (a quartic at most); between two neighbouring roots it is all inside or all outside, which its middle tells.
 */
import { distanceToArc } from '../clearance/pointArc.ts'
import { ARC, CENTRE_X, ELEMENT_STRIDE, END_X, KIND, LENGTH, RADIAL_X, RADIUS, START_X, TANGENT_X } from '../curve/centreline.ts'
import { product, rootsBetween, sum } from '../envelope/polynomial.ts'
import { roots } from './rayDistance.ts'

type Vector = ArrayLike<number>

/** @param first offset of the first element. @returns as rayDistance: from outside where it enters, from inside where it leaves, Infinity when it misses */
export function rayToTube(elements: Float64Array, first: number, count: number, radius: number, o: Vector, d: Vector): number {
  const cuts: number[] = []
  for (let i = 0, e = first; i < count; i++, e += ELEMENT_STRIDE) {
    if (i === 0) cutBall(elements, e + START_X, radius, o, d, cuts)
    cutBall(elements, e + END_X, radius, o, d, cuts)
    if (elements[e + KIND] === ARC) cutTorus(elements, e, radius, o, d, cuts)
    else cutRod(elements, e, radius, o, d, cuts)
  }
  const ahead = cuts.filter((t) => t > 0).sort((a, b) => a - b)
  if (ahead.length === 0) return Infinity
  const holds = (t: number): boolean => tubeHolds(elements, first, count, radius, o[0] + t * d[0], o[1] + t * d[1], o[2] + t * d[2])
  const isInside = holds(ahead[0] / 2)
  for (let i = 0; i < ahead.length; i++) {
    const next = i + 1 < ahead.length ? (ahead[i] + ahead[i + 1]) / 2 : ahead[i] + 1
    if (holds(next) !== isInside) return ahead[i]
  }
  return Infinity
}

/** Whether a point lies within the radius of any leg or bend. */
export function tubeHolds(elements: Float64Array, first: number, count: number, radius: number, x: number, y: number, z: number): boolean {
  for (let i = 0, e = first; i < count; i++, e += ELEMENT_STRIDE) {
    if (elements[e + KIND] === ARC) {
      if (distanceToArc(elements, e, x, y, z) <= radius) return true
      continue
    }
    const px = x - elements[e + START_X], py = y - elements[e + START_X + 1], pz = z - elements[e + START_X + 2]
    const ux = elements[e + RADIAL_X], uy = elements[e + RADIAL_X + 1], uz = elements[e + RADIAL_X + 2]
    const along = Math.min(Math.max(px * ux + py * uy + pz * uz, 0), elements[e + LENGTH])
    if (Math.hypot(px - along * ux, py - along * uy, pz - along * uz) <= radius) return true
  }
  return false
}

function cutBall(elements: Float64Array, at: number, radius: number, o: Vector, d: Vector, cuts: number[]): void {
  const x = o[0] - elements[at], y = o[1] - elements[at + 1], z = o[2] - elements[at + 2]
  cuts.push(...roots(d[0] * d[0] + d[1] * d[1] + d[2] * d[2], x * d[0] + y * d[1] + z * d[2], x * x + y * y + z * z - radius * radius))
}

/** The leg's cylinder without end. */
function cutRod(elements: Float64Array, e: number, radius: number, o: Vector, d: Vector, cuts: number[]): void {
  const ux = elements[e + RADIAL_X], uy = elements[e + RADIAL_X + 1], uz = elements[e + RADIAL_X + 2]
  const x = o[0] - elements[e + START_X], y = o[1] - elements[e + START_X + 1], z = o[2] - elements[e + START_X + 2]
  const at = x * ux + y * uy + z * uz, step = d[0] * ux + d[1] * uy + d[2] * uz
  const px = x - at * ux, py = y - at * uy, pz = z - at * uz, qx = d[0] - step * ux, qy = d[1] - step * uy, qz = d[2] - step * uz
  cuts.push(...roots(qx * qx + qy * qy + qz * qz, px * qx + py * qy + pz * qz, px * px + py * py + pz * pz - radius * radius))
}

/**
 * The bend's whole torus, (|p|^2 + R^2 - r^2)^2 = 4 R^2 (|p|^2 - h^2) with h the height over its plane; lengths as shares of R + r from the
 * point of the ray nearest to the middle, so that all coefficients are of one size.
 */
function cutTorus(elements: Float64Array, e: number, radius: number, o: Vector, d: Vector, cuts: number[]): void {
  const bend = elements[e + RADIUS], size = bend + radius
  const x = o[0] - elements[e + CENTRE_X], y = o[1] - elements[e + CENTRE_X + 1], z = o[2] - elements[e + CENTRE_X + 2]
  const nearest = -(x * d[0] + y * d[1] + z * d[2])
  const px = (x + nearest * d[0]) / size, py = (y + nearest * d[1]) / size, pz = (z + nearest * d[2]) / size
  const off = px * px + py * py + pz * pz
  if (off > 1) return
  const [ux, uy, uz] = [elements[e + RADIAL_X], elements[e + RADIAL_X + 1], elements[e + RADIAL_X + 2]]
  const [vx, vy, vz] = [elements[e + TANGENT_X], elements[e + TANGENT_X + 1], elements[e + TANGENT_X + 2]]
  const nx = uy * vz - uz * vy, ny = uz * vx - ux * vz, nz = ux * vy - uy * vx
  const R = bend / size, r = radius / size
  const ring = [off + R * R - r * r, 0, 1]
  const height = [px * nx + py * ny + pz * nz, d[0] * nx + d[1] * ny + d[2] * nz]
  const quartic = sum(product(ring, ring), sum([off, 0, 1], product(height, height), -1), -4 * R * R)
  const reach = Math.sqrt(1 - off) * (1 + 1e-9) + 1e-9
  for (const tau of rootsBetween(quartic, -reach, reach)) cuts.push(nearest + tau * size)
}
