/** Markers as little pictures: one shape per severity with its number in the list, all in one texture, so that all markers are one draw. */
import type { Severity } from '#checks/finding.ts'
import { MORE_WORDS } from './groupMarks.ts'
import { PENCIL, SEVERITY_COLOURS, WHITE } from './palette.ts'

export const CELL_PX = 96
export const CELLS_ACROSS = 16
/** the last row holds the shapes without a number, for what comes after the numbered ones, and the badges that say how many lie under one */
export const MOST_NUMBERED = CELLS_ACROSS * (CELLS_ACROSS - 1)

const SEVERITIES: readonly Severity[] = ['stop', 'mend', 'advice']

/** Corners of each shape in a square of -1..1, x to the right and y down. A circle has none. The list draws the same shapes. */
export const SHAPE_CORNERS: Record<Severity, readonly (readonly [number, number])[]> = {
  stop: [[0, -1], [1, 0], [0, 1], [-1, 0]],
  mend: [[-0.82, -0.82], [0.82, -0.82], [0.82, 0.82], [-0.82, 0.82]],
  advice: [],
}
export const MARK_INK: Record<Severity, string> = { stop: '#ffffff', mend: '#ffffff', advice: PENCIL }

/** @returns which cell of the atlas shows the marker at this place of the list */
export function cellOf(index: number, severity: Severity): number {
  return index < MOST_NUMBERED ? index : MOST_NUMBERED + SEVERITIES.indexOf(severity)
}

/** @param step one of MORE_WORDS */
export function cellOfMore(step: number): number {
  return MOST_NUMBERED + SEVERITIES.length + step
}

/** Draws the cells that a list of findings needs. */
export function drawAtlas(canvas: HTMLCanvasElement, severities: readonly Severity[]): void {
  canvas.width = canvas.height = CELL_PX * CELLS_ACROSS
  const pen = canvas.getContext('2d')
  if (pen === null) return
  severities.slice(0, MOST_NUMBERED).forEach((severity, i) => drawCell(pen, i, severity, String(i + 1)))
  SEVERITIES.forEach((severity, i) => drawCell(pen, MOST_NUMBERED + i, severity, ''))
  MORE_WORDS.forEach((words, step) => drawBadge(pen, cellOfMore(step), words))
}

/** A slip of paper at the upper right of the mark that it belongs to. */
function drawBadge(pen: CanvasRenderingContext2D, cell: number, words: string): void {
  const x = cell % CELLS_ACROSS * CELL_PX, y = Math.floor(cell / CELLS_ACROSS) * CELL_PX
  pen.beginPath()
  pen.roundRect(x + CELL_PX * 0.06, y + CELL_PX * 0.2, CELL_PX * 0.88, CELL_PX * 0.6, CELL_PX * 0.16)
  pen.lineWidth = CELL_PX * 0.07
  pen.strokeStyle = PENCIL
  pen.fillStyle = WHITE
  pen.fill()
  pen.stroke()
  pen.fillStyle = PENCIL
  pen.font = `700 ${CELL_PX * 0.44}px system-ui, "Liberation Sans", sans-serif`
  pen.textAlign = 'center'
  pen.textBaseline = 'middle'
  pen.fillText(words, x + CELL_PX / 2, y + CELL_PX * 0.52)
}

function drawCell(pen: CanvasRenderingContext2D, cell: number, severity: Severity, words: string): void {
  const x = (cell % CELLS_ACROSS + 0.5) * CELL_PX, y = (Math.floor(cell / CELLS_ACROSS) + 0.5) * CELL_PX
  const reach = CELL_PX * 0.42
  pen.beginPath()
  if (SHAPE_CORNERS[severity].length === 0) pen.arc(x, y, reach * 0.92, 0, 2 * Math.PI)
  SHAPE_CORNERS[severity].forEach(([cx, cy], i) => {
    if (i === 0) pen.moveTo(x + cx * reach, y + cy * reach)
    else pen.lineTo(x + cx * reach, y + cy * reach)
  })
  pen.closePath()
  pen.lineJoin = 'round'
  pen.lineWidth = CELL_PX * 0.12
  pen.strokeStyle = severity === 'advice' ? PENCIL : '#ffffff'
  pen.stroke()
  pen.fillStyle = SEVERITY_COLOURS[severity]
  pen.fill()
  if (severity === 'advice') {
    pen.lineWidth = CELL_PX * 0.06
    pen.stroke()
  }
  pen.fillStyle = MARK_INK[severity]
  pen.font = `700 ${CELL_PX * (words.length > 2 ? 0.3 : 0.4)}px system-ui, "Liberation Sans", sans-serif`
  pen.textAlign = 'center'
  pen.textBaseline = 'middle'
  pen.fillText(words, x, y + CELL_PX * 0.02)
}
