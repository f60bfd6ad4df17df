import { CENTRE_X, END_X, LENGTH, RADIAL_X, RADIUS, START_X, TANGENT_X, TURN } from '../curve/centreline.ts'
import { ALONG, ALONG_OTHER, DISTANCE, ON_CURVE_X, ON_SOLID_X } from './answer.ts'
import { FOOT, FOOT_ALONG, FOOT_ANGLE, FOOT_BOUND, FOOT_DISTANCE, footOnArc } from './footOnArc.ts'
import { leastFacing } from './leastFacing.ts'
import { PIECE_N, PIECE_SIZE, PIECE_W, PIECE_X, PIECE_Y, PIECE_Z } from './leastToCircle.ts'
import { angleNearest, distanceToArc } from './pointArc.ts'

const piece = new Float64Array(PIECE_SIZE)
/** least distance so far, and the parameter of the point it is at */
const best = new Float64Array(2)

/**
 * Least distance between a straight leg and an arc, to ANSWER_ERROR_MM, with the global minimum guaranteed.
 * It is the least of: each end of the leg to the arc, each end of the arc to the leg (both closed form), and where the
 * leg's points face the arc itself, the leg to the arc's whole circle (leastToCircle). Mostly footOnArc settles it before that.
 */
export function legArc(
  a: Float64Array, e: number, b: Float64Array, o: number, cutoffMm: number, answer: Float64Array,
): number {
  const length = a[e + LENGTH], radius = b[o + RADIUS], turn = b[o + TURN]
  const sx = a[e + START_X], sy = a[e + START_X + 1], sz = a[e + START_X + 2]
  const dx = a[e + RADIAL_X], dy = a[e + RADIAL_X + 1], dz = a[e + RADIAL_X + 2]
  const wx = sx - b[o + CENTRE_X], wy = sy - b[o + CENTRE_X + 1], wz = sz - b[o + CENTRE_X + 2]
  // nearest approach of the leg's line to the centre: every point of the arc is within `radius` of it
  const middle = -(wx * dx + wy * dy + wz * dz)
  const nearest = middle > 0 ? Math.min(middle, length) : 0
  const mx = wx + nearest * dx, my = wy + nearest * dy, mz = wz + nearest * dz
  const lower = Math.sqrt(mx * mx + my * my + mz * mz) - radius
  if (lower > cutoffMm) return lower

  const ux = b[o + RADIAL_X], uy = b[o + RADIAL_X + 1], uz = b[o + RADIAL_X + 2]
  const vx = b[o + TANGENT_X], vy = b[o + TANGENT_X + 1], vz = b[o + TANGENT_X + 2]
  const nx = uy * vz - uz * vy, ny = uz * vx - ux * vz, nz = ux * vy - uy * vx
  let distance = Infinity, s = 0, angle = -1
  if (turn <= Math.PI) {
    const isSettled = footOnArc(a, e, b, o)
    if (FOOT[FOOT_BOUND] > cutoffMm) return FOOT[FOOT_BOUND]
    distance = FOOT[FOOT_DISTANCE]
    s = FOOT[FOOT_ALONG]
    if (isSettled) angle = FOOT[FOOT_ANGLE]
  }
  for (let k = angle < 0 ? 0 : 4; k < 4; k++) {
    // the leg's two ends, then its points nearest to the arc's two ends
    const at = k === 2 ? START_X : END_X
    const free = k < 2 ? k * length : (b[o + at] - sx) * dx + (b[o + at + 1] - sy) * dy + (b[o + at + 2] - sz) * dz
    const along = free > 0 ? Math.min(free, length) : 0
    const reach = distanceToArc(b, o, sx + along * dx, sy + along * dy, sz + along * dz)
    if (reach < distance) {
      distance = reach
      s = along
    }
  }

  // only where the leg's line is within radius + limit of the centre can it come nearer than the limit
  const limit = angle < 0 ? Math.min(distance, cutoffMm) : 0
  const lineX = wx + middle * dx, lineY = wy + middle * dy, lineZ = wz + middle * dz
  const half = Math.sqrt(Math.max(0, (radius + limit) ** 2 - (lineX * lineX + lineY * lineY + lineZ * lineZ)))
  const from = Math.max(0, middle - half), to = Math.min(length, middle + half)
  if (angle < 0 && from < to) {
    const centre = (from + to) / 2
    const qx = wx + centre * dx, qy = wy + centre * dy, qz = wz + centre * dz
    piece.fill(0)
    piece[PIECE_X] = qx * ux + qy * uy + qz * uz
    piece[PIECE_X + 1] = dx * ux + dy * uy + dz * uz
    piece[PIECE_Y] = qx * vx + qy * vy + qz * vz
    piece[PIECE_Y + 1] = dx * vx + dy * vy + dz * vz
    piece[PIECE_Z] = qx * nx + qy * ny + qz * nz
    piece[PIECE_Z + 1] = dx * nx + dy * ny + dz * nz
    piece[PIECE_W] = 1
    piece[PIECE_N] = qx * qx + qy * qy + qz * qz + radius * radius
    piece[PIECE_N + 1] = 2 * (qx * dx + qy * dy + qz * dz)
    piece[PIECE_N + 2] = 1
    best[0] = limit
    leastFacing(piece, radius, turn, from - centre, to - centre, best)
    if (best[0] < limit) {
      distance = best[0]
      s = centre + best[1]
    }
  }

  if (distance <= cutoffMm) {
    const px = sx + s * dx, py = sy + s * dy, pz = sz + s * dz
    if (angle < 0) angle = angleNearest(b, o, px, py, pz)
    const c = radius * Math.cos(angle), d = radius * Math.sin(angle)
    answer[DISTANCE] = distance
    answer[ON_CURVE_X] = px
    answer[ON_CURVE_X + 1] = py
    answer[ON_CURVE_X + 2] = pz
    answer[ON_SOLID_X] = b[o + CENTRE_X] + c * ux + d * vx
    answer[ON_SOLID_X + 1] = b[o + CENTRE_X + 1] + c * uy + d * vy
    answer[ON_SOLID_X + 2] = b[o + CENTRE_X + 2] + c * uz + d * vz
    answer[ALONG] = s
    answer[ALONG_OTHER] = radius * angle
  }
  return distance
}
