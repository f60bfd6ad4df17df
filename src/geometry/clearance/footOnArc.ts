/**
 * The quick way from a straight leg to an arc of half a turn at most. The distance to a straight leg is convex, so it
 * is nowhere less than the distance to the plane square to any one shortest way, and along an arc that is one wave: when the
 * wave is least where Newton's steps ended, nothing on the whole arc is nearer.
 */
import { CENTRE_X, LENGTH, RADIAL_X, RADIUS, START_X, TANGENT_X, TURN } from '../curve/centreline.ts'
import { ROUNDING_MM } from '../tolerance.ts'

/** least distance found, mm; how far along the leg, mm, and round the arc, rad, it is; a bound that no point of the arc is below, mm */
export const FOOT = new Float64Array(4)
export const FOOT_DISTANCE = 0, FOOT_ALONG = 1, FOOT_ANGLE = 2, FOOT_BOUND = 3

/** A foot found to within this, rad, is told to within its square. */
const NEAR_ENOUGH_RAD = 1e-8
const MOST_STEPS = 10

/** Fills FOOT from a leg and an arc. @returns whether its distance is proved the least, but for rounding */
export function footOnArc(a: Float64Array, e: number, b: Float64Array, o: number): boolean {
  const turn = b[o + TURN], radius = b[o + RADIUS], length = a[e + LENGTH]
  const half = 0.5 * turn, halfCosine = Math.cos(half), halfSine = Math.sin(half), edge = halfSine / (1 + halfCosine)
  const c = radius * halfCosine, s = radius * halfSine
  const rx = b[o + RADIAL_X], ry = b[o + RADIAL_X + 1], rz = b[o + RADIAL_X + 2]
  const tx = b[o + TANGENT_X], ty = b[o + TANGENT_X + 1], tz = b[o + TANGENT_X + 2]
  // from the leg's start: w + f cos t + g sin t, t from the middle of the arc; u = tan(t / 2)
  const fx = c * rx + s * tx, fy = c * ry + s * ty, fz = c * rz + s * tz
  const gx = c * tx - s * rx, gy = c * ty - s * ry, gz = c * tz - s * rz
  const wx = b[o + CENTRE_X] - a[e + START_X], wy = b[o + CENTRE_X + 1] - a[e + START_X + 1], wz = b[o + CENTRE_X + 2] - a[e + START_X + 2]
  const dx = a[e + RADIAL_X], dy = a[e + RADIAL_X + 1], dz = a[e + RADIAL_X + 2]

  let best = Infinity, bestU = 0, bestAlong = 0, bestX = 0, bestY = 0, bestZ = 0
  let u = -edge, slope = 0, bend = 0
  for (let step = -3; step < MOST_STEPS; step++) {
    const over = 1 / (1 + u * u), cosine = (1 - u * u) * over, sine = 2 * u * over
    const ex = fx * cosine + gx * sine, ey = fy * cosine + gy * sine, ez = fz * cosine + gz * sine
    let x = wx + ex, y = wy + ey, z = wz + ez
    const free = x * dx + y * dy + z * dz
    const along = free > 0 ? free < length ? free : length : 0
    x -= along * dx
    y -= along * dy
    z -= along * dz
    const squared = x * x + y * y + z * z
    if (squared < best) {
      best = squared
      bestU = u
      bestAlong = along
      bestX = x
      bestY = y
      bestZ = z
      const vx = gx * cosine - fx * sine, vy = gy * cosine - fy * sine, vz = gz * cosine - fz * sine
      const run = along === free ? vx * dx + vy * dy + vz * dz : 0
      slope = x * vx + y * vy + z * vz
      bend = radius * radius - run * run - x * ex - y * ey - z * ez
    } else if (step >= 0) break
    if (step < -1) {
      u += edge
      continue
    }
    // from the lowest of both ends and the middle on
    const back = slope / bend
    if (!(bend > 0) || Math.abs(back) < NEAR_ENOUGH_RAD) break
    u = bestU - 0.5 * back * (1 + bestU * bestU)
    if (!(u > -edge && u < edge)) break
  }

  const distance = Math.sqrt(best)
  FOOT[FOOT_DISTANCE] = distance
  FOOT[FOOT_ALONG] = bestAlong
  FOOT[FOOT_ANGLE] = Math.min(Math.max(half + 2 * Math.atan(bestU), 0), turn)
  const per = 1 / distance
  const p = (bestX * fx + bestY * fy + bestZ * fz) * per, q = (bestX * gx + bestY * gy + bestZ * gz) * per
  const over = 1 / (1 + bestU * bestU)
  const middle = distance - (p * (1 - bestU * bestU) + 2 * q * bestU) * over, swing = Math.sqrt(p * p + q * q)
  const lowest = -q / (swing - p)
  const bound = lowest > -edge && lowest < edge ? middle - swing : middle + p * halfCosine - Math.abs(q) * halfSine
  FOOT[FOOT_BOUND] = bound > 0 ? bound : 0 // nothing at all where both meet
  return FOOT[FOOT_BOUND] > distance - ROUNDING_MM
}
