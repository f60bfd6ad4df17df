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

export function tableSheets(job: Job, options: SheetOptions, table: Table): Sheet[] {
  const room = drawingRoom(options)
  const words = table.rows.map((row) => row.map((cell, c) => cellWords(cell, table.columns[c].decimals)))
  const isNumber = table.columns.map((_, c) => table.rows.every((row) => row[c] === null || typeof row[c] === 'number') && table.rows.some((row) => row[c] !== null))
  const wanted = table.columns.map(({ name }, c) => Math.max(textWidthMm(name, SIZE_MM, true), ...words.map((row) => textWidthMm(row[c], SIZE_MM))) + GAP_MM)
  const widths = shrunk(wanted, isNumber, room.widthMm)
  const starts = widths.map((_, c) => room.x + widths.slice(0, c).reduce((sum, width) => sum + width, 0))
  const notes = table.notes.flatMap((note) => wrapped(note, 2.2, room.widthMm))
  const rows = table.rows.length === 0 ? [['None.', ...table.columns.slice(1).map(() => '')]] : words
  const sheets: Sheet[] = []
  for (let from = 0; from < rows.length;) {
    const marks: Mark[] = [text([room.x, room.y + 4], fitted(`${table.title}${from > 0 ? ' (continued)' : ''}`, 4, room.widthMm, true), 4, 'start', { isBold: true })]
    let y = room.y + 9
    if (from === 0) for (const note of notes) marks.push(text([room.x, (y += 3.2) - 3.2], note, 2.2))
    y += 3
    const put = (cells: readonly string[], isBold: boolean): void => cells.forEach((cell, c) => {
      const roomMm = widths[c] - GAP_MM
      marks.push(text([isNumber[c] ? starts[c] + roomMm : starts[c], y], fitted(cell, SIZE_MM, roomMm, isBold), SIZE_MM, isNumber[c] ? 'end' : 'start', { isBold }))
    })
    put(table.columns.map(({ name }) => name), true)
    marks.push(line([[room.x, y + 1.3], [room.x + room.widthMm, y + 1.3]], 0.25))
    const count = Math.max(1, Math.min(rows.length - from, Math.floor((room.y + room.heightMm - y) / ROW_MM)))
    for (const row of rows.slice(from, from + count)) {
      y += ROW_MM
      put(row, false)
      marks.push(line([[room.x, y + 1.2], [room.x + room.widthMm, y + 1.2]], 0.05, 'grey'))
    }
    from += count
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
