import { useEffect } from 'react'
import { OPENING_STEPS, stepWords } from '#scene/openingSteps.ts'
import { capital } from '../../facts.ts'
import { countText, mmText } from '../../figures.ts'
import { Field } from '../looking/Field.tsx'
import { TypedLength } from '../looking/TypedLength.tsx'
import { useOpen } from '../looking/useChecks.ts'
import { useViewing, viewing } from '../looking/viewing.ts'
import { ductWords } from './JoistDrawing.tsx'
import { countByJoist, followTouches, goToOpening, showJoist, sizeOpenings, stopSizing, useJoist, useOpeningSizes, useSizing } from './joistShown.ts'
import { datumEndOf } from '#checks/joistPlace.ts'
import type { ShownJoist } from './joistShown.ts'
import './joist.css'

/** Largest sizes are told to the tenth below, so that nothing is promised that does not go in. */
const floorText = (mm: number): string => mmText(Math.floor(mm * 10 + 1e-6) / 10)

/** Beside the elevation: which joist, what size goes where, and the openings in words. */
export function JoistPanel() {
  useOpen('joist')
  useEffect(followTouches, [])
  const shown = useJoist()
  const wantedMm = useViewing((now) => now.wantedMm)
  const growMm = useViewing((now) => now.joistGrowMm)
  const tints = useViewing((now) => now.tintsOpenings)
  if (shown === null) return <section className="teach"><h3>No joists to look at</h3><p>This job has no joists yet.</p></section>
  return (
    <div className="looking-panel">
      <Field name="Joist">{(id) => (
        <select id={id} value={shown.elevation.joist.id} onChange={(event) => { showJoist(event.target.value) }}>
          {shown.checks.assembly.joists.map(({ id: joistId, name }) => <option key={joistId} value={joistId}>{capital(name)}</option>)}
        </select>
      )}</Field>
      <p className="quiet">Or touch a joist in the view. Page Down and Page Up go to the next and the one before.</p>
      <div className="looking-pair">
        <TypedLength label="Where can this size go?" valueMm={wantedMm} emptyAs={null} onMm={(mm) => { viewing.setState({ wantedMm: mm }) }} />
        <TypedLength label="Try its ducts larger by" valueMm={growMm} negative onMm={(mm) => { viewing.setState({ joistGrowMm: mm ?? 0 }) }} />
      </div>
      <label className="looking-tick"><input type="checkbox" checked={tints} onChange={(event) => { viewing.setState({ tintsOpenings: event.target.checked }) }} /> Colour the openings in the view</label>
      <SizingWork />
      <Legend wantedMm={wantedMm} />
      {wantedMm !== null && <WhereItGoes wantedMm={wantedMm} />}
      <Openings shown={shown} growMm={growMm} wantedMm={wantedMm} />
    </div>
  )
}

/** How far the openings of a large job have been measured, with a way to stop. */
function SizingWork() {
  const work = useSizing()
  // what is over within a slice is not worth a word
  if (work === null || (!work.isStopped && work.doneRatio === 0)) return null
  if (work.isStopped) {
    return (
      <div className="looking-buttons" role="status">
        <p className="quiet">Measuring was stopped: openings are not coloured.</p>
        <button type="button" className="button" onClick={() => { if (work.checks !== null) void sizeOpenings(work.checks) }}>Measure them now</button>
      </div>
    )
  }
  return (
    <div className="looking-work" role="status">
      <p>Measuring every opening… <span className="quiet">{Math.round(work.doneRatio * 100)} % done</span></p>
      <progress max={1} value={work.doneRatio} aria-label="Measuring every opening" />
      <button type="button" className="button" onClick={stopSizing}>Stop</button>
    </div>
  )
}

function Legend({ wantedMm }: { readonly wantedMm: number | null }) {
  return (
    <ul className="steps" aria-label="Colours: the largest duct that an opening takes, straight through">
      {OPENING_STEPS.map(({ fromMm, colour, ink }, step) => {
        const next = OPENING_STEPS[step + 1]?.fromMm ?? Infinity
        return <li key={fromMm} style={{ background: colour, color: ink }} className={wantedMm !== null && next <= wantedMm ? 'step-out' : ''}>{stepWords(step)}</li>
      })}
    </ul>
  )
}

function WhereItGoes({ wantedMm }: { readonly wantedMm: number }) {
  const sizes = useOpeningSizes()
  if (sizes === null) return null
  const counts = countByJoist(sizes.checks, sizes.all, wantedMm)
  const take = counts.reduce((sum, one) => sum + one.take, 0), free = counts.reduce((sum, one) => sum + one.free, 0)
  return (
    <div>
      <div role="status"><h3 className="looking-title">{mmText(wantedMm)} goes through {countText(take, 'opening')}; {free} of them {free === 1 ? 'is' : 'are'} free for it now</h3></div>
      <ul className="counts">
        {counts.map(({ joistId, name, take: takes, free: isFree }) => (
          <li key={joistId}><button type="button" className="count" onClick={() => { showJoist(joistId) }}><span>{capital(name)}</span> <b>{takes === 0 ? 'none' : takes}</b>{takes > 0 && ` (${isFree} free)`}</button></li>
        ))}
      </ul>
    </div>
  )
}

function Openings({ shown: { checks, joistIndex, elevation }, growMm, wantedMm }: { readonly shown: ShownJoist, readonly growMm: number, readonly wantedMm: number | null }) {
  const { openings, ducts, holes } = elevation
  const stray = ducts.filter(({ crossing }) => crossing.opening === null)
  return (
    <>
      <h3 className="looking-title">{openings.length === 0 ? 'No openings: a solid joist' : `Openings from the datum end (${datumEndOf(checks.assembly.joists[joistIndex])})`}</h3>
      <ol className="rows" aria-label={`Openings of ${elevation.joist.name}`}>
        {openings.map(({ number, x, y, largestMm, roomLeftMm }) => (
          <li key={number}>
            <button type="button" className="row" data-opening-row={number} onClick={() => { goToOpening(checks, joistIndex, number, x, y) }}>
              <span className="stop-at">no. {number}</span>
              <span className="row-words">
                <span className="row-title">{floorText(largestMm)}{wantedMm !== null && (largestMm >= wantedMm - 1e-6 ? ` \u2713 takes ${mmText(wantedMm)}` : ` \u2717 too small`)}</span>
                <span className="row-more">Middle {mmText(x)} from the datum end{roomLeftMm < largestMm && `; ${floorText(roomLeftMm)} beside what passes`}</span>
                {ducts.filter(({ crossing }) => crossing.opening === number).map((duct) => <DuctLine key={duct.run.id} duct={duct} growMm={growMm} />)}
              </span>
            </button>
          </li>
        ))}
        {stray.map((duct) => (
          <li key={`${duct.run.id}-${duct.crossing.stationMm}`} className="stray"><DuctLine duct={duct} growMm={growMm} /></li>
        ))}
        {holes.map(({ id, x, radiusMm }) => <li key={id} className="stray">Hole {id}: {mmText(2 * radiusMm)} across, middle {mmText(x)} from the datum end</li>)}
      </ol>
    </>
  )
}

function DuctLine({ duct, growMm }: { readonly duct: ShownJoist['elevation']['ducts'][number], readonly growMm: number }) {
  const isBad = growMm === 0 ? (duct.spareMm ?? -1) < 0 : !duct.fitsGrown
  return <span className="row-more" data-duct={duct.run.id} data-spare={duct.spareMm ?? ''}>{isBad ? '\u2717' : '\u2713'} <b>{duct.run.name}</b>: {ductWords(duct, growMm)}</span>
}
