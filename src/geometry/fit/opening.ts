/**
 * The openings of a joist, seen along its normal: x along the joist, y height, n across the joist from its middle
 * plane, all mm. Every edge belongs to a member that stands in only part of the joist's thickness.
 */
import { openingFromHalfPlanes, polygonArea } from './halfPlanes.ts'
import { largestStraight } from './largestDuct.ts'

export { EDGE_STRIDE } from './halfPlanes.ts'

/** `members` of the four sides of the clear rectangle; a web band has its index, 0 or more. */
export const BOTTOM_CHORD = -1
export const TOP_CHORD = -2
export const NEAR_END = -3
export const FAR_END = -4

export interface Opening {
  /** 1, 2, 3 ... from the joist's datum end; 0 when it stands alone */
  readonly number: number
  readonly edgeCount: number
  /** EDGE_STRIDE numbers per edge; an edge that no side of the polygon lies on still counts for a slanting duct */
  readonly edges: Float64Array
  /** whose each edge is: a band's index, or BOTTOM_CHORD, TOP_CHORD, NEAR_END, FAR_END */
  readonly members: Int32Array
  /** corners as x0, y0, x1, y1 ... counter-clockwise; empty when the opening is empty or not closed */
  readonly verticesXy: Float64Array
  readonly areaMm2: number
}


/** What lies between the chords and the end blocks; n0..n1 is the chords' width. */
export interface ClearRectangle {
  readonly x0: number
  readonly x1: number
  readonly y0: number
  readonly y1: number
  readonly n0: number
  readonly n1: number
}

/** A web member seen in elevation: centreline, width square to it, and where it stands across the joist. */
export interface Band {
  readonly x0: number
  readonly y0: number
  readonly x1: number
  readonly y1: number
  readonly widthMm: number
  readonly n0: number
  readonly n1: number
}

/** An opening that no duct of this diameter passes is not an opening, mm. */
export const LEAST_OPENING_MM = 1
const SAME_OPENING_SHARE = 0.9
/** Bands and cells that overlap by no more than this only touch, mm. */
const TOUCH_MM = 1e-6

/** A line of the elevation, inside is ax*x + ay*y <= b, and the member behind it. */
interface Line { ax: number, ay: number, b: number, member: number, n0: number, n1: number }
/** A convex region: corners x, y ... and, for the side that leaves each corner, its line. */
interface Cell { xy: number[], sides: Line[] }
/** The part of a band in the clear rectangle, and the middle of its extent along the joist. */
interface Strip extends Cell { faces: Line[], middle: number }

/**
 * Every convex opening between neighbouring members, numbered from the datum end (by its centroid; the lower first).
 *
 * - A band end inside the clear rectangle, but less than half the band's width from a side, runs on into that side.
 * - An end that stops in another band runs to that band's centreline and no further, so a diagonal that ends on a post
 *   leaves the bay beyond alone. Any other end is free, with a square end face.
 * - Around a free end the clear space is not convex: every convex part along one face of the band is an opening,
 *   and such openings overlap; one that lies almost wholly (by SAME_OPENING_SHARE of its area) in one with more room is left out.
 *   (A duct tucked around the corner of a free end may be a little larger than any of them.)
 * - Bands on two faces of the joist with the same or different centrelines each give their own edge, with their own n.
 * - Openings that do not pass a LEAST_OPENING_MM duct straight on are left out.
 *
 * Bands without length or width, or with a number that is not finite, are ignored; no clear rectangle, no openings.
 */
export function openingsBetween(clear: ClearRectangle, bands: readonly Band[]): Opening[] {
  const { x0, x1, y0, y1, n0, n1 } = clear
  if (!(x1 > x0 && y1 > y0 && n1 >= n0) || !Number.isFinite(x0 + x1 + y0 + y1 + n0 + n1)) return []
  let cells: Cell[] = [{
    xy: [x0, y0, x1, y0, x1, y1, x0, y1],
    sides: [
      { ax: 0, ay: -1, b: -y0, member: BOTTOM_CHORD, n0, n1 }, { ax: 1, ay: 0, b: x1, member: FAR_END, n0, n1 },
      { ax: 0, ay: 1, b: y1, member: TOP_CHORD, n0, n1 }, { ax: -1, ay: 0, b: -x0, member: NEAR_END, n0, n1 },
    ],
  }]
  const strips = bands.map((band, index) => stripOf(clear, bands, index, band)).filter((strip) => strip !== null)
  for (const strip of strips) {
    const left: Cell[] = []
    for (const cell of cells) cutCell(cell, strip, left)
    cells = left
  }
  strips.sort((p, q) => p.middle - q.middle)

  const fit = new Float64Array(3)
  const found = cells.map((cell) => {
    const halfPlanes: number[] = [], members: number[] = []
    for (const line of linesAround(cell, strips)) {
      halfPlanes.push(line.ax, line.ay, line.b, line.n0, line.n1)
      members.push(line.member)
    }
    const opening = openingFromHalfPlanes(halfPlanes, members)
    largestStraight(opening, fit)
    const [x, y] = centroid(cell.xy)
    return { cell, opening, diameter: fit[0], x, y }
  }).filter(({ diameter }) => diameter >= LEAST_OPENING_MM)
  const own = found.filter((one, i) => !found.some((other, j) => (
    (other.diameter > one.diameter || (other.diameter === one.diameter && j < i))
    && sharedArea(one.cell, other.cell) > SAME_OPENING_SHARE * one.opening.areaMm2
  )))
  own.sort((p, q) => p.x - q.x || p.y - q.y)
  return own.map(({ opening }, i) => ({ ...opening, number: i + 1 }))
}

/** The part of a band inside the clear rectangle, its ends run on as openingsBetween says; null when there is none. */
function stripOf(clear: ClearRectangle, bands: readonly Band[], index: number, band: Band): Strip | null {
  const dx = band.x1 - band.x0, dy = band.y1 - band.y0
  const length = Math.hypot(dx, dy), half = band.widthMm / 2
  if (!(length > TOUCH_MM && half > 0) || !Number.isFinite(length + half + band.x0 + band.y0 + band.n0 + band.n1)) return null
  const ux = dx / length, uy = dy / length
  const middle = uy * band.x0 - ux * band.y0
  const behind = { member: index, n0: Math.min(band.n0, band.n1), n1: Math.max(band.n0, band.n1) }
  let strip: Cell = { xy: [clear.x0, clear.y0, clear.x1, clear.y0, clear.x1, clear.y1, clear.x0, clear.y1], sides: [] }
  const outside: Line = { ax: 0, ay: 0, b: 0, ...behind }
  strip.sides = [outside, outside, outside, outside]
  strip = clip(strip, { ax: uy, ay: -ux, b: middle + half, ...behind })
  strip = clip(strip, { ax: -uy, ay: ux, b: half - middle, ...behind })
  for (const [x, y, sx, sy] of [[band.x0, band.y0, -ux, -uy], [band.x1, band.y1, ux, uy]]) {
    const inside = Math.min(x - clear.x0, clear.x1 - x, y - clear.y0, clear.y1 - y)
    if (Math.abs(inside) < half) continue
    let end: Line = { ax: sx, ay: sy, b: sx * x + sy * y, ...behind }
    if (inside > 0) for (const other of bands) {
      const joined = other === band ? null : centrelineMet(other, x, y, half, sx, sy)
      if (joined !== null) { end = { ax: joined[0], ay: joined[1], b: joined[2], ...behind }; break }
    }
    strip = clip(strip, end)
  }
  if (strip.xy.length < 6) return null
  const faces = [...new Set(strip.sides)].filter((side) => side !== outside)
  return { ...strip, faces, middle: (least(strip.xy, 1, 0) - least(strip.xy, -1, 0)) / 2 }
}

/** The centreline of `other` as a half-plane that the band coming along (sx, sy) ends at, when its end lies in it; or null. */
function centrelineMet(other: Band, x: number, y: number, half: number, sx: number, sy: number): number[] | null {
  const dx = other.x1 - other.x0, dy = other.y1 - other.y0
  const length = Math.hypot(dx, dy), otherHalf = other.widthMm / 2
  if (!(length > TOUCH_MM && otherHalf > 0)) return null
  const ux = dx / length, uy = dy / length
  const along = (x - other.x0) * ux + (y - other.y0) * uy, off = (x - other.x0) * uy - (y - other.y0) * ux
  if (along < -half || along > length + half || Math.abs(off) > otherHalf + TOUCH_MM) return null
  const facing = sx * uy - sy * ux
  if (Math.abs(facing) < 1e-3) return null
  const sign = facing > 0 ? 1 : -1
  return [sign * uy, -sign * ux, sign * (uy * other.x0 - ux * other.y0)]
}

/** Adds to `left` what is left of a cell beside a strip: one cell for each face of the strip that the cell lies partly beyond. */
function cutCell(cell: Cell, strip: Strip, left: Cell[]): void {
  let common = cell
  if (!apartAlong(cell, strip)) for (const face of strip.faces) common = clip(common, face)
  else common = NOTHING
  if (common.xy.length < 6 || thickness(common) <= TOUCH_MM) {
    left.push(cell)
    return
  }
  for (const { ax, ay, b, member, n0, n1 } of strip.faces) {
    const part = clip(cell, { ax: -ax, ay: -ay, b: -b, member, n0, n1 })
    if (part.xy.length >= 6 && thickness(part) > TOUCH_MM) left.push(part)
  }
}

const NOTHING: Cell = { xy: [], sides: [] }

/** True when their extents along the joist do not overlap. */
function apartAlong(one: Cell, other: Cell): boolean {
  return least(one.xy, 1, 0) >= -least(other.xy, -1, 0) || least(other.xy, 1, 0) >= -least(one.xy, -1, 0)
}

/** Sutherland-Hodgman for one line, carrying each side's line along. */
function clip(cell: Cell, line: Line): Cell {
  const { xy, sides } = cell
  const count = xy.length / 2
  const out: Cell = { xy: [], sides: [] }
  for (let i = 0; i < count; i++) {
    const j = (i + 1) % count
    const here = line.ax * xy[2 * i] + line.ay * xy[2 * i + 1] - line.b
    const next = line.ax * xy[2 * j] + line.ay * xy[2 * j + 1] - line.b
    if (here <= 0) {
      out.xy.push(xy[2 * i], xy[2 * i + 1])
      out.sides.push(next > 0 && here === 0 ? line : sides[i])
    }
    if ((here < 0 && next > 0) || (here > 0 && next < 0)) {
      const t = here / (here - next)
      out.xy.push(xy[2 * i] + t * (xy[2 * j] - xy[2 * i]), xy[2 * i + 1] + t * (xy[2 * j + 1] - xy[2 * i + 1]))
      out.sides.push(here < 0 ? line : sides[i])
    }
  }
  return out
}

/** Twice the area over the longest reach from the first corner: about how thick a convex region is, mm. */
function thickness({ xy }: Cell): number {
  let reach = 0
  for (let i = 2; i < xy.length; i += 2) reach = Math.max(reach, Math.hypot(xy[i] - xy[0], xy[i + 1] - xy[1]))
  return reach === 0 ? 0 : 2 * polygonArea(xy, xy.length / 2) / reach
}

function sharedArea(one: Cell, other: Cell): number {
  if (apartAlong(one, other)) return 0
  let common = one
  for (const side of other.sides) common = clip(common, side)
  return common.xy.length < 6 ? 0 : polygonArea(common.xy, common.xy.length / 2)
}

function centroid(xy: number[]): [number, number] {
  let area = 0, x = 0, y = 0
  for (let i = 2; i + 3 < xy.length + 2; i += 2) {
    const j = i + 2 < xy.length ? i + 2 : 0
    const twice = (xy[i] - xy[0]) * (xy[j + 1] - xy[1]) - (xy[i + 1] - xy[1]) * (xy[j] - xy[0])
    area += twice
    x += twice * (xy[i] + xy[j] - 2 * xy[0]) / 3
    y += twice * (xy[i + 1] + xy[j + 1] - 2 * xy[1]) / 3
  }
  return [xy[0] + x / area, xy[1] + y / area]
}

/**
 * The cell's own lines, and those of nearby bands that a slanting duct would meet at a depth where no member nearer
 * to it stands: the nearest first, until what is behind them is hidden by a line that spans at least its depth.
 */
function linesAround(cell: Cell, strips: readonly Strip[]): Line[] {
  const { xy, sides } = cell
  const lines = sides.filter((line, i) => {
    const j = (2 * i + 2) % xy.length
    return sides.indexOf(line) === i && Math.hypot(xy[j] - xy[2 * i], xy[j + 1] - xy[2 * i + 1]) > TOUCH_MM
  })
  const [middle] = centroid(xy)
  let right = strips.findIndex((strip) => strip.middle >= middle)
  if (right < 0) right = strips.length
  let left = right - 1
  while (left >= 0 || right < strips.length) {
    const leftIsNearer = right >= strips.length || (left >= 0 && middle - strips[left].middle <= strips[right].middle - middle)
    const line = lineFor(cell, lines, leftIsNearer ? strips[left--] : strips[right++])
    if (line !== null) lines.push(line)
  }
  return lines
}

/** The line that parts a cell from a band of which it has none yet; null when none is needed. */
function lineFor(cell: Cell, lines: readonly Line[], strip: Strip): Line | null {
  const { member, n0, n1 } = strip.faces[0]
  for (const line of lines) if (line.member === member || (line.n0 <= n0 && line.n1 >= n1 && isBeyond(strip, line))) return null
  let best: Line | null = null, bestGap = -TOUCH_MM
  for (const { ax, ay, b } of strip.faces) {
    const gap = least(cell.xy, ax, ay) - b
    if (gap > bestGap) { bestGap = gap; best = { ax: -ax, ay: -ay, b: -b, member, n0, n1 } }
  }
  if (best !== null) return best
  const between = lines.find((line) => line.member >= 0 && isBeyond(strip, line))
  return between === undefined ? null : { ...between, member, n0, n1 }
}

const isBeyond = (strip: Strip, line: Line): boolean => least(strip.xy, line.ax, line.ay) >= line.b - TOUCH_MM

function least(xy: readonly number[], ax: number, ay: number): number {
  let value = Infinity
  for (let i = 0; i < xy.length; i += 2) value = Math.min(value, ax * xy[i] + ay * xy[i + 1])
  return value
}
