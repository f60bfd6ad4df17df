import { useMemo } from 'react'
import { countText, mmText } from '../../figures.ts'
import { goToRun } from '../../desk.ts'
import { useBench } from '../../editing/useBench.ts'
import { endPlacesOf } from './ends.ts'
import { startAnew, startAt } from './laying.ts'
import { beginAsking, runsOf } from './ways/ways.ts'

/** Nothing in hand: how it goes, the spigots that wait for a duct, and the runs that can be worked on. */
export function StartHere() {
  const assembly = useBench((now) => now.assembly)
  const findings = useBench((now) => now.verdict?.findings)
  const free = useMemo(() => assembly === null ? [] : endPlacesOf(assembly).filter(({ takenBy }) => takenBy === null), [assembly])
  if (assembly === null) return <p className="teach">Open a job first: its ducts are threaded here.</p>
  const openCount = findings === undefined ? 0 : runsOf('open', null).length
  // after a drag only what it touched, where others wait as well
  const touchedCount = findings === undefined ? 0 : runsOf('touched', null).length, scope = touchedCount > 0 && touchedCount < openCount ? 'touched' : openCount > 0 ? 'open' : 'all'
  return (
    <>
      {assembly.runs.length > 0 && (
        <section className="thread-ways" aria-label="Find the ways">
          <p>{openCount === 0 ? 'Every run lies well, or has advice only.' : `${countText(openCount, 'run has', 'runs have')} something to put right.`} Joistway can look for clear ways itself.</p>
          <button type="button" className={openCount > 0 ? 'button button-strong' : 'button'} onClick={() => { beginAsking(scope) }}>Find the ways…</button>
        </section>
      )}
      <ol className="thread-steps">
        <li><b>Pick a spigot</b>: a yellow ring in the picture, or one from the list.</li>
        <li><b>Tap the openings and bays</b> that the duct passes, in their order. Each says what it takes before you tap it.</li>
        <li><b>Tap where it ends.</b> Legs and bends fill themselves in; what is wrong is drawn and said.</li>
      </ol>
      <h3 id="free-spigots">{free.length === 0 ? 'No spigot is free' : 'Free spigots and sleeves'}</h3>
      {free.length === 0 && <p className="quiet">Every spigot has its duct. Place a plenum or a manifold, or remove a run, to free one.</p>}
      <ul className="thread-rows" aria-labelledby="free-spigots">
        {free.map(({ key, name, diameterMm, end }) => (
          <li key={key}><button type="button" className="button thread-row" onClick={() => { startAt(end, true) }}>{name} <span className="quiet">{mmText(diameterMm)}</span></button></li>
        ))}
      </ul>
      {assembly.runs.length > 0 && (
        <>
          <h3 id="runs-to-work-on">Or work on a run</h3>
          <p className="quiet">Pull its points, set its bends, lock, reverse or copy it; or thread it anew through other openings.</p>
          <ul className="thread-rows" aria-labelledby="runs-to-work-on">
            {assembly.runs.map(({ run }) => (
              <li key={run.id} className="thread-row-pair">
                <button type="button" className="button thread-row" onClick={() => { goToRun(run.id) }}>{run.name}{run.locked === true && <span className="quiet"> locked</span>}</button>
                <button type="button" className="button" aria-label={`Thread ${run.name} anew`} onClick={() => { startAnew(run.id) }}>Anew</button>
              </li>
            ))}
          </ul>
        </>
      )}
    </>
  )
}
