/** Where a plan stands on the screen: site x to the right and y up, millimetres, against screen px with y down. Pure. */
import type { Point2 } from '#model/index.ts'

export interface PlanFrame {
  /** the site point in the middle of the picture */
  readonly centre: Point2
  readonly pxPerMm: number
  readonly widthPx: number
  readonly heightPx: number
}
/** minX, minY, maxX, maxY, mm */
export type PlanBounds = readonly [number, number, number, number]

/** A joist's web fills a hand at the nearest; a terrace of houses goes in at the farthest. */
const NEAREST_PX_PER_MM = 5
const FARTHEST_PX_PER_MM = 0.001
/** What an empty plan shows: a room of ordinary size, mm. */
const EMPTY_BOUNDS: PlanBounds = [-500, -500, 5_500, 4_500]

export function toScreen({ centre, pxPerMm, widthPx, heightPx }: PlanFrame, [x, y]: Point2): Point2 {
  return [widthPx / 2 + (x - centre[0]) * pxPerMm, heightPx / 2 - (y - centre[1]) * pxPerMm]
}

export function toSite({ centre, pxPerMm, widthPx, heightPx }: PlanFrame, [px, py]: Point2): Point2 {
  return [centre[0] + (px - widthPx / 2) / pxPerMm, centre[1] - (py - heightPx / 2) / pxPerMm]
}

/** The six numbers of an SVG matrix that draws site points in place. */
export function siteMatrix({ centre, pxPerMm, widthPx, heightPx }: PlanFrame): string {
  return `matrix(${pxPerMm} 0 0 ${-pxPerMm} ${widthPx / 2 - centre[0] * pxPerMm} ${heightPx / 2 + centre[1] * pxPerMm})`
}

/** Moved with the pointer by so many px. */
export function panned(frame: PlanFrame, byXPx: number, byYPx: number): PlanFrame {
  const { centre, pxPerMm } = frame
  return { ...frame, centre: [centre[0] - byXPx / pxPerMm, centre[1] + byYPx / pxPerMm] }
}

/** Nearer (above 1) or farther with the site point under `atPx` kept where it is. */
export function zoomedAt(frame: PlanFrame, atPx: Point2, by: number): PlanFrame {
  const pxPerMm = Math.min(NEAREST_PX_PER_MM, Math.max(FARTHEST_PX_PER_MM, frame.pxPerMm * by))
  return pinned({ ...frame, pxPerMm }, toSite(frame, atPx), atPx)
}

/** Two fingers: the site points that were under them before stay under their middle, at the distance they now are apart. */
export function pinched(frame: PlanFrame, before: readonly [Point2, Point2], now: readonly [Point2, Point2]): PlanFrame {
  const apart = ([a, b]: readonly [Point2, Point2]): number => Math.hypot(b[0] - a[0], b[1] - a[1])
  const was = middle(before), is = middle(now), wasApart = apart(before)
  const zoomed = zoomedAt(frame, was, wasApart > 0 ? apart(now) / wasApart : 1)
  return panned(zoomed, is[0] - was[0], is[1] - was[1])
}

/** All of the bounds in sight, clear of the buttons above and the scale bar below; an ordinary room when there are none. */
export function fitted(bounds: PlanBounds | null, widthPx: number, heightPx: number): PlanFrame {
  const [minX, minY, maxX, maxY] = bounds ?? EMPTY_BOUNDS
  const sideMargin = Math.min(48, widthPx * 0.1), topMargin = Math.min(80, heightPx * 0.2), bottomMargin = Math.min(92, heightPx * 0.24)
  const roomX = Math.max(40, widthPx - 2 * sideMargin), roomY = Math.max(40, heightPx - topMargin - bottomMargin)
  // something of no size is shown as if it were a metre across
  const pxPerMm = Math.min(NEAREST_PX_PER_MM, roomX / Math.max(1_000, maxX - minX), roomY / Math.max(1_000, maxY - minY))
  return { centre: [(minX + maxX) / 2, (minY + maxY) / 2 + (topMargin - bottomMargin) / 2 / pxPerMm], pxPerMm, widthPx, heightPx }
}

/** The same view in a picture of another size: what was in the middle stays there. */
export function resized(frame: PlanFrame, widthPx: number, heightPx: number): PlanFrame {
  return frame.widthPx === widthPx && frame.heightPx === heightPx ? frame : { ...frame, widthPx, heightPx }
}

function pinned(frame: PlanFrame, site: Point2, atPx: Point2): PlanFrame {
  const [px, py] = toScreen(frame, site)
  return panned(frame, atPx[0] - px, atPx[1] - py)
}

function middle([a, b]: readonly [Point2, Point2]): Point2 {
  return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]
}
