import { airView, useAirView, type AirView } from './airView.ts'
import { TINT_STEPS } from './runTints.ts'

/** Colours the runs in the view, and says what the colours stand for. */
export function TintChoice({ tint }: { readonly tint: Exclude<AirView['tint'], 'none'> }) {
  const isOn = useAirView((view) => view.tint === tint)
  return (
    <>
      <label className="tick"><input type="checkbox" checked={isOn} onChange={(event) => { airView.setState({ tint: event.target.checked ? tint : 'none' }) }} />
        <span>{tint === 'speed' ? 'Colour the runs in the view by how fast the air goes' : 'Colour the runs in the view by their part of what the fan must give'}</span></label>
      {isOn && <ul className="air-key-steps" aria-label="What the colours of the runs stand for">{TINT_STEPS[tint].map(({ from, words, colour, ink }) => <li key={from} style={{ background: colour, color: ink }}>{words}</li>)}</ul>}
    </>
  )
}
