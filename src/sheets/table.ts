/** A schedule as data: what a sheet prints and a CSV file holds. */

export type Cell = string | number | null

export interface Column {
  /** with its unit: 'Length mm' */
  readonly name: string
  /** decimals of its numbers; when left out 0 for lengths and levels, 1 for spares, diameters and what is not in mm */
  readonly decimals?: number
}

export interface Table {
  /** names its files: letters, digits and hyphens */
  readonly id: string
  readonly title: string
  /** how the figures were come by, for whoever has only this page */
  readonly notes: readonly string[]
  readonly columns: readonly Column[]
  readonly rows: readonly (readonly Cell[])[]
  /** rows of the CSV file, where a cell on paper is more than one figure */
  readonly fileRows?: readonly (readonly Cell[])[]
}

export function decimalsOf({ name, decimals }: Column): number {
  return decimals ?? (/\bmm$/.test(name) && !/\bdia\b|\bspare\b/i.test(name) ? 0 : 1)
}

/** As printed: no grouping, never '-0'. */
export function cellWords(cell: Cell, decimals = 1): string {
  if (cell === null) return ''
  if (typeof cell === 'string') return cell
  if (!Number.isFinite(cell)) return ''
  const words = cell.toFixed(decimals)
  return Number(words) === 0 ? (0).toFixed(decimals) : words
}

export const rounded = (value: number, decimals = 1): number => Math.round(value * 10 ** decimals) / 10 ** decimals + 0
