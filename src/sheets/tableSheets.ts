/** A schedule set on as many pages as it takes. */
import type { Job } from '#model/index.ts'
import { drawingRoom, framed } from './framed.ts'
import { fitted, textWidthMm, wrapped } from './letters.ts'
import type { SheetOptions } from './options.ts'
import { line, text, type Mark, type Sheet } from './page.ts'
import { cellWords, decimalsOf, type Table } from './table.ts'

/** Letters of a wide table are smaller, so that no figure is broken over two lines. */
const SIZES_MM = [2.4, 2.2, 2, 1.8]
const ROW_MM = 4.2
const GAP_MM = 2.5
const LINE_MM = 3
const MOST_LINES = 12
/** A word longer than this is broken. */
const LONGEST_WORD_MM = 26

export function tableSheets(job: Job, options: SheetOptions, table: Table): Sheet[] {
  const room = drawingRoom(options)
  const words = table.rows.map((row) => row.map((cell, c) => cellWords(cell, decimalsOf(table.columns[c]))))
  const isNumber = table.columns.map((_, c) => table.rows.every((row) => row[c] === null || typeof row[c] === 'number') && table.rows.some((row) => row[c] !== null))
  const least = (sizeMm: number): number[] => table.columns.map(({ name }, c) => Math.max(longestWordMm(name, sizeMm, true), ...words.map((row) => longestWordMm(row[c], sizeMm, false))) + GAP_MM)
  const sizeMm = SIZES_MM.find((size) => sumOf(least(size)) <= room.widthMm) ?? SIZES_MM[SIZES_MM.length - 1]
  const wanted = table.columns.map(({ name }, c) => Math.max(longestWordMm(name, sizeMm, true), ...words.map((row) => textWidthMm(row[c], sizeMm))) + GAP_MM)
  const widths = shared(least(sizeMm), wanted, room.widthMm)
  const starts = widths.map((_, c) => room.x + sumOf(widths.slice(0, c)))
  const notes = table.notes.flatMap((note) => wrapped(note, 2.2, room.widthMm))
  const set = (cells: readonly string[], isBold: boolean): string[][] => cells.map((cell, c) => {
    // a hair more than it needs, as the widths are sums
    const roomMm = (widths[c] - GAP_MM + 1e-6) / (isBold ? 1.12 : 1)
    const lines = wrapped(cell, sizeMm, roomMm)
    return lines.length <= MOST_LINES ? lines : [...lines.slice(0, MOST_LINES - 1), fitted(`${lines[MOST_LINES - 1]} ...`, sizeMm, roomMm)]
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
        if (words !== '') marks.push(text([isNumber[c] ? starts[c] + widths[c] - GAP_MM : starts[c], y + ROW_MM - 1.2 + i * LINE_MM], words, sizeMm, isNumber[c] ? 'end' : 'start', { isBold }))
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

/** Every column has what its longest word or figure needs; what is left goes to those that want more, the widest served last. Where even that is too much, all give way alike. */
function shared(least: readonly number[], wanted: readonly number[], roomMm: number): number[] {
  const sum = sumOf(least)
  if (sum > roomMm) return least.map((width) => width * roomMm / sum)
  const widths = [...least], order = least.map((_, c) => c).sort((a, b) => wanted[a] - least[a] - wanted[b] + least[b])
  let left = roomMm - sum
  order.forEach((c, i) => {
    const more = Math.min(wanted[c] - least[c], left / (order.length - i))
    widths[c] += more
    left -= more
  })
  // the page's width is used: the rest parts the columns
  return widths.map((width) => width + Math.min(left / widths.length, MOST_APART_MM))
}

const MOST_APART_MM = 12
const sumOf = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0)

function longestWordMm(words: string, sizeMm: number, isHead: boolean): number {
  return Math.max(...words.split(/\s+/).map((word) => {
    const widthMm = textWidthMm(word, sizeMm, isHead)
    return isHead || /^[-+]?[\d.,]+$/.test(word) ? widthMm : Math.min(widthMm, LONGEST_WORD_MM)
  }))
}
