import { useId, useState } from 'react'
import type { KeyboardEvent } from 'react'
import { formatLength, parseLength } from '#commands/typedLength.ts'

/**
 * A length that is typed: taken with Enter or when left, put back with Escape; arrow keys step it by 10 mm, with Alt by 1 mm.
 * @param take says why not, or nothing when it was taken
 */
export function LengthBox({ label, mm, take, note, disabled }: {
  readonly label: string
  /** null: nothing set */
  readonly mm: number | null
  readonly take: (mm: number, options?: { readonly held: boolean }) => string | undefined
  readonly note?: string
  readonly disabled?: boolean
}) {
  const id = useId()
  const [text, setText] = useState<string | null>(null)
  const [why, setWhy] = useState('')
  const settle = (): void => {
    if (text === null) return
    const read = parseLength(text, { negative: true })
    const refused = read.ok ? read.mm === mm ? undefined : take(read.mm) : read.why
    setWhy(refused ?? '')
    if (refused === undefined) setText(null)
  }
  const onKeyDown = (event: KeyboardEvent): void => {
    if (event.key === 'Enter') {
      event.preventDefault()
      settle()
    } else if (event.key === 'Escape' && text !== null) {
      event.stopPropagation()
      setText(null)
      setWhy('')
    } else if ((event.key === 'ArrowUp' || event.key === 'ArrowDown') && mm !== null && text === null) {
      event.preventDefault()
      const step = event.altKey ? 1 : 10
      setWhy(take(mm + (event.key === 'ArrowUp' ? step : -step), { held: event.repeat }) ?? '')
    }
  }
  const told = [note, why].filter(Boolean)
  return (
    <div className="length-box">
      <label htmlFor={id}>{label}</label>
      <input id={id} type="text" inputMode="text" autoComplete="off" disabled={disabled} value={text ?? (mm === null ? '' : formatLength(mm))}
        aria-invalid={why !== ''} aria-describedby={told.length > 0 ? `${id}-note` : undefined}
        onFocus={(event) => { event.target.select() }} onChange={(event) => { setText(event.target.value) }} onBlur={settle} onKeyDown={onKeyDown} />
      {told.length > 0 && <span id={`${id}-note`} className={why === '' ? 'quiet' : 'length-why'}>{told.join(' ')}</span>}
    </div>
  )
}
