/** Plain tables for a terminal: numbers to the right, words to the left, two spaces between. */

/** @param right which columns hold numbers */
export function table(head: readonly string[], rows: readonly (readonly string[])[], right: readonly number[] = []): string {
  const widths = head.map((title, c) => Math.max(title.length, ...rows.map((row) => row[c].length)))
  const line = (row: readonly string[]) =>
    row.map((cell, c) => (right.includes(c) ? cell.padStart(widths[c]) : cell.padEnd(widths[c]))).join('  ').trimEnd()
  return [line(head), widths.map((w) => '-'.repeat(w)).join('  '), ...rows.map(line)].join('\n')
}

/** one decimal, never '-0.0'; '-' where there is none */
export function mm(value: number | null): string {
  if (value === null || !Number.isFinite(value)) return '-'
  const text = value.toFixed(1)
  return text === '-0.0' ? '0.0' : text
}
