import Papa from 'papaparse'
import { describe, expect, test } from 'vitest'
import { csvOf } from '#sheets/csvOf.ts'
import type { Cell } from '#sheets/table.ts'

const rowsOf = (cells: readonly Cell[]): { text: string, rows: string[][] } => {
  const text = csvOf({ id: 't', title: 'T', notes: [], columns: cells.map((_, i) => ({ name: `Column ${i} mm` })), rows: [cells] })
  const { data, errors } = Papa.parse<string[]>(text.slice(1), { delimiter: ',', newline: '\r\n', skipEmptyLines: true })
  expect(errors).toEqual([])
  return { text, rows: data }
}

describe('a schedule as CSV', () => {
  test('has a mark for UTF-8, a line of heads, lines that end with CR LF, and lengths as whole numbers', () => {
    const { text, rows } = rowsOf([12.345, -0, 0.04, -1234567.25, 'Küche', null])
    expect(text).toBe('\ufeff"Column 0 mm","Column 1 mm","Column 2 mm","Column 3 mm","Column 4 mm","Column 5 mm"\r\n12,0,0,-1234567,"Küche",\r\n')
    expect(rows[1].slice(0, 2).map(Number)).toEqual([12, 0])
  })
  test('keeps commas, quotes and line ends inside their cell', () => {
    expect(rowsOf(['a, "b"', 'two\nlines']).rows[1]).toEqual(['a, "b"', 'two lines'])
  })
  test.each(['=1+1', '+44 20', '-5', '@SUM(A1)', '|cmd', '\t=1', '  =1', '\r=1', '\uff1d1', '=HYPERLINK("https://x","y")', '%0A=1'])('no spreadsheet takes %j for a formula', (name) => {
    const [, [cell]] = rowsOf([name]).rows
    expect(cell.startsWith('\'') || !/^[=+\-@|%\uff1d]/.test(cell)).toBe(true)
    expect(cell.trim()).not.toMatch(/^[=+\-@|%\uff1d]/)
  })
  test('where the semicolon parts cells, nothing inside a cell becomes a formula of its own', () => {
    const { text } = rowsOf([1, 'x;=cmd()', 'y; +1'])
    for (const part of text.slice(1).split(/[;\r\n]/)) expect(part.replace(/^["\s]+/, '')).not.toMatch(/^[=+@]/)
  })
})
