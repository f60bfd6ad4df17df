import { useEffect } from 'react'
import { pickOut } from '../../desk.ts'
import { countText, mmText } from '../../figures.ts'
import { Field } from '../looking/Field.tsx'
import { useOpen } from '../looking/useChecks.ts'
import { threading } from '../thread/threading.ts'
import { StripPointWork } from './StripPointWork.tsx'
import { followTouches, pointAtStation, unroll, useUnrolled } from './unrolled.ts'
import '../looking/looking.css'
import './strip.css'

/** Beside the strip: which run, and what it passes in order, to be clicked. */
export function UnrollPanel() {
  useOpen('strip')
  useEffect(followTouches, [])
  useEffect(() => () => { threading.setState({ point: null, least: null, said: '' }) }, [])
  const unrolled = useUnrolled()
  if (unrolled === null) return <section className="teach"><h3>Nothing to unroll</h3><p>This job has no runs yet.</p></section>
  const { checks, strip } = unrolled
  const stops = [
    ...strip.crossings.map(({ crossing, joist }) => ({
      stationMm: crossing.stationMm, key: `joist ${crossing.stationMm}`, isBad: (crossing.spareMm ?? -1) < 0,
      words: `${joist.name}${crossing.opening === null ? crossing.hole === null ? ', through no opening' : `, hole ${crossing.hole}` : `, opening ${crossing.opening}`}`,
      more: crossing.spareMm === null ? 'no opening there' : crossing.spareMm < 0 ? `${mmText(-crossing.spareMm)} too little room` : `${mmText(crossing.spareMm)} to spare`,
    })),
    ...strip.bends.map(({ stationMm, turnDeg, radiusMm, leastMm, ok, part }) => ({
      stationMm, key: part.part ?? part.name, isBad: !ok, words: `Bend of ${Math.round(turnDeg)}\u00b0`, more: `radius ${mmText(radiusMm)}, least ${mmText(leastMm)}`,
    })),
    ...strip.near.map(({ stationMm, run, clearanceMm }) => ({
      stationMm, key: `near ${run.id} ${stationMm}`, isBad: clearanceMm < 0, words: `Beside ${run.name}`, more: clearanceMm < 0 ? `overlaps by ${mmText(-clearanceMm)}` : `${mmText(clearanceMm)} clear`,
    })),
  ].sort((a, b) => a.stationMm - b.stationMm)
  return (
    <div className="looking-panel">
      <Field name="Run">{(id) => (
        <select id={id} value={strip.run.id} onChange={(event) => {
          unroll(event.target.value)
          pickOut({ kind: 'run', runId: event.target.value })
        }}>
          {checks.runs.map(({ placed: { run } }) => <option key={run.id} value={run.id}>{run.name}</option>)}
        </select>
      )}</Field>
      <p className="quiet">Or touch a run in the view: the pointer goes where you touch it. It passes {countText(strip.crossings.length, 'joist')} and turns {countText(strip.bends.length, 'time')}.</p>
      <StripPointWork unrolled={unrolled} />
      <ol className="rows" aria-label="What the run passes, in order">
        {stops.map(({ stationMm, key, words, more, isBad }) => (
          <li key={key}>
            <button type="button" className="row" onClick={() => { pointAtStation(stationMm, strip.lengthMm) }}>
              <span className="stop-at">{mmText(Math.round(stationMm))}</span>
              <span className="row-words"><span className="row-title">{words}</span><span className="row-more">{isBad ? <b>{'\u2717'} {more}</b> : more}</span></span>
            </button>
          </li>
        ))}
      </ol>
    </div>
  )
}
