/** A schedule as CSV (RFC 4180): numbers as numbers, text that no spreadsheet takes for a formula. */
import { shown } from './letters.ts'
import { decimalsOf, rounded, type Cell, type Table } from './table.ts'

/** A spreadsheet runs a cell that starts with one of these, white space before it or not; the last four are their full-width forms. */
const STARTS_A_FORMULA = /^\s*[=+\-@|%\uff1d\uff0b\uff0d\uff20]/

/** With the mark that tells a spreadsheet the letters are UTF-8; lines end with CR LF. */
export function csvOf({ columns, rows, fileRows }: Table): string {
  const lines = [columns.map(({ name }) => name), ...(fileRows ?? rows).map((row) => row.map((cell, i) => numbered(cell, decimalsOf(columns[i]))))]
  return `\ufeff${lines.map((cells) => cells.map(csvCell).join(',')).join('\r\n')}\r\n`
}

function numbered(cell: Cell, decimals: number): Cell {
  return typeof cell === 'number' ? rounded(cell, decimals) : cell
}

function csvCell(cell: Cell): string {
  if (cell === null) return ''
  if (typeof cell === 'number') return Number.isFinite(cell) ? plainNumber(cell) : ''
  // line ends inside a cell are allowed but trip many readers
  const flat = shown(cell).trim()
  const whole = STARTS_A_FORMULA.test(flat) ? `'${flat}` : flat
  // where the semicolon parts cells, what follows one would start a cell
  const safe = whole.replace(/;(?=\s*[=+\-@])/g, ';\'')
  return `"${safe.replaceAll('"', '""')}"`
}

/** never in powers of ten */
const plainNumber = (value: number): string => Math.abs(value) < 1e21 ? value.toLocaleString('en-GB', { useGrouping: false, maximumFractionDigits: 6 }).replace(/^-0$/, '0') : ''
