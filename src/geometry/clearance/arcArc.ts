import { CENTRE_X, END_X, RADIAL_X, RADIUS, START_X, TANGENT_X, TURN } from '../curve/centreline.ts'
import { ALONG, ALONG_OTHER, DISTANCE, ON_CURVE_X, ON_SOLID_X } from './answer.ts'
import { leastFacing } from './leastFacing.ts'
import { PIECE_N, PIECE_SIZE, PIECE_W, PIECE_X, PIECE_Y, PIECE_Z } from './leastToCircle.ts'
import { angleNearest, distanceToArc } from './pointArc.ts'

/** Widest piece of an arc searched at once, rad: keeps the half-angle substitution well behaved. */
const WIDEST_PIECE_RAD = 1.6

const piece = new Float64Array(PIECE_SIZE)
/** least distance so far, and the parameter of the point it is at */
const best = new Float64Array(2)

/**
 * Least distance between two arcs of any turn up to a full circle, to ANSWER_ERROR_MM, with the global minimum
 * guaranteed. It is the least of: each end of one arc to the other (closed form), and where the first arc's points
 * face the second, the distance to its whole circle (leastToCircle), with u = tan of half the angle from the piece's middle.
 */
export function arcArc(
  a: Float64Array, e: number, b: Float64Array, o: number, cutoffMm: number, answer: Float64Array,
): number {
  const radiusA = a[e + RADIUS], turnA = a[e + TURN], radius = b[o + RADIUS], turn = b[o + TURN]
  const wx = a[e + CENTRE_X] - b[o + CENTRE_X], wy = a[e + CENTRE_X + 1] - b[o + CENTRE_X + 1], wz = a[e + CENTRE_X + 2] - b[o + CENTRE_X + 2]
  const apart = Math.sqrt(wx * wx + wy * wy + wz * wz)
  // each arc lies on a sphere about its centre
  const lower = Math.max(apart - radiusA - radius, Math.abs(radiusA - radius) - apart)
  if (lower > cutoffMm) return lower

  const ax = a[e + RADIAL_X], ay = a[e + RADIAL_X + 1], az = a[e + RADIAL_X + 2]
  const bx = a[e + TANGENT_X], by = a[e + TANGENT_X + 1], bz = a[e + TANGENT_X + 2]
  let distance = distanceToArc(b, o, a[e + START_X], a[e + START_X + 1], a[e + START_X + 2])
  let t = 0
  const atEnd = distanceToArc(b, o, a[e + END_X], a[e + END_X + 1], a[e + END_X + 2])
  if (atEnd < distance) {
    distance = atEnd
    t = turnA
  }
  for (let at = START_X; at <= END_X; at += END_X - START_X) {
    const reach = distanceToArc(a, e, b[o + at], b[o + at + 1], b[o + at + 2])
    if (reach < distance) {
      distance = reach
      t = angleNearest(a, e, b[o + at], b[o + at + 1], b[o + at + 2])
    }
  }

  const ux = b[o + RADIAL_X], uy = b[o + RADIAL_X + 1], uz = b[o + RADIAL_X + 2]
  const vx = b[o + TANGENT_X], vy = b[o + TANGENT_X + 1], vz = b[o + TANGENT_X + 2]
  const nx = uy * vz - uz * vy, ny = uz * vx - ux * vz, nz = ux * vy - uy * vx
  // the first arc in the second one's frame: c + p cos t + q sin t
  const cx = wx * ux + wy * uy + wz * uz, cy = wx * vx + wy * vy + wz * vz, cz = wx * nx + wy * ny + wz * nz
  const px = radiusA * (ax * ux + ay * uy + az * uz), py = radiusA * (ax * vx + ay * vy + az * vz), pz = radiusA * (ax * nx + ay * ny + az * nz)
  const qx = radiusA * (bx * ux + by * uy + bz * uz), qy = radiusA * (bx * vx + by * vy + bz * vz), qz = radiusA * (bx * nx + by * ny + bz * nz)
  const squares = apart * apart + radiusA * radiusA + radius * radius
  const pieces = Math.ceil(turnA / WIDEST_PIECE_RAD), step = turnA / pieces
  const edge = Math.tan(step / 4)
  for (let k = 0; k < pieces; k++) {
    const middle = (k + 0.5) * step
    const c = Math.cos(middle), s = Math.sin(middle)
    const fx = c * px + s * qx, fy = c * py + s * qy, fz = c * pz + s * qz
    const gx = c * qx - s * px, gy = c * qy - s * py, gz = c * qz - s * pz
    setPart(PIECE_X, cx, fx, gx)
    setPart(PIECE_Y, cy, fy, gy)
    setPart(PIECE_Z, cz, fz, gz)
    setPart(PIECE_W, 1, 0, 0)
    setPart(PIECE_N, squares, 2 * (cx * fx + cy * fy + cz * fz), 2 * (cx * gx + cy * gy + cz * gz))
    const limit = Math.min(distance, cutoffMm)
    best[0] = limit
    leastFacing(piece, radius, turn, -edge, edge, best)
    if (best[0] < limit) {
      distance = best[0]
      t = middle + 2 * Math.atan(best[1])
    }
  }

  if (distance <= cutoffMm) {
    const c = radiusA * Math.cos(t), s = radiusA * Math.sin(t)
    const x = a[e + CENTRE_X] + c * ax + s * bx, y = a[e + CENTRE_X + 1] + c * ay + s * by, z = a[e + CENTRE_X + 2] + c * az + s * bz
    const angle = angleNearest(b, o, x, y, z)
    const d = radius * Math.cos(angle), f = radius * Math.sin(angle)
    answer[DISTANCE] = distance
    answer[ON_CURVE_X] = x
    answer[ON_CURVE_X + 1] = y
    answer[ON_CURVE_X + 2] = z
    answer[ON_SOLID_X] = b[o + CENTRE_X] + d * ux + f * vx
    answer[ON_SOLID_X + 1] = b[o + CENTRE_X + 1] + d * uy + f * vy
    answer[ON_SOLID_X + 2] = b[o + CENTRE_X + 2] + d * uz + f * vz
    answer[ALONG] = radiusA * t
    answer[ALONG_OTHER] = radius * angle
  }
  return distance
}

/** constant + cosine * cos t + sine * sin t, times 1 + u2, as a quadratic in u = tan(t / 2). */
function setPart(at: number, constant: number, cosine: number, sine: number): void {
  piece[at] = constant + cosine
  piece[at + 1] = 2 * sine
  piece[at + 2] = constant - cosine
}
