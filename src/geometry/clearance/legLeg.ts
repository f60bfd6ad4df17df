import { LENGTH, RADIAL_X, START_X } from '../curve/centreline.ts'
import { ALONG, ALONG_OTHER, DISTANCE, ON_CURVE_X, ON_SOLID_X } from './answer.ts'

/**
 * Least distance between two straight legs, exact. The order of clamping is Ericson, Real-Time Collision Detection
 * 5.1.9; the free minimum comes from cross products of unit directions, whose error for nearly parallel legs only
 * slides the two points along each other (compare Eberly, Robust Computation of Distance Between Line Segments).
 * So nothing is tested but division by zero.
 */
export function legLeg(
  a: Float64Array, e: number, b: Float64Array, o: number, cutoffMm: number, answer: Float64Array,
): number {
  const lengthA = a[e + LENGTH], lengthB = b[o + LENGTH]
  const ax = a[e + RADIAL_X], ay = a[e + RADIAL_X + 1], az = a[e + RADIAL_X + 2]
  const bx = b[o + RADIAL_X], by = b[o + RADIAL_X + 1], bz = b[o + RADIAL_X + 2]
  const wx = b[o + START_X] - a[e + START_X], wy = b[o + START_X + 1] - a[e + START_X + 1], wz = b[o + START_X + 2] - a[e + START_X + 2]
  const nx = ay * bz - az * by, ny = az * bx - ax * bz, nz = ax * by - ay * bx
  const sineSquared = nx * nx + ny * ny + nz * nz
  const dot = ax * bx + ay * by + az * bz
  const wa = wx * ax + wy * ay + wz * az, wb = wx * bx + wy * by + wz * bz

  let s = 0
  if (sineSquared > 0) {
    const free = ((wy * bz - wz * by) * nx + (wz * bx - wx * bz) * ny + (wx * by - wy * bx) * nz) / sineSquared
    s = free > 0 ? Math.min(free, lengthA) : 0
  }
  let t = s * dot - wb
  if (!(t > 0)) {
    t = 0
    s = wa > 0 ? Math.min(wa, lengthA) : 0
  } else if (t > lengthB) {
    t = lengthB
    const back = wa + t * dot
    s = back > 0 ? Math.min(back, lengthA) : 0
  }
  const dx = wx + t * bx - s * ax, dy = wy + t * by - s * ay, dz = wz + t * bz - s * az
  const distance = Math.sqrt(dx * dx + dy * dy + dz * dz)
  if (distance <= cutoffMm) {
    const px = a[e + START_X] + s * ax, py = a[e + START_X + 1] + s * ay, pz = a[e + START_X + 2] + s * az
    answer[DISTANCE] = distance
    answer[ON_CURVE_X] = px
    answer[ON_CURVE_X + 1] = py
    answer[ON_CURVE_X + 2] = pz
    answer[ON_SOLID_X] = px + dx
    answer[ON_SOLID_X + 1] = py + dy
    answer[ON_SOLID_X + 2] = pz + dz
    answer[ALONG] = s
    answer[ALONG_OTHER] = t
  }
  return distance
}
