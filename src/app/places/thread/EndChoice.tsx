import type { RunEnd } from '#model/index.ts'
import { Choice } from './Choice.tsx'
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
    <Choice label={label} value={places.some(({ key }) => key === value) ? value : ''} disabled={disabled} onChoose={(chosen) => {
      const place = places.find(({ key }) => key === chosen)
      if (place !== undefined) onChoose(place.end)
    }}>
      {!places.some(({ key }) => key === value) && <option value="">{places.length === 0 ? 'None is free' : empty}</option>}
      {places.map(({ key, name, diameterMm }) => <option key={key} value={key}>{name}, {diameterMm} mm</option>)}
    </Choice>
  )
}
