import type { RunEnd } from '#model/index.ts'
import type { EndPlace } from './ends.ts'

/** A spigot or sleeve from a list. */
export function EndChoice({ label, empty, places, value, disabled, onChoose }: {
  readonly label: string, readonly empty: string, readonly places: readonly EndPlace[]
  /** key of the chosen one, '' for none */
  readonly value: string
  readonly disabled?: boolean
  readonly onChoose: (end: RunEnd) => void
}) {
  return (
    <label className="thread-choice">
      <span>{label}</span>
      <select value={places.some(({ key }) => key === value) ? value : ''} disabled={disabled} onChange={(event) => {
        const place = places.find(({ key }) => key === event.target.value)
        if (place !== undefined) onChoose(place.end)
      }}>
        <option value="">{places.length === 0 ? 'None is free' : empty}</option>
        {places.map(({ key, name, diameterMm }) => <option key={key} value={key}>{name}, {diameterMm} mm</option>)}
      </select>
    </label>
  )
}
