/** The border, title block, scale bar and datum words that every drawing carries. */
import type { Job } from '#model/index.ts'
import { fitted } from './letters.ts'
import type { SheetOptions } from './options.ts'
import { area, box, line, text, type Mark, type Sheet } from './page.ts'

/** ISO 216, landscape */
export const PAPERS = { a4: [297, 210], a3: [420, 297] } as const
const MARGIN_MM = 8
const BLOCK_MM = 17

export interface Room { readonly x: number, readonly y: number, readonly widthMm: number, readonly heightMm: number }

/** Where a drawing may lie on the page: what border and title block leave, less a little air. */
export function drawingRoom({ paper }: Pick<SheetOptions, 'paper'>): Room {
  const [widthMm, heightMm] = PAPERS[paper]
  return { x: MARGIN_MM + 4, y: MARGIN_MM + 4, widthMm: widthMm - 2 * MARGIN_MM - 8, heightMm: heightMm - 2 * MARGIN_MM - BLOCK_MM - 8 }
}

/** A drawing scale that a rule has, so that a length can be read off the paper. */
export const SCALES = [1, 2, 5, 10, 20, 25, 50, 75, 100, 150, 200, 500, 1000, 2000, 5000, 10000] as const

/** The largest scale, as 1:n, at which a width and height on site fit; the smallest there is when none does. */
export function scaleFor(siteWidthMm: number, siteHeightMm: number, widthMm: number, heightMm: number, atLeast = 1): number {
  return SCALES.find((n) => n >= atLeast && siteWidthMm / n <= widthMm && siteHeightMm / n <= heightMm) ?? SCALES[SCALES.length - 1]
}

export interface Drawing {
  readonly id: string
  readonly title: string
  readonly marks: readonly Mark[]
  /** 1:n; left out where nothing is drawn to scale */
  readonly scale?: number
  /** said in the title block in place of 'Check on site before cutting' */
  readonly note?: string
}

export function framed(job: Job, options: SheetOptions, { id, title, marks, scale, note }: Drawing): Sheet {
  const [widthMm, heightMm] = PAPERS[options.paper]
  const left = MARGIN_MM, right = widthMm - MARGIN_MM, bottom = heightMm - MARGIN_MM, top = bottom - BLOCK_MM
  const third = (right - left) / 3
  const frame: Mark[] = [
    ...marks,
    line([...box(left, MARGIN_MM, right - left, heightMm - 2 * MARGIN_MM), [left, MARGIN_MM]], 0.35),
    line([[left, top], [right, top]], 0.35), line([[left + third, top], [left + third, bottom]], 0.18), line([[left + 2 * third, top], [left + 2 * third, bottom]], 0.18),
    text([left + 2, top + 5], fitted(job.name, 3.4, third - 4, true), 3.4, 'start', { isBold: true }),
    text([left + 2, top + 10], fitted(title, 2.8, third - 4), 2.8),
    text([left + 2, top + 14.5], fitted(`Date ${options.date === '' ? '____________' : options.date}   Revision ${options.revision === '' ? '____' : options.revision}`, 2.4, third - 4), 2.4),
    text([left + third + 2, top + 5], scale === undefined ? 'Figures in mm.' : `Scale 1:${scale} on ${options.paper.toUpperCase()}, printed at 100 %. Figures in mm.`, 2.4),
    ...scale === undefined ? [] : scaleBarAt(left + third + 4, top + 11, scale, third - 30),
    text([left + 2 * third + 2, top + 4], fitted(note ?? 'Measure on site before you cut.', 2.4, third - 4), 2.4, 'start', { isBold: true }),
    text([left + 2 * third + 2, top + 8.5], 'Datum (0,0,0):', 2.3, 'start', { ink: 'mark' }),
    ...datumLines(job.datum, third - 4).map((words, i) => text([left + 2 * third + 2, top + 11.6 + 2.6 * i], words, 2.2, 'start', { ink: 'mark' })),
  ]
  return { id, title, widthMm, heightMm, marks: frame }
}

function datumLines(datum: string, roomMm: number): string[] {
  const words = datum.trim() === '' ? 'not described in the job' : datum.trim()
  const lines = [fitted(words.replace(/\s+/g, ' '), 2.2, roomMm)]
  if (!lines[0].endsWith('...')) return lines
  const first = lines[0].slice(0, -3).replace(/\s\S*$/, '')
  return [first, fitted(words.replace(/\s+/g, ' ').slice(first.length).trim(), 2.2, roomMm)]
}

/** Five parts of 1, 2 or 5 times a power of ten on site, as long as there is room for. */
function scaleBarAt(x: number, y: number, scale: number, roomMm: number): Mark[] {
  const power = 10 ** Math.floor(Math.log10(roomMm * scale / 5))
  const partMm = [5, 2, 1].map((step) => step * power).find((length) => length * 5 / scale <= roomMm) ?? power
  const width = partMm / scale
  const marks: Mark[] = [0, 1, 2, 3, 4].map((i) => area(box(x + i * width, y, width, 1.6), i % 2 === 0 ? 'black' : 'white', 0.15))
  for (const i of [0, 1, 5]) marks.push(text([x + i * width, y + 4.2], i * partMm >= 1000 ? `${i * partMm / 1000} m` : `${i * partMm}${i === 5 ? ' mm' : ''}`, 2.3, 'middle'))
  return marks
}
