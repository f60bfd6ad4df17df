/** One elevation for each joist that is crossed: where to mark each crossing with a tape from the joist's datum end, and how much room the duct has. */
import type { CheckContext } from '#checks/context.ts'
import { compassOf } from '#geometry/compass.ts'
import { joistElevation, type ElevationDuct, type JoistElevation } from '#checks/joistElevation.ts'
import { knownCrossings } from '#checks/openingUse.ts'
import { onPaper, tag, type Window } from '../drawing.ts'
import { drawingRoom, framed, type Room } from '../framed.ts'
import { fitted, textWidthMm } from '../letters.ts'
import type { SheetOptions } from '../options.ts'
import { area, line, text, type Mark, type Point, type Sheet } from '../page.ts'
import { cellWords } from '../table.ts'

/** Indices of the joists that a run crosses, in the job's order. */
export function crossedJoists(context: CheckContext): number[] {
  const crossed = new Set(context.runs.flatMap((_, runIndex) => knownCrossings(context, runIndex).map(({ joistIndex }) => joistIndex)))
  return [...crossed].sort((a, b) => a - b)
}

export const elevationSheets = (context: CheckContext, options: SheetOptions): Sheet[] => crossedJoists(context).flatMap((joistIndex) => elevationSheet(context, options, joistIndex))

const SCALES = [5, 10, 20, 25, 50, 100]
const HEAD_MM = 6
const ROW_MM = 4
/** Above and below the joist on paper: names above, distances below. */
const ABOVE_MM = 5, DISTANCE_MM = 3.4
/** Distances written side by side need this much. */
const APART_MM = 11
/** At smaller scales the bottom chord has no room for the numbers of the openings. */
const NUMBERED_TO = 20

interface Strip { readonly from: number, readonly to: number, readonly lanes: number, readonly ducts: readonly { readonly duct: ElevationDuct, readonly lane: number }[] }

/** The joist in strips of the page's width, those that nothing crosses left out where the whole does not fit; the measures below it as a list. */
export function elevationSheet(context: CheckContext, options: SheetOptions, joistIndex: number): Sheet[] {
  const elevation = joistElevation(context, joistIndex), { job, joists } = context.assembly, { along, origin } = joists[joistIndex]
  const room = drawingRoom(options)
  const listMm = (elevation.ducts.length + 2) * ROW_MM
  const roomMm = room.heightMm - HEAD_MM - Math.min(listMm, room.heightMm / 2)
  const stripsAt = (scale: number): Strip[] => stripsOf(elevation, scale, room.widthMm - 6)
  const heightAt = (scale: number): number => stripsAt(scale).reduce((sum, strip) => sum + stripHeightMm(elevation, scale, strip), 0)
  const scale = SCALES.find((n) => heightAt(n) <= roomMm) ?? SCALES[SCALES.length - 1]
  const marks: Mark[] = [
    text([room.x, room.y + 4], fitted(`${elevation.joist.name}: ${elevation.ducts.length} crossing${elevation.ducts.length === 1 ? '' : 's'}`, 4, room.widthMm * 0.36, true), 4, 'start', { isBold: true }),
    text([room.x + room.widthMm, room.y + 4], fitted(`Datum end on the left: the ${compassOf(-along[0], -along[1])} end, x ${Math.round(origin[0])} y ${Math.round(origin[1])}. Distances and openings count from it, heights from the underside (level ${Math.round(elevation.undersideMm)}).`, 2.2, room.widthMm * 0.62), 2.2, 'end'),
  ]
  let y = room.y + HEAD_MM
  for (const strip of stripsAt(scale)) {
    const window: Window = { scale, site: [strip.from, 0], at: [room.x + 3, y + ABOVE_MM + elevation.depthMm / scale] }
    marks.push(...stripMarks(context, elevation, strip, window))
    y += stripHeightMm(elevation, scale, strip)
  }
  const id = `joist-${elevation.joist.id}`, title = `Elevation of ${elevation.joist.name}`
  const [first, ...more] = listPages(context, elevation, room, y + ROW_MM)
  return [
    framed(job, options, { id, title, marks: [...marks, ...first], scale }),
    ...more.map((list, i) => framed(job, options, { id: `${id}-${i + 2}`, title: `${title} (continued)`, marks: list })),
  ]
}

function stripsOf({ lengthMm, ducts }: JoistElevation, scale: number, widthMm: number): Strip[] {
  const count = Math.max(1, Math.ceil(lengthMm / (widthMm * scale) - 1e-9)), stepMm = lengthMm / count
  return Array.from({ length: count }, (_, i): Strip => {
    const from = i * stepMm, to = (i + 1) * stepMm
    const own = ducts.filter(({ x }) => x >= from && (x < to || i === count - 1)).sort((a, b) => a.x - b.x)
    const lastAt: number[] = []
    const placed = own.map((duct) => {
      let lane = lastAt.findIndex((x) => (duct.x - x) / scale >= APART_MM)
      if (lane < 0) lane = lastAt.length
      lastAt[lane] = duct.x
      return { duct, lane }
    })
    return { from, to, lanes: Math.max(1, lastAt.length), ducts: placed }
  }).filter(({ ducts: own }) => count === 1 || own.length > 0)
}

const stripHeightMm = ({ depthMm }: JoistElevation, scale: number, { lanes }: Strip): number => ABOVE_MM + depthMm / scale + 3 + lanes * DISTANCE_MM + 3

function stripMarks(context: CheckContext, { members, openings, holes, lengthMm, depthMm }: JoistElevation, { from, to, ducts }: Strip, window: Window): Mark[] {
  const at = (x: number, y: number): Point => onPaper(window, x, y)
  const marks: Mark[] = []
  for (const { corners, kind } of members) {
    const cut = clippedTo(corners, from, to)
    if (cut.length > 2) marks.push(area(cut.map(([x, y]) => at(x, y)), kind === 'web' || kind === 'post' ? 'pale' : 'white', 0.2))
  }
  // on the bottom chord, clear of the ducts
  if (window.scale <= NUMBERED_TO) for (const { number, x } of openings) if (x >= from && x <= to) marks.push(text([at(x, 0)[0], at(x, 0)[1] - 0.7], String(number), 2.2, 'middle', { ink: 'grey' }))
  for (const { x, y, radiusMm } of holes) if (x >= from && x <= to) marks.push({ kind: 'ellipse', at: at(x, y), halfMm: [radiusMm / window.scale, radiusMm / window.scale], turnDeg: 0, widthMm: 0.2, ink: 'grey' })
  for (const [x, isEnd] of [[from, from === 0], [to, to === lengthMm]] as const) marks.push(line([at(x, -depthMm * 0.06), at(x, depthMm * 1.06)], isEnd ? 0.35 : 0.15, isEnd ? 'black' : 'grey', isEnd ? undefined : [2, 1]))
  const [left, floor] = at(from, 0)
  if (from === 0) marks.push({ kind: 'area', points: [[left, floor], [left - 1.2, floor + 2.2], [left + 1.2, floor + 2.2]], fill: 'mark' })
  marks.push(text([left + (from === 0 ? 1.8 : 0), floor + 2.4], from === 0 ? '0 datum end' : String(Math.round(from)), 2.2, 'start', { ink: from === 0 ? 'mark' : 'grey' }))
  for (const { duct, lane } of ducts) {
    const [cx, cy] = at(duct.x, duct.y), s = window.scale
    const down = floor + 4.6 + lane * DISTANCE_MM
    marks.push(
      line([[cx, cy], [cx, down - 2.2]], 0.1, 'mark'),
      { kind: 'ellipse', at: [cx, cy], halfMm: [duct.longMm / s, duct.shortMm / s], turnDeg: duct.longRad * 180 / Math.PI, widthMm: 0.3, ink: (duct.spareMm ?? -1) < 0 ? 'mark' : 'black' },
      line([[cx - 1, cy], [cx + 1, cy]], 0.15), line([[cx, cy - 1], [cx, cy + 1]], 0.15),
      text([cx + 0.6, cy - 0.5], `${cellWords(duct.y, 0)} up`, 2.2, 'start', { ink: 'mark' }),
      text([cx, down], cellWords(duct.x, 0), 2.8, 'middle', { ink: 'mark' }),
    )
    const name = fitted(context.runs.find(({ placed }) => placed.run.id === duct.run.id)!.placed.run.id, 2.5, APART_MM * 1.5)
    marks.push(...tag([cx, at(0, depthMm)[1] - 2 - (lane % 2) * 3.2], name, textWidthMm(name, 2.5), 2.5))
  }
  return marks
}

/** The part of a convex outline between two distances along the joist: Sutherland and Hodgman, Comm. ACM 17, 1974. */
function clippedTo(corners: readonly Point[], from: number, to: number): Point[] {
  const cut = (points: readonly Point[], sign: number, limit: number): Point[] => points.flatMap((p, i) => {
    const q = points[(i + 1) % points.length], a = sign * (p[0] - limit), b = sign * (q[0] - limit)
    const out: Point[] = a >= 0 ? [p] : []
    if (a * b < 0) out.push([limit, p[1] + (q[1] - p[1]) * a / (a - b)])
    return out
  })
  return cut(cut(corners, 1, from), -1, to)
}

const HEADS = ['Run', 'From datum end', 'Centre height', 'Duct Ø', 'Goes through', 'Largest Ø there', 'Spare all round', 'Slant'] as const
const STARTS = [0, 0.34, 0.46, 0.57, 0.64, 0.76, 0.85, 0.95]

function listPages(context: CheckContext, { ducts }: JoistElevation, room: Room, top: number): Mark[][] {
  const pages: Mark[][] = []
  const sorted = [...ducts].sort((a, b) => a.x - b.x)
  let marks: Mark[] = [], y = top
  const put = (cells: readonly string[], isBold: boolean): void => cells.forEach((cell, c) => {
    const roomMm = ((STARTS[c + 1] ?? 1) - STARTS[c]) * room.widthMm - 1.5
    marks.push(text([room.x + STARTS[c] * room.widthMm, y], fitted(cell, 2.6, roomMm, isBold), 2.6, 'start', { isBold }))
  })
  put(HEADS, true)
  for (const { run, crossing, spareMm } of sorted) {
    y += ROW_MM
    if (y > room.y + room.heightMm) {
      pages.push(marks)
      marks = []
      y = room.y + 4
      put(HEADS, true)
      y += ROW_MM
    }
    const id = context.runs.find(({ placed }) => placed.run.id === run.id)!.placed.run.id
    put([
      id === run.name ? id : `${id}  ${run.name}`, cellWords(crossing.x, 0), cellWords(crossing.y, 0), cellWords(crossing.ductDiameterMm),
      crossing.opening === null ? crossing.hole === null ? 'no opening' : `hole ${crossing.hole}` : `opening ${crossing.opening}`,
      cellWords(crossing.largestHereMm), spareMm === null ? '-' : spareMm < 0 ? `${cellWords(spareMm)} cuts in` : cellWords(spareMm), `${cellWords(Math.atan(Math.hypot(...crossing.shear)) * 180 / Math.PI, 0)}°`,
    ], false)
  }
  return [...pages, marks]
}
