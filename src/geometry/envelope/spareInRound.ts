/** How thick a duct may be where it passes a round hole or sleeve. */
import type { Centreline } from '../curve/centreline.ts'
import { pointAt } from '../curve/measure.ts'
import { derivative, product, rootsBetween, sum, valueAt } from './polynomial.ts'
import type { Polynomial } from './polynomial.ts'
import { atAxial, eachRoundPiece } from './roundFrame.ts'
import type { RoundPiece } from './roundFrame.ts'

/**
 * The largest outer radius with which a stretch of centreline passes a round hole, straight, askew or bending in it: the least
 * distance from the centreline to the hole's wall. Within the hole's length that is radius less radial offset; beyond a face it is
 * the distance to that face's rim, which a slanting duct meets first; so the run is followed up to a hole's diameter past the stretch.
 * Both are tried at every place where they can be least (roots of polynomials), so legs and arcs alike are exact but for rounding.
 * @param at3 middle of the hole, mm
 * @param axis3 unit direction of its axis, either way
 * @param fromMm station where the stretch enters the hole (stretchInRound)
 * @param toMm station where it leaves
 * @param where gets the station of the tightest place and that point x, y, z, in mm; untouched when nothing of the stretch is in the hole's length
 * @returns mm; negative when the centreline itself strays out through the wall; Infinity when nothing of the stretch is in the hole's length
 */
export function spareInRound(
  curve: Centreline, at3: ArrayLike<number>, axis3: ArrayLike<number>, halfLengthMm: number, radiusMm: number,
  fromMm: number, toMm: number, where?: Float64Array | number[],
): number {
  let least = Infinity, stationMm = fromMm
  const within = (piece: RoundPiece, u: number): void => {
    const spare = radiusMm - Math.sqrt(Math.max(valueAt(piece.radialSquare, u), 0)) / valueAt(piece.weight, u)
    if (!(spare < least)) return
    least = spare
    stationMm = piece.stationOf(u)
  }
  eachRoundPiece(curve, at3, axis3, fromMm, toMm, piece => eachSpan(piece, halfLengthMm, (low, high, isWithin) => {
    if (!isWithin) return
    for (const u of [low, high, ...rootsBetween(slopeOf(piece.radialSquare, piece.weight), low, high)]) within(piece, u)
  }))
  if (least === Infinity) return least
  const beyond = (piece: RoundPiece): void => eachSpan(piece, halfLengthMm, (low, high, isWithin) => {
    if (isWithin) return
    for (const u of [low, high, ...rimExtremes(piece, halfLengthMm, radiusMm, low, high)]) {
      const weight = valueAt(piece.weight, u)
      const past = Math.abs(valueAt(piece.axial, u)) / weight - halfLengthMm
      const radial = Math.sqrt(Math.max(valueAt(piece.radialSquare, u), 0)) / weight
      const spare = Math.hypot(radiusMm - radial, past)
      if (!(spare < least)) continue
      least = spare
      stationMm = piece.stationOf(u)
    }
  })
  eachRoundPiece(curve, at3, axis3, fromMm - 2 * radiusMm, toMm + 2 * radiusMm, beyond)
  if (where) {
    const point = [0, 0, 0]
    pointAt(curve, stationMm, point)
    where[0] = stationMm
    for (let k = 0; k < 3; k++) where[1 + k] = point[k]
  }
  return least
}

/** Splits a piece where it passes the hole's faces. */
function eachSpan(piece: RoundPiece, halfLengthMm: number, take: (low: number, high: number, isWithin: boolean) => void): void {
  const cuts = [piece.low, ...atAxial(piece, halfLengthMm), ...atAxial(piece, -halfLengthMm), piece.high].sort((a, b) => a - b)
  for (let i = 1; i < cuts.length; i++) {
    const middle = (cuts[i - 1] + cuts[i]) / 2
    take(cuts[i - 1], cuts[i], Math.abs(valueAt(piece.axial, middle)) <= halfLengthMm * valueAt(piece.weight, middle))
  }
}

/** Numerator of the derivative of p / weight^2; the denominator is weight^3. */
function slopeOf(p: Polynomial, weight: Polynomial): number[] {
  return sum(product(derivative(p), weight), product(p, derivative(weight)), -2)
}

/**
 * Where the distance to a rim can be least. Its square is rho^2 + nu^2 + R^2 - 2 R rho (rho radial offset, nu axial offset from the face), so
 * its derivative vanishes where S' = 2 R rho', S = rho^2 + nu^2; squared, to be rid of the root in rho' = (rho^2)' / (2 rho), that is
 * (S')^2 rho^2 = R^2 ((rho^2)')^2. Where both derivatives vanish at once the squares touch without crossing: those places are added.
 */
function rimExtremes(piece: RoundPiece, halfLengthMm: number, radiusMm: number, low: number, high: number): number[] {
  const { weight, axial, radialSquare } = piece
  const side = valueAt(axial, (low + high) / 2) > 0 ? 1 : -1
  const past = sum(axial, weight, -side * halfLengthMm)
  const apart = slopeOf(sum(radialSquare, product(past, past)), weight)
  const outward = slopeOf(radialSquare, weight)
  const rising = product(product(apart, apart), radialSquare)
  const balance = sum(rising, product(product(outward, outward), product(weight, weight)), -radiusMm * radiusMm)
  return [balance, apart, outward].flatMap(p => rootsBetween(p, low, high))
}
