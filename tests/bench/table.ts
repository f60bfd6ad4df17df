/** Plain tables for the console, and the same figures kept for the JSON file. */
export type Cell = string | number

export interface Table {
  readonly title: string
  readonly head: readonly string[]
  readonly rows: readonly (readonly Cell[])[]
  /** remarks below the table */
  readonly notes?: readonly string[]
}

export function printed({ title, head, rows, notes = [] }: Table): string {
  const cells = [head, ...rows.map((row) => row.map(shown))]
  const widths = head.map((_, k) => Math.max(...cells.map((row) => row[k]?.length ?? 0)))
  const lines = cells.map((row) => row.map((cell, k) => k === 0 ? cell.padEnd(widths[k]) : cell.padStart(widths[k])).join('  ').trimEnd())
  return [title, '-'.repeat(title.length), ...lines, ...notes.map((note) => `  ${note}`), ''].join('\n')
}

/** Three figures that say something. */
export function shown(value: Cell): string {
  if (typeof value === 'string') return value
  if (Number.isInteger(value)) return String(value)
  if (!Number.isFinite(value)) return '-'
  const size = Math.abs(value)
  return size >= 100 ? value.toFixed(0) : size >= 1e-3 ? String(Number(value.toPrecision(3))) : value.toExponential(1)
}
