/** Fields that are no lengths: words, a number without a unit or in degrees, one of several, yes or no. */
import { useEffect, useId, useState } from 'react'
import type { Choice } from './tool.ts'

export function TextField({ label, value, onType }: { readonly label: string, readonly value: string, readonly onType: (text: string) => void }) {
  const id = useId()
  const [text, setText] = useState(value)
  useEffect(() => { setText(value) }, [value])
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input id={id} autoComplete="off" value={text} onChange={(event) => { setText(event.target.value) }}
        onBlur={() => { if (text !== value) onType(text) }} onKeyDown={(event) => { if (event.key === 'Enter' && text !== value) onType(text) }} />
    </div>
  )
}

/** @param unit stands after the number: '°'; nothing for a count */
export function NumberField({ label, value, unit = '', least, most, onType }: {
  readonly label: string, readonly value: number, readonly unit?: string, readonly least: number, readonly most: number, readonly onType: (value: number) => void
}) {
  const id = useId()
  const written = `${Math.round(value * 100) / 100}${unit}`
  const [text, setText] = useState(written)
  const [why, setWhy] = useState<string | null>(null)
  useEffect(() => { setText(written) }, [written])
  const take = (): void => {
    if (text === written) return
    const number = Number(text.replace(unit, '').replace('\u2212', '-').replace(',', '.').trim())
    const isGood = text.trim() !== '' && Number.isFinite(number) && number >= least && number <= most && (unit !== '' || Number.isInteger(number))
    setWhy(isGood ? null : `${unit === '' ? 'a whole number' : 'degrees'} from ${least} to ${most}`)
    if (isGood) onType(number)
  }
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input id={id} inputMode="decimal" autoComplete="off" value={text} aria-invalid={why !== null} aria-describedby={why === null ? undefined : `${id}-why`} onFocus={(event) => { event.currentTarget.select() }}
        onChange={(event) => { setText(event.target.value) }} onBlur={take} onKeyDown={(event) => { if (event.key === 'Enter') take() }} />
      {why !== null && <p className="field-why" id={`${id}-why`} role="alert">{why}</p>}
    </div>
  )
}

export function ChoiceField({ label, value, choices, onChoose }: { readonly label: string, readonly value: string, readonly choices: readonly Choice[], readonly onChoose: (value: string) => void }) {
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => { onChoose(event.target.value) }}>
        {choices.map(choice => <option key={choice.value} value={choice.value}>{choice.words}</option>)}
      </select>
    </div>
  )
}

export function TickField({ label, isOn, onTick }: { readonly label: string, readonly isOn: boolean, readonly onTick: (isOn: boolean) => void }) {
  return (
    <label className="tick">
      <input type="checkbox" checked={isOn} onChange={(event) => { onTick(event.target.checked) }} />
      <span>{label}</span>
    </label>
  )
}
