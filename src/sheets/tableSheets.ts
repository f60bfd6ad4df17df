/** A schedule set on as many pages as it takes. */
import type { Job } from '#model/index.ts'
import { drawingRoom, framed } from './framed.ts'
import { fitted, textWidthMm, wrapped } from './letters.ts'
import type { SheetOptions } from './options.ts'
import { line, text, type Mark, type Sheet } from './page.ts'
import { cellWords, type Table } from './table.ts'

const SIZE_MM = 2.4
const ROW_MM = 4.2
const GAP_MM = 2.5
const LINE_MM = 3
const MOST_LINES = 12

export function tableSheets(job: Job, options: SheetOptions, table: Table): Sheet[] {
  const room = drawingRoom(options)
  const words = table.rows.map((row) => row.map((cell, c) => cellWords(cell, table.columns[c].decimals)))
  const isNumber = table.columns.map((_, c) => table.rows.every((row) => row[c] === null || typeof row[c] === 'number') && table.rows.some((row) => row[c] !== null))
  const wanted = table.columns.map(({ name }, c) => Math.max(longestWordMm(name), ...words.map((row) => textWidthMm(row[c], SIZE_MM))) + GAP_MM)
  const widths = shrunk(wanted, isNumber, room.widthMm)
  const starts = widths.map((_, c) => room.x + widths.slice(0, c).reduce((sum, width) => sum + width, 0))
  const notes = table.notes.flatMap((note) => wrapped(note, 2.2, room.widthMm))
  const set = (cells: readonly string[], isBold: boolean): string[][] => cells.map((cell, c) => {
    const roomMm = (widths[c] - GAP_MM) / (isBold ? 1.12 : 1)
    const lines = wrapped(cell, SIZE_MM, roomMm)
    return lines.length <= MOST_LINES ? lines : [...lines.slice(0, MOST_LINES - 1), fitted(`${lines[MOST_LINES - 1]} ...`, SIZE_MM, roomMm)]
  })
  const head = set(table.columns.map(({ name }) => name), true)
  const rows = (table.rows.length === 0 ? [['None.', ...table.columns.slice(1).map(() => '')]] : words).map((row) => set(row, false))
  const heightOf = (cells: readonly string[][]): number => ROW_MM + LINE_MM * (Math.max(...cells.map((lines) => lines.length)) - 1)
  const sheets: Sheet[] = []
  for (let from = 0; from < rows.length;) {
    const marks: Mark[] = [text([room.x, room.y + 4], fitted(`${table.title}${from > 0 ? ' (continued)' : ''}`, 4, room.widthMm, true), 4, 'start', { isBold: true })]
    let y = room.y + 8
    if (from === 0) for (const note of notes) marks.push(text([room.x, (y += 3.2) - 3.2], note, 2.2))
    const put = (cells: readonly string[][], isBold: boolean): void => {
      cells.forEach((lines, c) => lines.forEach((words, i) => {
        if (words !== '') marks.push(text([isNumber[c] ? starts[c] + widths[c] - GAP_MM : starts[c], y + ROW_MM - 1.2 + i * LINE_MM], words, SIZE_MM, isNumber[c] ? 'end' : 'start', { isBold }))
      }))
      y += heightOf(cells)
      marks.push(line([[room.x, y], [room.x + room.widthMm, y]], isBold ? 0.25 : 0.05, isBold ? 'black' : 'grey'))
    }
    put(head, true)
    const first = from
    while (from < rows.length && (from === first || y + heightOf(rows[from]) <= room.y + room.heightMm)) put(rows[from++], false)
    sheets.push(framed(job, options, { id: sheets.length === 0 ? table.id : `${table.id}-${sheets.length + 1}`, title: table.title, marks }))
  }
  return sheets
}

/** Columns of words give way, the widest first; columns of numbers keep what they need. */
function shrunk(wanted: readonly number[], isNumber: readonly boolean[], roomMm: number): number[] {
  const fixed = wanted.reduce((sum, width, c) => sum + (isNumber[c] ? width : 0), 0)
  const wordy = wanted.filter((_, c) => !isNumber[c]).sort((a, b) => a - b)
  let left = roomMm - fixed, most = Infinity
  wordy.forEach((width, i) => {
    const share = left / (wordy.length - i)
    if (width > share && most === Infinity) most = share
    if (most === Infinity) left -= width
  })
  const widths = wanted.map((width, c) => isNumber[c] ? width : Math.max(4, Math.min(width, most)))
  const sum = widths.reduce((a, b) => a + b, 0)
  return sum <= roomMm ? widths : widths.map((width) => width * roomMm / sum)
}

/** heads are broken between words */
const longestWordMm = (name: string): number => Math.max(...name.split(' ').map((word) => textWidthMm(word, SIZE_MM, true)))
