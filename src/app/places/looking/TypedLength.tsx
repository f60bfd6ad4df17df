import { useId, useState } from 'react'
import { formatLength, parseLength } from '#commands/typedLength.ts'

/** A length that is typed: taken with Enter or on leaving, and told why when it cannot be read. */
export function TypedLength({ label, valueMm, negative = false, emptyAs, onMm }: {
  readonly label: string, readonly valueMm: number | null, readonly negative?: boolean
  /** what an empty field means; refused when left out */
  readonly emptyAs?: null
  readonly onMm: (mm: number | null) => void
}) {
  const id = useId()
  const [text, setText] = useState<string | null>(null)
  const [why, setWhy] = useState<string | null>(null)
  const shown = text ?? (valueMm === null ? '' : formatLength(valueMm))
  const take = (): void => {
    if (text === null) return
    if (text.trim() === '' && emptyAs === null) {
      onMm(null)
      setText(null)
      setWhy(null)
      return
    }
    const read = parseLength(text, { negative })
    setWhy(read.ok ? null : read.why)
    if (!read.ok) return
    setText(null)
    onMm(read.mm)
  }
  return (
    <div className="looking-field">
      <label htmlFor={id}>{label}</label>
      <input id={id} type="text" inputMode="text" autoComplete="off" value={shown} aria-invalid={why !== null} aria-describedby={why === null ? undefined : `${id}-why`}
        onChange={(event) => { setText(event.target.value) }} onBlur={take}
        onKeyDown={(event) => {
          if (event.key === 'Enter') take()
          if (event.key !== 'Escape' || text === null) return
          event.stopPropagation()
          setText(null)
          setWhy(null)
        }} />
      {why !== null && <p id={`${id}-why`} className="looking-why" role="alert">{why}</p>}
    </div>
  )
}
