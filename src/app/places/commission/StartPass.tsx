import { useState } from 'react'
import { TOLERANCE_NOTE } from '#air/wording.ts'
import { FAN_SPEEDS, type FanSpeed } from '#model/index.ts'
import { bench } from '../../editing/theBench.ts'
import { tried } from '../../plan/picked/tried.ts'
import { FigureField } from '../air/FigureField.tsx'
import { nextPass, type Round } from './rounds.ts'
import { inHand } from './useRound.ts'

/** Before a pass: at which speed, by whom, on which day, and how far off a reading may be. */
export function StartPass({ now }: { readonly now: Round }) {
  const { rounds, round, record } = now
  const [speed, setSpeed] = useState<FanSpeed>(round?.round.speed ?? 'normal')
  const [by, setBy] = useState(round?.round.by ?? '')
  const [day, setDay] = useState(round?.round.day ?? '')
  return (
    <section className="cm-card" aria-label="Start a pass">
      <h3>{rounds.length === 0 ? 'Before the first reading' : `Pass ${rounds.length} has ended`}</h3>
      {rounds.length === 0 && (
        <ol className="cm-before">
          <li>Filters in and clean, windows and doors closed, every duct connected.</li>
          <li>Valves at their first settings (“Air”, Balance); the unit at the speed to be measured.</li>
          <li>Isolate before opening the unit; a platform, not a chair, under high terminals.</li>
        </ol>
      )}
      <div className="cm-units cm-speeds" role="group" aria-label="Speed to be measured">
        {FAN_SPEEDS.map((one) => <button key={one} type="button" className="button" aria-pressed={speed === one} onClick={() => { setSpeed(one) }}>{one}</button>)}
      </div>
      <div className="fields">
        <FigureField label="Tolerance on each terminal" unit="%" value={record?.tolerancePercent} least={0} most={100} assumed="yours to name" onTake={(tolerancePercent) => tried({ do: 'edit-record', set: { tolerancePercent } })} />
        <div className="field"><label htmlFor="cm-by">Who holds the meter</label><input id="cm-by" autoComplete="name" value={by} onChange={(event) => { setBy(event.target.value) }} /></div>
        <div className="field"><label htmlFor="cm-day">Day</label><input id="cm-day" type="date" value={day} onChange={(event) => { setDay(event.target.value) }} /></div>
      </div>
      <p className="quiet">{TOLERANCE_NOTE}</p>
      <div className="cm-steps">
        <button type="button" className="button button-strong" onClick={() => {
          inHand.setState({ picked: null, said: '' })
          bench.perform(nextPass(now, speed, { day: day === '' ? undefined : day, by: by.trim() === '' ? undefined : by.trim() }))
        }}>Start pass {rounds.length + 1}</button>
        {rounds.length > 0 && <button type="button" className="button" onClick={() => { bench.perform({ do: 'edit-pass', pass: rounds.length - 1, set: { ended: null } }) }}>Open pass {rounds.length} again</button>}
      </div>
    </section>
  )
}
