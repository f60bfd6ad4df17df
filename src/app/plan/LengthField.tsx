import { useEffect, useId, useRef, useState } from 'react'
import type { KeyboardEvent } from 'react'
import { formatLength, parseLength } from '#commands/typedLength.ts'

/** A length to be typed as it is read off the tape; Enter or leaving the field takes it. Up and down change it by 10 mm, with Alt by 1. */
export function LengthField({ label, valueMm, onType, negative = false, zero = negative, autoFocus = false }: {
  readonly label: string
  readonly valueMm: number
  /** @returns why it cannot be, or nothing */
  readonly onType: (mm: number, isHeld: boolean) => string | void
  readonly negative?: boolean
  readonly zero?: boolean
  readonly autoFocus?: boolean
}) {
  const id = useId()
  const written = formatLength(valueMm)
  const [text, setText] = useState(written)
  const [why, setWhy] = useState<string | null>(null)
  const isTyping = useRef(false)
  useEffect(() => { if (!isTyping.current) setText(written) }, [written])

  const take = (): void => {
    isTyping.current = false
    if (text === written) return
    const read = parseLength(text, { negative })
    if (!read.ok) setWhy(read.why)
    else if (!zero && read.mm === 0) setWhy('it must be more than 0')
    else if (Math.abs(read.mm - valueMm) < 1e-9) {
      setWhy(null)
      setText(written)
    } else {
      const refused = onType(read.mm, false) ?? null
      setWhy(refused)
      if (refused === null) setText(formatLength(read.mm))
    }
  }
  const onKeyDown = (event: KeyboardEvent<HTMLInputElement>): void => {
    if (event.key === 'Enter') {
      take()
      event.currentTarget.select()
    } else if (event.key === 'Escape') {
      isTyping.current = false
      setText(written)
      setWhy(null)
      event.stopPropagation()
    } else if ((event.key === 'ArrowUp' || event.key === 'ArrowDown') && !isTyping.current) {
      event.preventDefault()
      const mm = valueMm + (event.key === 'ArrowUp' ? 1 : -1) * (event.altKey ? 1 : 10)
      if (negative || mm > 0 || (zero && mm === 0)) setWhy(onType(mm, event.repeat) ?? null)
    }
  }
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input id={id} inputMode="decimal" autoComplete="off" autoFocus={autoFocus} value={text} aria-invalid={why !== null} aria-describedby={why === null ? undefined : `${id}-why`}
        onFocus={event => { event.currentTarget.select() }}
        onChange={(event) => {
          isTyping.current = true
          setText(event.target.value)
        }} onBlur={take} onKeyDown={onKeyDown} />
      {why !== null && <p className="field-why" id={`${id}-why`} role="alert">{why}</p>}
    </div>
  )
}
