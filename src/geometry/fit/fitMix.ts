/** Ducts side by side in one opening, straight on: two or three equal ones, or a mix of given sizes. mm. */
import { climb, growthAt, type DuctMix } from './ductsApart.ts'
import { placeFew } from './fewDucts.ts'
import { placeMany } from './manyDucts.ts'
import { largestStraight } from './largestDuct.ts'
import type { Opening } from './opening.ts'
import { ROUNDING_MM } from '../tolerance.ts'

/** More ducts than this in one opening is a caller's mistake. */
export const MOST_DUCTS = 12
/** How closely the search over sizes is closed before the climb, and proved after it, mm. */
const COARSE_MM = 0.05
const PROOF_MM = 1e-7

export interface MixFit {
  readonly ok: boolean
  /** x, y of each duct in the order given; null when they do not fit */
  readonly centres: Float64Array | null
  /** how much all of them could grow in diameter together; negative: how much all must shrink (a duct shrunk to nothing keeps its place) */
  readonly spareMm: number
  /** true when `spareMm` is proved the most possible to PROOF_MM; otherwise more may be possible */
  readonly proved: boolean
}

const single = new Float64Array(3)

/**
 * Do ducts of `diametersMm` go through the opening side by side, `gapMm` apart or more?
 *
 * What is claimed to fit does: `spareMm` is measured at the centres returned. One, two and three ducts: exact (see
 * fewDucts.ts). Four and more: the best of many climbs (see manyDucts.ts), which may fall short of the best there is.
 * An opening that is no opening: not ok, spareMm minus the largest diameter.
 * Throws when there is no duct or more than MOST_DUCTS, or a diameter or the gap is negative or not finite.
 */
export function fitMix(opening: Opening, diametersMm: ArrayLike<number>, gapMm = 0): MixFit {
  const count = diametersMm.length
  if (!(count >= 1 && count <= MOST_DUCTS)) throw new Error(`fitMix: 1 to ${MOST_DUCTS} ducts, got ${count}`)
  if (!(gapMm >= 0 && gapMm < Infinity)) throw new Error(`fitMix: gapMm must be finite and >= 0, got ${gapMm}`)
  const radii = new Float64Array(count)
  for (let i = 0; i < count; i++) {
    if (!(diametersMm[i] >= 0 && diametersMm[i] < Infinity)) throw new Error(`fitMix: each diameter must be finite and >= 0, got ${diametersMm[i]}`)
    radii[i] = diametersMm[i] / 2
  }
  const centres = new Float64Array(2 * count)
  const { growth, proved } = mostGrowth(opening, { radii, gapMm }, centres)
  const ok = growth >= -ROUNDING_MM
  return { ok, centres: ok ? centres : null, spareMm: growth, proved }
}

/**
 * The largest diameter of 1, 2 or 3 equal ducts side by side, `gapMm` apart or more. Writes out[0] = diameter, then
 * x, y of each. Exact to PROOF_MM, and measured at the centres written; 0 (and centres 0, 0) when nothing fits.
 */
export function largestEqual(opening: Opening, count: 1 | 2 | 3, out: Float64Array, gapMm = 0): void {
  const centres = out.subarray(1, 1 + 2 * count)
  const { growth } = mostGrowth(opening, { radii: new Float64Array(count), gapMm }, centres)
  out[0] = growth > 0 ? growth : 0
  if (!(growth > 0)) centres.fill(0)
}

function mostGrowth(opening: Opening, mix: DuctMix, centres: Float64Array): { growth: number, proved: boolean } {
  const { radii, gapMm } = mix
  let largest = 0
  for (const radius of radii) largest = Math.max(largest, radius)
  largestStraight(opening, single)
  const none = { growth: -2 * largest, proved: true }
  if (!(single[0] > 0)) return none
  const ceiling = single[0] - 2 * largest
  if (radii.length === 1) {
    centres[0] = single[1]
    centres[1] = single[2]
    return { growth: ceiling, proved: true }
  }
  if (radii.length > 3) return { growth: Math.max(placeMany(opening, mix, centres), none.growth), proved: false }

  const grown = new Float64Array(radii.length)
  const place = (growth: number, at: Float64Array): boolean => {
    for (let i = 0; i < radii.length; i++) grown[i] = Math.max(0, radii[i] + growth / 2)
    return placeFew(opening, grown, gapMm, at)
  }
  let low = -2 * largest, high = ceiling
  if (!place(low, centres)) return none
  const trial = new Float64Array(centres.length)
  let close = COARSE_MM
  for (;;) {
    while (high - low > close) {
      const middle = (low + high) / 2
      if (middle === low || middle === high) break
      if (place(middle, trial)) { low = middle; centres.set(trial) } else high = middle
    }
    const reached = climb(opening, mix, centres)
    low = Math.max(low, reached)
    // the climb stops at the best placing nearby: is any better?
    if (low + PROOF_MM >= high || !place(low + PROOF_MM, trial)) break
    low += PROOF_MM
    centres.set(trial)
    close /= 16
  }
  return { growth: growthAt(opening, mix, centres), proved: true }
}
