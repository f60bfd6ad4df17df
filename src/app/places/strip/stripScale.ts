/** How a strip is laid on the screen: millimetres along the run and above the datum to CSS px. */
import type { Strip } from '#checks/strip.ts'

export interface StripScale {
  readonly width: number
  readonly height: number
  readonly pxPerMmAlong: number
  readonly pxPerMmUp: number
  readonly lowMm: number
  readonly highMm: number
  readonly x: (stationMm: number) => number
  readonly y: (heightMm: number) => number
  readonly stationAt: (x: number) => number
}

/** room left and right, for the ends; above for names of joists, below for the tape */
export const MARGIN_PX = { side: 28, top: 56, bottom: 32 }
/** a metre of run is never drawn shorter than this, px: so that a joist can still be told from the next */
const SHORTEST_METRE_PX = 90

/** @param isTrueScale one scale both ways, filling the height; or the whole run in the width, with its heights stretched to fill */
export function stripScale(strip: Strip, width: number, height: number, isTrueScale: boolean): StripScale {
  const { lowMm, highMm } = heightsOf(strip)
  const innerHeight = Math.max(44, height - MARGIN_PX.top - MARGIN_PX.bottom)
  const pxPerMmUp = innerHeight / Math.max(1, highMm - lowMm)
  const fitted = Math.max((width - 2 * MARGIN_PX.side) / Math.max(1, strip.lengthMm), SHORTEST_METRE_PX / 1_000)
  const pxPerMmAlong = isTrueScale ? pxPerMmUp : fitted
  const x = (stationMm: number): number => MARGIN_PX.side + stationMm * pxPerMmAlong
  return {
    width: 2 * MARGIN_PX.side + strip.lengthMm * pxPerMmAlong, height: innerHeight + MARGIN_PX.top + MARGIN_PX.bottom,
    pxPerMmAlong, pxPerMmUp, lowMm, highMm, x,
    y: (heightMm) => MARGIN_PX.top + (highMm - heightMm) * pxPerMmUp,
    stationAt: (at) => Math.min(Math.max((at - MARGIN_PX.side) / pxPerMmAlong, 0), strip.lengthMm),
  }
}

/** The same with the run's start so far on. */
export function shiftedScale(scale: StripScale, byMm: number): StripScale {
  return byMm === 0 ? scale : { ...scale, x: (stationMm) => scale.x(stationMm + byMm), stationAt: (x) => scale.stationAt(x) - byMm }
}

const FARTHEST_ZONE_MM = 250

function heightsOf({ centre, outerRadiusMm, crossings, zones }: Strip): { lowMm: number, highMm: number } {
  let lowMm = Infinity, highMm = -Infinity
  const offer = (low: number, high: number): void => {
    lowMm = Math.min(lowMm, low)
    highMm = Math.max(highMm, high)
  }
  for (const { heightMm } of centre) offer(heightMm - outerRadiusMm, heightMm + outerRadiusMm)
  for (const { undersideMm, topMm } of crossings) offer(undersideMm, topMm)
  // a ceiling far below, such as a cupboard without one, would leave the rest too small to see
  const nearLow = lowMm - FARTHEST_ZONE_MM, nearHigh = highMm + FARTHEST_ZONE_MM
  for (const { undersideMm, topMm } of zones) {
    if (undersideMm >= nearLow) offer(undersideMm, undersideMm)
    if (topMm <= nearHigh) offer(topMm, topMm)
  }
  return lowMm <= highMm ? { lowMm, highMm } : { lowMm: 0, highMm: 1 }
}

/** Upper and lower edge of the duct over each point of its centreline: as high above it as the duct cut upright is, which a slope makes more; never more than `STEEPEST`. */
export function ductEdges({ centre, outerRadiusMm }: Pick<Strip, 'centre' | 'outerRadiusMm'>): { readonly stationMm: number, readonly highMm: number, readonly lowMm: number }[] {
  return centre.map(({ stationMm, heightMm }, i) => {
    const before = centre[Math.max(0, i - 1)], after = centre[Math.min(centre.length - 1, i + 1)]
    const along = after.stationMm - before.stationMm, slope = along > 0 ? (after.heightMm - before.heightMm) / along : 0
    const half = outerRadiusMm * Math.min(STEEPEST, 1 / Math.sqrt(Math.max(1e-6, 1 - slope * slope)))
    return { stationMm, highMm: heightMm + half, lowMm: heightMm - half }
  })
}

/** a riser's edges lie apart by no more than this many radii either side */
const STEEPEST = 1.6

/** Names that do not run into one another: those kept, of a list from left to right. @param widthPx of each */
export function keptNames(atPx: readonly number[], widthPx: (index: number) => number, mustKeep: (index: number) => boolean = () => false): boolean[] {
  const kept = atPx.map(() => false)
  const free = (i: number): boolean => atPx.every((x, j) => !kept[j] || Math.abs(x - atPx[i]) >= (widthPx(i) + widthPx(j)) / 2)
  for (const isMust of [true, false]) {
    atPx.forEach((_, i) => { if (mustKeep(i) === isMust && free(i)) kept[i] = true })
  }
  return kept
}
