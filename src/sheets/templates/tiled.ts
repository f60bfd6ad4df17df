/** A template at full size on as many pages as it takes, with overlap, register marks, and a test line on every page. */
import { PAPERS } from '../framed.ts'
import { fitted } from '../letters.ts'
import type { SheetOptions } from '../options.ts'
import { box, line, text, type Ink, type Mark, type Point, type Sheet } from '../page.ts'
import type { Template } from './templatesOf.ts'

export const MEASURE_FIRST = 'measure this line before you cut'
export const TEST_LINE_MM = 100
export const OVERLAP_MM = 12
/** Printers leave this much of the edge white; below the window stand the test line and the words. */
const EDGE_MM = 10
const FOOT_MM = 16
/** Register marks this far from the ends of a seam. */
const FROM_END_MM = 18
/** A circle is drawn with chords as near as this, mm. */
const CHORD_MM = 0.02
/** Round a template on its own page. */
const ROUND_MM = 10

interface Stroke { readonly points: readonly Point[], readonly widthMm: number, readonly ink: Ink, readonly dashMm?: readonly number[] }

/** Pages row by row from the upper left. */
export function tiledSheets(template: Template, { paper }: Pick<SheetOptions, 'paper'>): Sheet[] {
  const { id, title, words, widthMm, heightMm } = template
  const [pageWidth, pageHeight] = lying(template, paper)
  const window = { width: pageWidth - 2 * EDGE_MM, height: pageHeight - 2 * EDGE_MM - FOOT_MM }
  const columns = tiles(widthMm, window.width), rows = tiles(heightMm, window.height)
  const step = { x: window.width - OVERLAP_MM, y: window.height - OVERLAP_MM }
  const strokes = strokesOf(template)
  return Array.from({ length: rows * columns }, (_, n): Sheet => {
    const row = Math.floor(n / columns), column = n % columns
    // the template's x to the right from its left, its v down from its top
    const left = column * step.x, top = row * step.y
    const at = ([x, v]: Point): Point => [EDGE_MM + x - left, EDGE_MM + v - top]
    const marks: Mark[] = strokes.flatMap(({ points, widthMm: width, ink, dashMm }) => cutTo(points, left, top, window.width, window.height).map((piece) => line(piece.map(at), width, ink, dashMm)))
    for (const { name, x, y, diameterMm, isCut } of template.rounds) {
      const v = heightMm - y
      if (x >= left && x <= left + window.width && v >= top && v <= top + window.height) marks.push(text(at([x + 3, v - 2]), fitted(isCut ? `${name}  Ø ${diameterMm}` : '', 3, 60), 3))
    }
    for (const [x, v] of registerMarks(columns, rows, window.width, window.height)) {
      if (x < left - 1e-6 || x > left + window.width + 1e-6 || v < top - 1e-6 || v > top + window.height + 1e-6) continue
      const [px, py] = at([x, v])
      marks.push({ kind: 'ellipse', at: [px, py], halfMm: [2, 2], turnDeg: 0, widthMm: 0.15, ink: 'mark' }, line([[px - 4, py], [px + 4, py]], 0.15, 'mark'), line([[px, py - 4], [px, py + 4]], 0.15, 'mark'))
    }
    const frame = box(EDGE_MM, EDGE_MM, window.width, window.height)
    marks.push(line([...frame, frame[0]], 0.1, 'grey', [2, 1.5]), ...foot(EDGE_MM, pageHeight - EDGE_MM - FOOT_MM + 5, window.width, columns * rows === 1 ? title : `${title}  (row ${row + 1} of ${rows}, column ${column + 1} of ${columns})`, words))
    return { id: `${id}-${row + 1}-${column + 1}`, title, widthMm: pageWidth, heightMm: pageHeight, marks }
  })
}

/** The whole template on one page of its own size, for a plotter. */
export function wholeTemplate(template: Template): Sheet {
  const { id, title, words, widthMm, heightMm } = template
  const width = Math.max(widthMm, TEST_LINE_MM + 60) + 2 * ROUND_MM
  const at = ([x, v]: Point): Point => [ROUND_MM + x, ROUND_MM + v]
  return {
    id, title, widthMm: width, heightMm: heightMm + 2 * ROUND_MM + FOOT_MM,
    marks: [
      ...strokesOf(template).map(({ points, widthMm: thick, ink, dashMm }) => line(points.map(at), thick, ink, dashMm)),
      ...template.rounds.flatMap(({ name, x, y, diameterMm, isCut }) => isCut ? [text(at([x + 3, heightMm - y - 2]), `${name}  Ø ${diameterMm}`, 3)] : []),
      ...foot(ROUND_MM, ROUND_MM + heightMm + 6, width - 2 * ROUND_MM, title, words),
    ],
  }
}

const tiles = (mm: number, windowMm: number): number => Math.max(1, Math.ceil((mm - OVERLAP_MM) / (windowMm - OVERLAP_MM) - 1e-9))

/** Upright or lying, whichever takes fewer pages. */
function lying({ widthMm, heightMm }: Template, paper: SheetOptions['paper']): readonly [number, number] {
  const [long, short] = PAPERS[paper]
  const count = (w: number, h: number): number => tiles(widthMm, w - 2 * EDGE_MM) * tiles(heightMm, h - 2 * EDGE_MM - FOOT_MM)
  return count(short, long) < count(long, short) ? [short, long] : [long, short]
}

function foot(x: number, y: number, roomMm: number, title: string, words: string): Mark[] {
  const wordsX = x + TEST_LINE_MM + 4
  return [
    line([[x, y], [x + TEST_LINE_MM, y]], 0.25), line([[x, y - 2], [x, y + 2]], 0.25), line([[x + TEST_LINE_MM, y - 2], [x + TEST_LINE_MM, y + 2]], 0.25),
    text([x + TEST_LINE_MM / 2, y + 4], `${TEST_LINE_MM} mm: ${MEASURE_FIRST}`, 3, 'middle', { isBold: true, ink: 'mark' }),
    text([wordsX, y], fitted(title, 2.8, roomMm - TEST_LINE_MM - 4), 2.8), text([wordsX, y + 4], fitted(words, 2.3, roomMm - TEST_LINE_MM - 4), 2.3),
    text([x, y + 8.5], 'Print at 100 %. Lay register mark on register mark.', 2.3),
  ]
}

/** Two on every seam of every page, at the same place of the template on both pages that share it. */
function registerMarks(columns: number, rows: number, width: number, height: number): Point[] {
  const marks: Point[] = []
  const ends = (from: number, length: number): number[] => [from + FROM_END_MM, from + length - FROM_END_MM]
  for (let c = 1; c < columns; c++) for (let r = 0; r < rows; r++) for (const v of ends(r * (height - OVERLAP_MM), height)) marks.push([c * (width - OVERLAP_MM) + OVERLAP_MM / 2, v])
  for (let r = 1; r < rows; r++) for (let c = 0; c < columns; c++) for (const x of ends(c * (width - OVERLAP_MM), width)) marks.push([x, r * (height - OVERLAP_MM) + OVERLAP_MM / 2])
  return marks
}

/** v counts down from the template's top. */
function strokesOf({ widthMm, heightMm, hasOutline, rounds }: Template): Stroke[] {
  const strokes: Stroke[] = []
  if (hasOutline) strokes.push({ points: [...box(0, 0, widthMm, heightMm), [0, 0]], widthMm: 0.35, ink: 'black' })
  strokes.push({ points: [[widthMm / 2, 0], [widthMm / 2, heightMm]], widthMm: 0.13, ink: 'grey', dashMm: [6, 2, 1, 2] }, { points: [[0, heightMm / 2], [widthMm, heightMm / 2]], widthMm: 0.13, ink: 'grey', dashMm: [6, 2, 1, 2] })
  for (const { x, y, diameterMm, isCut } of rounds) {
    const r = diameterMm / 2, v = heightMm - y, sides = Math.max(24, Math.ceil(Math.PI / Math.acos(1 - CHORD_MM / r)))
    strokes.push({ points: Array.from({ length: sides + 1 }, (_, k): Point => [x + r * Math.cos(2 * Math.PI * k / sides), v + r * Math.sin(2 * Math.PI * k / sides)]), widthMm: isCut ? 0.35 : 0.18, ink: isCut ? 'black' : 'grey', dashMm: isCut ? undefined : [3, 1.5] })
    if (isCut) strokes.push({ points: [[x - r - 4, v], [x + r + 4, v]], widthMm: 0.13, ink: 'black' }, { points: [[x, v - r - 4], [x, v + r + 4]], widthMm: 0.13, ink: 'black' })
  }
  return strokes
}

/** The parts of a chain of lines inside a window: Liang and Barsky, ACM Trans. Graphics 3, 1984, line by line. */
function cutTo(points: readonly Point[], left: number, top: number, width: number, height: number): Point[][] {
  const chains: Point[][] = []
  let chain: Point[] = []
  for (let i = 0; i + 1 < points.length; i++) {
    const [x, y] = points[i], dx = points[i + 1][0] - x, dy = points[i + 1][1] - y
    let from = 0, to = 1
    for (const [rate, room] of [[-dx, x - left], [dx, left + width - x], [-dy, y - top], [dy, top + height - y]]) {
      if (rate === 0) {
        if (room < 0) to = -1
      } else if (rate < 0) from = Math.max(from, room / rate)
      else to = Math.min(to, room / rate)
    }
    if (from >= to) {
      if (chain.length > 1) chains.push(chain)
      chain = []
      continue
    }
    if (chain.length === 0 || from > 0) {
      if (chain.length > 1) chains.push(chain)
      chain = [[x + from * dx, y + from * dy]]
    }
    chain.push([x + to * dx, y + to * dy])
    if (to < 1) {
      chains.push(chain)
      chain = []
    }
  }
  if (chain.length > 1) chains.push(chain)
  return chains
}
