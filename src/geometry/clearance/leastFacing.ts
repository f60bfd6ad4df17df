import { leastToCircle, PIECE_W, PIECE_X, PIECE_Y } from './leastToCircle.ts'

const cuts = new Float64Array(6)

/**
 * leastToCircle for an arc instead of its whole circle: only the stretches of low <= u <= high whose points face the
 * arc (their direction from the axis lies in [0, turnRad]). Elsewhere the arc's nearest point is one of its ends.
 * Stretches meet where a point lies in the half plane through the axis and an end: roots of a quadratic in u.
 */
export function leastFacing(
  piece: Float64Array, radius: number, turnRad: number, low: number, high: number, best: Float64Array,
): void {
  if (turnRad >= 2 * Math.PI) {
    leastToCircle(piece, radius, low, high, best)
    return
  }
  const c = Math.cos(turnRad), s = Math.sin(turnRad)
  cuts[0] = low
  let count = addRoots(piece[PIECE_Y], piece[PIECE_Y + 1], piece[PIECE_Y + 2], low, high, 1)
  count = addRoots(
    c * piece[PIECE_Y] - s * piece[PIECE_X], c * piece[PIECE_Y + 1] - s * piece[PIECE_X + 1],
    c * piece[PIECE_Y + 2] - s * piece[PIECE_X + 2], low, high, count,
  )
  cuts[count] = high
  for (let i = 0; i < count; i++) {
    const from = cuts[i], to = cuts[i + 1]
    if (from < to && faces(piece, turnRad, (from + to) / 2)) leastToCircle(piece, radius, from, to, best)
  }
}

function faces(piece: Float64Array, turnRad: number, u: number): boolean {
  const x = piece[PIECE_X] + u * (piece[PIECE_X + 1] + u * piece[PIECE_X + 2])
  const y = piece[PIECE_Y] + u * (piece[PIECE_Y + 1] + u * piece[PIECE_Y + 2])
  const w = piece[PIECE_W] + u * (piece[PIECE_W + 1] + u * piece[PIECE_W + 2])
  const angle = Math.atan2(y / w, x / w)
  return (angle < 0 ? angle + 2 * Math.PI : angle) <= turnRad
}

/** Put the roots of c + b u + a u2 strictly between low and high into `cuts`, in order; returns how many cuts there are. */
function addRoots(c: number, b: number, a: number, low: number, high: number, count: number): number {
  const discriminant = b * b - 4 * a * c
  if (!(discriminant >= 0)) return count
  // the form without cancellation: Press et al., Numerical Recipes, 5.6
  const q = -(b + (b < 0 ? -1 : 1) * Math.sqrt(discriminant)) / 2
  return addCut(c / q, low, high, addCut(q / a, low, high, count))
}

function addCut(u: number, low: number, high: number, count: number): number {
  if (!(u > low && u < high)) return count
  let i = count
  for (; i > 1 && cuts[i - 1] > u; i--) cuts[i] = cuts[i - 1]
  cuts[i] = u
  return count + 1
}
