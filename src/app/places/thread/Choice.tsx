import { useId } from 'react'
import type { ReactNode } from 'react'

/** A list to choose from, under its name. */
export function Choice({ label, value, disabled, onChoose, children }: {
  readonly label: string, readonly value: string | number, readonly disabled?: boolean
  readonly onChoose: (value: string) => void
  /** its options */
  readonly children: ReactNode
}) {
  const id = useId()
  return (
    <div className="thread-choice">
      <label htmlFor={id}>{label}</label>
      <select id={id} value={value} disabled={disabled} onChange={(event) => { onChoose(event.target.value) }}>{children}</select>
    </div>
  )
}
