/** How far two centrelines stray from each other. */
import type { Centreline } from '#geometry/curve/centreline.ts'
import { pointAt } from '#geometry/curve/measure.ts'
import { stationNear } from '#geometry/curve/stationNear.ts'

/** The answer is no further below the true one than this, mm. */
export const APART_ERROR_MM = 0.5

export interface Apart {
  readonly mm: number
  /** on the curve that strays, and the nearest point of the other */
  readonly at: readonly [number, number, number]
  readonly from: readonly [number, number, number]
}

/**
 * The largest distance from a point of either curve to the other curve (Hausdorff). A step along a curve changes that distance by no more than
 * its length, so stretches that cannot hold a larger one are left out (Piyavskii, USSR Comp. Math. 12, 1972) until APART_ERROR_MM is proved.
 */
export function farthestApart(before: Centreline, after: Centreline): Apart {
  const there = oneWay(after, before), back = oneWay(before, after)
  return there.mm >= back.mm ? there : { mm: back.mm, at: back.from, from: back.at }
}

function oneWay(curve: Centreline, other: Centreline): Apart {
  const at: [number, number, number] = [0, 0, 0], foot: [number, number, number] = [0, 0, 0]
  let best: Apart = { mm: -1, at: [0, 0, 0], from: [0, 0, 0] }
  const away = (stationMm: number): number => {
    pointAt(curve, stationMm, at)
    pointAt(other, stationNear(other, ...at), foot)
    const mm = Math.hypot(at[0] - foot[0], at[1] - foot[1], at[2] - foot[2])
    if (mm > best.mm) best = { mm, at: [...at], from: [...foot] }
    return mm
  }
  const stretches: [from: number, to: number, atFrom: number, atTo: number][] = [[0, curve.lengthMm, away(0), away(curve.lengthMm)]]
  for (let stretch = stretches.pop(); stretch !== undefined; stretch = stretches.pop()) {
    const [from, to, atFrom, atTo] = stretch
    if ((atFrom + atTo + to - from) / 2 <= best.mm + APART_ERROR_MM) continue
    const middle = (from + to) / 2, there = away(middle)
    stretches.push([from, middle, atFrom, there], [middle, to, there, atTo])
  }
  return best
}
