import { useEffect, useState } from 'react'
import { readFigure } from './FigureField.tsx'

export interface Column<K extends string> {
  readonly key: K
  readonly label: string
  /** a figure in this unit; words where left out */
  readonly unit?: string
  readonly least?: number
  readonly most?: number
  readonly choices?: readonly { readonly value: string, readonly words: string }[]
}
type Row<K extends string> = { readonly [key in K]: string | number }

/** A short list of figures that is kept whole: a valve's settings, a fan's curve, the parts of a unit. A row counts once all of it is there. */
export function RowsField<K extends string>({ title, one, columns, rows, least = 1, usual, onRows }: {
  readonly title: string
  /** what a row is: 'point' */
  readonly one: string
  readonly columns: readonly Column<K>[]
  readonly rows: readonly Row<K>[]
  /** fewer rows than this are not kept */
  readonly least?: number
  readonly usual?: Partial<Record<K, string>>
  /** null: none. @returns why it cannot be, or nothing */
  readonly onRows: (rows: Row<K>[] | null) => string | undefined
}) {
  const written = JSON.stringify(rows)
  const fromRows = (): string[][] => rows.map((row) => columns.map(({ key }) => String(row[key])))
  const [cells, setCells] = useState(fromRows)
  const [why, setWhy] = useState<string | null>(null)
  useEffect(() => { setCells(fromRows()) }, [written])

  const keep = (now: readonly (readonly string[])[]): void => {
    if (now.length === 0) {
      setWhy(rows.length === 0 ? null : onRows(null) ?? null)
      return
    }
    const read: Row<K>[] = []
    for (const [n, row] of now.entries()) {
      const made = {} as Record<K, string | number>
      for (const [c, { key, label, unit, least: from, most }] of columns.entries()) {
        const text = row[c].trim()
        if (text === '') {
          setWhy(`${one} ${n + 1} is not kept yet: ${label} is missing`)
          return
        }
        const value = unit === undefined ? text : readFigure(text, unit, { least: from, most, isFlow: unit === 'l/s' })
        if (unit !== undefined && typeof value === 'string') {
          setWhy(`${one} ${n + 1}, ${label}: ${value}`)
          return
        }
        made[key] = value
      }
      read.push(made)
    }
    if (read.length < least) {
      setWhy(`at least ${least} are wanted before they count`)
      return
    }
    setWhy(JSON.stringify(read) === written ? null : onRows(read) ?? null)
  }
  const put = (n: number, c: number, text: string): string[][] => cells.map((row, i) => i === n ? row.with(c, text) : row)
  return (
    <fieldset className="air-rows">
      <legend>{title}</legend>
      {cells.map((row, n) => (
        <div key={n} className="air-row-cells" style={{ gridTemplateColumns: `repeat(${columns.length}, minmax(0, 1fr)) auto` }}>
          {columns.map(({ key, label, unit, choices }, c) => {
            const name = `${one} ${n + 1}, ${label}${unit === undefined || unit === '' ? '' : `, ${unit}`}`
            return (
              <div key={key} className="field">
                {n === 0 && <span aria-hidden="true">{label}{unit === undefined || unit === '' ? '' : `, ${unit}`}</span>}
                {choices === undefined
                  ? <input aria-label={name} inputMode={unit === undefined || unit === 'l/s' ? 'text' : 'decimal'} autoComplete="off" value={row[c]} onChange={(event) => { setCells(put(n, c, event.target.value)) }}
                      onBlur={() => { keep(cells) }} onKeyDown={(event) => { if (event.key === 'Enter') keep(cells) }} />
                  : (
                      <select aria-label={name} value={row[c]} onChange={(event) => {
                        const now = put(n, c, event.target.value)
                        setCells(now)
                        keep(now)
                      }}>{choices.map(({ value, words }) => <option key={value} value={value}>{words}</option>)}</select>
                    )}
              </div>
            )
          })}
          <button type="button" className="button button-square" aria-label={`Take away ${one} ${n + 1}`} onClick={() => {
            const now = cells.toSpliced(n, 1)
            setCells(now)
            keep(now)
          }}>{'\u00d7'}</button>
        </div>
      ))}
      {why !== null && <p className="field-why" role="alert">{why}</p>}
      <button type="button" className="button" onClick={() => { setCells([...cells, columns.map(({ key, choices }) => usual?.[key] ?? choices?.[0].value ?? '')]) }}>{cells.length === 0 ? `Enter the first ${one}` : `One more ${one}`}</button>
    </fieldset>
  )
}
