import { useEffect, useId, useState } from 'react'

/** years before this are ones that are still being typed */
const FIRST_DAY = '1900-01-01'

/** A day as the person types or picks it; nothing is taken from a clock. Taken as soon as it is whole: a phone's calendar does not leave the field. */
export function DayField({ label, value, onDay }: { readonly label: string, readonly value: string | undefined, readonly onDay: (day: string | null) => string | undefined }) {
  const id = useId()
  const [text, setText] = useState(value ?? '')
  useEffect(() => { setText(value ?? '') }, [value])
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input id={id} type="date" value={text} onChange={(event) => {
        const day = event.target.value
        setText(day)
        if (day >= FIRST_DAY && day !== value) onDay(day)
      }} onBlur={() => { if (text === '' && value !== undefined) onDay(null) }} />
    </div>
  )
}
