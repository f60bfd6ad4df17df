/** Where a centreline lies inside a round hole or sleeve. */
import type { Centreline } from '../curve/centreline.ts'
import { SAME_POINT_MM } from '../tolerance.ts'
import { product, rootsBetween, sum, valueAt } from './polynomial.ts'
import { atAxial, eachRoundPiece } from './roundFrame.ts'

export interface Stretch {
  readonly fromMm: number
  readonly toMm: number
}

/**
 * The stretches of the centreline within a round hole: no further than `halfLengthMm` from its middle along its axis and no
 * further than `radiusMm` from the axis. In order, stations in mm, exact at the crossings; touching without entering gives none.
 * @param at3 middle of the hole, mm
 * @param axis3 unit direction of its axis, either way
 */
export function stretchInRound(
  curve: Centreline, at3: ArrayLike<number>, axis3: ArrayLike<number>, halfLengthMm: number, radiusMm: number,
): Stretch[] {
  const stretches: { fromMm: number, toMm: number }[] = []
  eachRoundPiece(curve, at3, axis3, -Infinity, Infinity, piece => {
    const { low, high, weight, axial, radialSquare } = piece
    const weightSquare = product(weight, weight)
    const cuts = [
      low, high, ...atAxial(piece, halfLengthMm), ...atAxial(piece, -halfLengthMm),
      ...rootsBetween(sum(radialSquare, weightSquare, -radiusMm * radiusMm), low, high),
    ].sort((a, b) => a - b)
    for (let i = 1; i < cuts.length; i++) {
      const u = (cuts[i - 1] + cuts[i]) / 2
      if (Math.abs(valueAt(axial, u)) > halfLengthMm * valueAt(weight, u)) continue
      if (valueAt(radialSquare, u) > radiusMm * radiusMm * valueAt(weightSquare, u)) continue
      const fromMm = piece.stationOf(cuts[i - 1]), toMm = piece.stationOf(cuts[i])
      const last = stretches.at(-1)
      if (last && fromMm - last.toMm <= SAME_POINT_MM) last.toMm = toMm
      else stretches.push({ fromMm, toMm })
    }
  })
  return stretches.filter(stretch => stretch.toMm - stretch.fromMm > SAME_POINT_MM)
}
