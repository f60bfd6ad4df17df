import { CENTRE_X, END_X, RADIAL_X, RADIUS, START_X, TANGENT_X, TURN } from '../curve/centreline.ts'

/**
 * The angle along an arc, in [0, TURN], of its point nearest to (x, y, z). Closed form: the distance to a circle grows
 * with the angle away from the point's own direction, so beyond the arc the nearer end wins.
 */
export function angleNearest(elements: Float64Array, e: number, x: number, y: number, z: number): number {
  const qx = x - elements[e + CENTRE_X], qy = y - elements[e + CENTRE_X + 1], qz = z - elements[e + CENTRE_X + 2]
  const along = qx * elements[e + RADIAL_X] + qy * elements[e + RADIAL_X + 1] + qz * elements[e + RADIAL_X + 2]
  const across = qx * elements[e + TANGENT_X] + qy * elements[e + TANGENT_X + 1] + qz * elements[e + TANGENT_X + 2]
  return angleWithin(Math.atan2(across, along), elements[e + TURN])
}

/** The angle in [0, turnRad] nearest to a direction given in (-pi, pi]. */
export function angleWithin(directionRad: number, turnRad: number): number {
  const angle = directionRad < 0 ? directionRad + 2 * Math.PI : directionRad
  if (angle <= turnRad) return angle
  return angle - turnRad < 2 * Math.PI - angle ? turnRad : 0
}

/** Distance from (x, y, z) to an arc, mm. */
export function distanceToArc(elements: Float64Array, e: number, x: number, y: number, z: number): number {
  const qx = x - elements[e + CENTRE_X], qy = y - elements[e + CENTRE_X + 1], qz = z - elements[e + CENTRE_X + 2]
  const ux = elements[e + RADIAL_X], uy = elements[e + RADIAL_X + 1], uz = elements[e + RADIAL_X + 2]
  const vx = elements[e + TANGENT_X], vy = elements[e + TANGENT_X + 1], vz = elements[e + TANGENT_X + 2]
  const along = qx * ux + qy * uy + qz * uz, across = qx * vx + qy * vy + qz * vz
  const turn = elements[e + TURN]
  const direction = Math.atan2(across, along)
  const angle = direction < 0 ? direction + 2 * Math.PI : direction
  if (angle <= turn) {
    const off = qx * (uy * vz - uz * vy) + qy * (uz * vx - ux * vz) + qz * (ux * vy - uy * vx)
    const reach = Math.sqrt(along * along + across * across) - elements[e + RADIUS]
    return Math.sqrt(reach * reach + off * off)
  }
  const end = angle - turn < 2 * Math.PI - angle ? END_X : START_X
  const dx = x - elements[e + end], dy = y - elements[e + end + 1], dz = z - elements[e + end + 2]
  return Math.sqrt(dx * dx + dy * dy + dz * dz)
}
