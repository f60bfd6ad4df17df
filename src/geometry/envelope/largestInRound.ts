import { FIT_ERROR_MM } from '../tolerance.ts'

/**
 * The radius of the largest straight cylinder that stays in a round hole while its axis passes (cx + n sx, cy + n sy) at depth n along the
 * hole's axis, n0 <= n <= n1. In a section the cylinder is an ellipse, its reach in the unit direction a being
 * r sqrt(1 + (a.s)^2) from its middle p = c + n s; so r is the least over a, and over the two ends, of
 * (R - a.p) / sqrt(1 + (a.s)^2). Branch and bound over the angle of a with a bound on the second derivative.
 * @returns mm, at most FIT_ERROR_MM below the true value and never above; negative when the axis itself leaves the hole
 * @throws when a number is not finite, or the radius not above 0
 */
export function largestInRound(
  holeRadiusMm: number, n0: number, n1: number, cx: number, cy: number, sx: number, sy: number,
): number {
  if (!(holeRadiusMm > 0) || ![holeRadiusMm, n0, n1, cx, cy, sx, sy].every(Number.isFinite)) {
    throw new Error(`largestInRound: numbers must be finite and holeRadiusMm > 0, got ${[holeRadiusMm, n0, n1, cx, cy, sx, sy].join(', ')}`)
  }
  if (sx === 0 && sy === 0) return holeRadiusMm - Math.hypot(cx, cy)
  const atStart = largestInSection(holeRadiusMm, cx + n0 * sx, cy + n0 * sy, sx, sy, Infinity)
  return largestInSection(holeRadiusMm, cx + n1 * sx, cy + n1 * sy, sx, sy, atStart) - FIT_ERROR_MM
}

/** The least of `below` and the section's own radius, at most FIT_ERROR_MM above the true one. */
function largestInSection(holeRadiusMm: number, px: number, py: number, sx: number, sy: number, below: number): number {
  const slopeSquare = sx * sx + sy * sy, offset = Math.hypot(px, py)
  const radiusAt = (angle: number): number => {
    const ax = Math.cos(angle), ay = Math.sin(angle), slope = ax * sx + ay * sy
    return (holeRadiusMm - ax * px - ay * py) / Math.sqrt(1 + slope * slope)
  }
  // |f''| <= |N''| + 2 |N'| |G'| + |N| |G''| with f = N G, G = (1 + (a.s)^2)^(-1/2), |G'| <= s^2 / 2, |G''| <= 3 s^4 / 4 + s^2
  const curvature = offset * (1 + slopeSquare) + (holeRadiusMm + offset) * (0.75 * slopeSquare ** 2 + slopeSquare)
  const pieces = 16, step = 2 * Math.PI / pieces
  let least = below
  const open: [number, number, number, number][] = []
  for (let i = 0, from = radiusAt(0); i < pieces; i++) {
    const to = radiusAt((i + 1) * step)
    least = Math.min(least, from, to)
    open.push([i * step, (i + 1) * step, from, to])
    from = to
  }
  // between two angles f stays above the lower end less curvature * width^2 / 8
  for (let span = open.pop(); span; span = open.pop()) {
    const [from, to, atFrom, atTo] = span
    if (Math.min(atFrom, atTo) - curvature * (to - from) ** 2 / 8 >= least - FIT_ERROR_MM) continue
    const middle = (from + to) / 2, at = radiusAt(middle)
    least = Math.min(least, at)
    open.push([from, middle, atFrom, at], [middle, to, at, atTo])
  }
  return least
}
