import { ANSWER_ERROR_MM } from '../tolerance.ts'

/**
 * A piece of a leg or arc in the frame of a circle (centre at the origin, in the plane z = 0), as quadratics in u:
 * the point is (X, Y, Z) / W, and N = W * (x2 + y2 + z2 + radius2). Three coefficients each, constant first.
 */
export const PIECE_SIZE = 15
export const PIECE_X = 0
export const PIECE_Y = 3
export const PIECE_Z = 6
export const PIECE_W = 9
export const PIECE_N = 12

/** Where the search stops: a quarter of the error allowed. */
const GAP_MM = ANSWER_ERROR_MM / 4
/** Relative error of a squared length after a few operations on numbers of the circle's size. */
const ROUNDING = 16 * Number.EPSILON
/** Intervals narrower than this part of the piece hold no lower point that doubles could tell apart. */
const NARROWEST = 1e-9

const stackLow = new Float64Array(64)
const stackHigh = new Float64Array(64)
/** Intervals looked at since the start; for measuring only. */
export const effort = { intervals: 0 }

/**
 * Least distance from a piece, low <= u <= high, to a whole circle, if it beats `best[0]`; then best[0] becomes the
 * distance and best[1] its u. What is left is proved to hold nothing lower by more than GAP_MM.
 *
 * The proof: 'everywhere at least d away' means U >= 2 r rho, with U = |q|2 + r2 - d2 and rho the distance from the
 * circle's axis; that is U >= 0 and H = U2 - 4 r2 rho2 >= 0, a quartic in u (the torus as an algebraic surface). On an
 * interval H is bounded below by the least of its quadratic part about the middle, less its cubic and quartic
 * terms. Where the distance is constant H is a positive constant, so the case that exhausts
 * ordinary subdivision is settled by the first look.
 */
export function leastToCircle(piece: Float64Array, radius: number, low: number, high: number, best: Float64Array): void {
  // one by one: taking a typed array apart goes through its iterator
  const X0 = piece[0], X1 = piece[1], X2 = piece[2], Y0 = piece[3], Y1 = piece[4], Y2 = piece[5], Z0 = piece[6], Z1 = piece[7], Z2 = piece[8]
  const W0 = piece[9], W1 = piece[10], W2 = piece[11], N0 = piece[12], N1 = piece[13], N2 = piece[14]
  const fourR2 = 4 * radius * radius
  const rounding = ROUNDING * radius * radius
  const narrowest = NARROWEST * (high - low)
  const before = best[0]
  let top = 0
  stackLow[0] = low
  stackHigh[0] = high
  while (top >= 0) {
    const a = stackLow[top], b = stackHigh[top--]
    const m = (a + b) / 2, h = (b - a) / 2
    effort.intervals++

    const x0 = X0 + m * (X1 + m * X2), x1 = (X1 + 2 * m * X2) * h, x2 = X2 * h * h
    const y0 = Y0 + m * (Y1 + m * Y2), y1 = (Y1 + 2 * m * Y2) * h, y2 = Y2 * h * h
    const z0 = Z0 + m * (Z1 + m * Z2)
    const w0 = W0 + m * (W1 + m * W2), w1 = (W1 + 2 * m * W2) * h, w2 = W2 * h * h
    const rho = Math.sqrt(x0 * x0 + y0 * y0) / w0, z = z0 / w0
    const squared = (rho - radius) * (rho - radius) + z * z
    if (squared < best[0] * best[0]) {
      best[0] = Math.sqrt(squared)
      best[1] = m
    }
    if (best[0] <= GAP_MM) break
    const level = best[0] * best[0] - Math.max(GAP_MM * best[0], rounding)
    if (level <= 0) break

    const u0 = N0 + m * (N1 + m * N2) - level * w0, u1 = (N1 + 2 * m * N2) * h - level * w1, u2 = N2 * h * h - level * w2
    // the constant term by factors, because it is the small difference of two large numbers
    const c0 = w0 * (squared - level) * (u0 + 2 * radius * rho * w0)
    const c1 = 2 * u0 * u1 - fourR2 * 2 * (x0 * x1 + y0 * y1)
    const c2 = u1 * u1 + 2 * u0 * u2 - fourR2 * (x1 * x1 + y1 * y1 + 2 * (x0 * x2 + y0 * y2))
    const c3 = 2 * u1 * u2 - fourR2 * 2 * (x1 * x2 + y1 * y2)
    const c4 = u2 * u2 - fourR2 * (x2 * x2 + y2 * y2)
    const v = c2 > 0 && Math.abs(c1) < 2 * c2 ? -c1 / (2 * c2) : c1 > 0 ? -1 : 1
    const bound = c0 + v * (c1 + v * c2) - Math.abs(c3) + Math.min(c4, 0)
    if (bound >= 0 && u0 - Math.abs(u1) - Math.abs(u2) >= 0) continue

    const u = m + v * h
    const wu = W0 + u * (W1 + u * W2)
    const xu = (X0 + u * (X1 + u * X2)) / wu, yu = (Y0 + u * (Y1 + u * Y2)) / wu, zu = (Z0 + u * (Z1 + u * Z2)) / wu
    const reach = Math.sqrt(xu * xu + yu * yu) - radius
    const there = reach * reach + zu * zu
    if (there < best[0] * best[0]) {
      best[0] = Math.sqrt(there)
      best[1] = u
    }
    if (h <= narrowest) continue
    // the half that looks lower is searched first: pushed last
    const first = v > 0 ? 1 : 2
    stackLow[top + first] = a
    stackHigh[top + first] = m
    stackLow[top + 3 - first] = m
    stackHigh[top + 3 - first] = b
    top += 2
  }
  if (best[0] < before) polish(piece, radius, low, high, best)
}

/** Newton's steps on the squared distance from the best point found, kept only while they lower it. */
function polish(piece: Float64Array, radius: number, low: number, high: number, best: Float64Array): void {
  const X0 = piece[0], X1 = piece[1], X2 = piece[2], Y0 = piece[3], Y1 = piece[4], Y2 = piece[5], Z0 = piece[6], Z1 = piece[7], Z2 = piece[8]
  const W0 = piece[9], W1 = piece[10], W2 = piece[11]
  for (let step = 0; step < 4; step++) {
    const u = best[1]
    const w = W0 + u * (W1 + u * W2), w1 = W1 + 2 * u * W2, w2 = 2 * W2
    const x = (X0 + u * (X1 + u * X2)) / w, x1 = (X1 + 2 * u * X2 - x * w1) / w, x2 = (2 * X2 - 2 * x1 * w1 - x * w2) / w
    const y = (Y0 + u * (Y1 + u * Y2)) / w, y1 = (Y1 + 2 * u * Y2 - y * w1) / w, y2 = (2 * Y2 - 2 * y1 * w1 - y * w2) / w
    const z = (Z0 + u * (Z1 + u * Z2)) / w, z1 = (Z1 + 2 * u * Z2 - z * w1) / w, z2 = (2 * Z2 - 2 * z1 * w1 - z * w2) / w
    const rho = Math.sqrt(x * x + y * y)
    if (!(rho > 0)) return
    const rho1 = (x * x1 + y * y1) / rho, rho2 = (x1 * x1 + y1 * y1 + x * x2 + y * y2 - rho1 * rho1) / rho
    const slope = (rho - radius) * rho1 + z * z1
    const curvature = rho1 * rho1 + (rho - radius) * rho2 + z1 * z1 + z * z2
    if (!(curvature > 0)) return
    const next = Math.min(Math.max(u - slope / curvature, low), high)
    const distance = distanceAt(piece, radius, next)
    if (!(distance < best[0])) return
    best[0] = distance
    best[1] = next
  }
}

function distanceAt(piece: Float64Array, radius: number, u: number): number {
  const w = piece[PIECE_W] + u * (piece[PIECE_W + 1] + u * piece[PIECE_W + 2])
  const x = (piece[PIECE_X] + u * (piece[PIECE_X + 1] + u * piece[PIECE_X + 2])) / w
  const y = (piece[PIECE_Y] + u * (piece[PIECE_Y + 1] + u * piece[PIECE_Y + 2])) / w
  const z = (piece[PIECE_Z] + u * (piece[PIECE_Z + 1] + u * piece[PIECE_Z + 2])) / w
  const reach = Math.sqrt(x * x + y * y) - radius
  return Math.sqrt(reach * reach + z * z)
}
