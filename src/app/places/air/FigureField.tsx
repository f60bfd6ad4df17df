import { useEffect, useId, useState } from 'react'
import { flowNumber, parseFlow } from '#commands/typedFlow.ts'

/** A figure that may be left out: then the assumed one stands, and is shown in its place. Enter or leaving the field takes it. */
export function FigureField({ label, unit, value, assumed, onTake, least, most, whole = false, isFlow = unit === 'l/s' }: {
  readonly label: string
  readonly unit: string
  readonly value: number | undefined
  /** what stands when nothing is entered, in words */
  readonly assumed?: string
  /** null: nothing is entered. @returns why it cannot be, or nothing */
  readonly onTake: (value: number | null) => string | undefined
  readonly least?: number
  readonly most?: number
  readonly whole?: boolean
  /** typed as on a meter: l/s, or m3/h with its unit after it */
  readonly isFlow?: boolean
}) {
  const id = useId()
  const written = value === undefined ? '' : isFlow ? flowNumber(value).replace(/\.0$/, '') : String(Math.round(value * 1000) / 1000)
  const [text, setText] = useState(written)
  const [why, setWhy] = useState<string | null>(null)
  useEffect(() => { setText(written) }, [written])
  const take = (): void => {
    if (text.trim() === written) {
      setWhy(null)
      return
    }
    const read = text.trim() === '' ? null : readFigure(text, unit, { least, most, whole, isFlow })
    setWhy(typeof read === 'string' ? read : onTake(read) ?? null)
  }
  return (
    <div className="field">
      <label htmlFor={id}>{label}{unit === '' ? '' : `, ${unit}`}</label>
      <input id={id} inputMode={isFlow ? 'text' : 'decimal'} autoComplete="off" value={text} placeholder={assumed} aria-invalid={why !== null} aria-describedby={why === null ? undefined : `${id}-why`}
        onFocus={(event) => { event.currentTarget.select() }} onChange={(event) => { setText(event.target.value) }} onBlur={take}
        onKeyDown={(event) => {
          if (event.key === 'Enter') take()
          if (event.key !== 'Escape' || text === written) return
          event.stopPropagation()
          setText(written)
          setWhy(null)
        }} />
      {why !== null && <p className="field-why" id={`${id}-why`} role="alert">{why}</p>}
    </div>
  )
}

/** The number, or why it cannot be. */
export function readFigure(text: string, unit: string, { least, most, whole = false, isFlow = false }: { readonly least?: number, readonly most?: number, readonly whole?: boolean, readonly isFlow?: boolean }): number | string {
  if (isFlow) {
    const read = parseFlow(text)
    if (!read.ok) return read.why
    return inside(read.lps, unit, least, most) ?? read.lps
  }
  const plain = text.replace(unit === '' ? /^$/ : unit, '').replace('\u2212', '-').replace(',', '.').trim()
  const number = Number(plain)
  if (plain === '' || !Number.isFinite(number)) return `“${text.trim()}” is no number`
  if (whole && !Number.isInteger(number)) return 'a whole number is wanted'
  return inside(number, unit, least, most) ?? number
}

function inside(value: number, unit: string, least: number | undefined, most: number | undefined): string | undefined {
  const of = (limit: number): string => `${limit}${unit === '' ? '' : ` ${unit}`}`
  if (least !== undefined && value < least) return `it must be at least ${of(least)}`
  return most !== undefined && value > most ? `it can be ${of(most)} at most` : undefined
}
