import { useId } from 'react'

/** A day as the person types it; nothing is taken from a clock. */
export function DayField({ label, value, onDay }: { readonly label: string, readonly value: string | undefined, readonly onDay: (day: string | null) => string | undefined }) {
  const id = useId()
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input id={id} key={value ?? ''} type="date" defaultValue={value ?? ''} onBlur={(event) => {
        const day = event.target.value
        if (day !== (value ?? '')) onDay(day === '' ? null : day)
      }} />
    </div>
  )
}
