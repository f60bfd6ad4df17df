/**
 * Where a circle comes nearest to a straight line. With s the angle round the circle, measured from its highest point
 * along the line, half the slope of the squared distance is
 *   g(s) = k sin s cos s + m cos s + n sin s,   k >= 0,
 * which is the slope of the distance from a point to an ellipse: one least value always, in the quadrant facing the
 * point, and a second one in the quadrant beside it while the point is inside the evolute (Eberly, 'Distance from a
 * Point to an Ellipse, an Ellipsoid, or a Hyperellipsoid', 2013, section 2).
 * In each quadrant the root is sought in u = tan |s|, where the equation is concave, so Newton from below never overshoots.
 */

/** k, m, n of the equation above */
export const NEAREST_IN = new Float64Array(3)
/** the directions found, as multiples of cos s and sin s; the second pair, if there is one, follows the first */
export const NEAREST_OUT = new Float64Array(4)

const IN = NEAREST_IN, OUT = NEAREST_OUT
/** enough for the slowest start (a root near the quadrant's end, reached by growth of half as much again) */
const MOST_STEPS = 80

/**
 * Reads NEAREST_IN, fills NEAREST_OUT with every direction where the squared distance has a local least value. When it is
 * constant one is given all the same.
 * @returns how many: 1 or 2
 */
export const nearestDirections = (): number => {
  const k = IN[0]
  const m = Math.abs(IN[1]), n = Math.abs(IN[2])
  const sineSign = IN[1] > 0 ? -1 : 1, cosineSign = IN[2] < 0 ? -1 : 1

  // Facing quadrant: k u / sqrt(1 + u^2) + n u = m.
  let u: number
  if (n > 0) {
    u = m / (k + n)
    if (m - k > u * n) u = (m - k) / n
    for (let step = 0; step < MOST_STEPS && u < 1e100; step++) {
      const r = Math.sqrt(1 + u * u)
      const next = u - (k * u / r + n * u - m) / (k / (r * r * r) + n)
      if (!(next > u)) break
      u = next
    }
  } else u = m < k ? m / Math.sqrt((k - m) * (k + m)) : m > 0 ? Infinity : 0
  OUT[0] = cosineSign * (u < 1 ? 1 : 1 / u)
  OUT[1] = sineSign * (u < 1 ? u : 1)
  if (m >= k || n >= k) return 1

  // Beside it: k u / sqrt(1 + u^2) - n u = m, the smaller root if there is any.
  u = m / (k - n)
  for (let step = 0; step < MOST_STEPS; step++) {
    const r = Math.sqrt(1 + u * u)
    const slope = k / (r * r * r) - n
    if (slope <= 0) return 1
    const next = u - (k * u / r - n * u - m) / slope
    if (!(next > u)) break
    u = next
  }
  OUT[2] = -cosineSign
  OUT[3] = sineSign * u
  return 2
}
