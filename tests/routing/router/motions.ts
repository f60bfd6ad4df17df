/** Motions of whole jobs for the tests of the router, written without its own. */
import type { Motion } from '#routing/router/movedJob.ts'
import type { Point3 } from '#model/index.ts'

/** Turned about the datum, counter-clockwise from above, then shifted. */
export function motion(turnDeg: number, shiftMm: Point3): Motion {
  const c = Math.cos(turnDeg * Math.PI / 180), s = Math.sin(turnDeg * Math.PI / 180)
  return {
    at: ([x, y, z]) => [c * x - s * y + shiftMm[0], s * x + c * y + shiftMm[1], z + shiftMm[2]],
    way: ([x, y, z]) => [c * x - s * y, s * x + c * y, z],
    angleDeg: (deg) => (deg + turnDeg) % 360,
  }
}
