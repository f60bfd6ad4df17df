/** Where a fan must run: on its curve at full speed, brought down by the affinity laws (flow as speed, pressure as its square). */
import type { FanPoint } from '#model/index.ts'
import { RATED_DENSITY } from './density.ts'

export type FanAnswer =
  | { readonly ok: true, readonly speedRatio: number }
  /** even at full speed it gives too little: what it has at that flow, Pa, or null when its curve does not reach so far */
  | { readonly ok: false, readonly speedRatio: number, readonly availablePa: number | null }

/** Commonly, a fan at its trickle rate turns at this share of full speed: common practice, no published source. */
export const TRICKLE_SHARE = { least: 0.4, most: 0.6 } as const
/** How many times full speed is looked at, to say how far short a fan is. */
const MOST_SPEED_RATIO = 20

/** Straight lines between the points; level before the first; nothing beyond the last but a straight line on down. */
export function fanPa(curve: readonly FanPoint[], lps: number): number {
  if (lps <= curve[0].flowLps) return curve[0].pressurePa
  let i = curve.findIndex((point) => point.flowLps >= lps)
  if (i < 0) i = curve.length - 1
  const a = curve[i - 1], b = curve[i]
  return a.pressurePa + (b.pressurePa - a.pressurePa) * (lps - a.flowLps) / (b.flowLps - a.flowLps)
}

/** @param curve as entered, for air of 1.2 kg/m³; @param neededPa outside the fan, at that flow */
export function fanSpeedFor(curve: readonly FanPoint[], lps: number, neededPa: number, density: number): FanAnswer {
  const givenAt = (ratio: number): number => ratio * ratio * fanPa(curve, lps / ratio) * density / RATED_DENSITY
  // pressure at a given flow rises with speed all the way, for the curve falls
  let low = lps / MOST_SPEED_RATIO / curve[curve.length - 1].flowLps, high = MOST_SPEED_RATIO
  if (lps === 0 && neededPa === 0) return { ok: true, speedRatio: 0 }
  low = Math.max(low, 1e-6)
  for (let turn = 0; turn < 200 && high - low > 1e-15 * high; turn++) {
    const middle = (low + high) / 2
    if (givenAt(middle) < neededPa) low = middle
    else high = middle
  }
  if (high <= 1) return { ok: true, speedRatio: high }
  const isBeyond = lps > curve[curve.length - 1].flowLps
  return { ok: false, speedRatio: high, availablePa: isBeyond ? null : givenAt(1) }
}
