import { useMemo } from 'react'
import { useBench } from '../../../editing/useBench.ts'
import { countText } from '../../../figures.ts'
import { HeldHeading } from './HeldHeading.tsx'
import { giveWaysUp, lookFor, runsOf, wishFor, type Scope, type Wish } from './ways.ts'

/** Which runs, and what may be changed for them. */
export function AskForWays({ wish }: { readonly wish: Wish }) {
  const history = useBench((now) => now.history)
  const findings = useBench((now) => now.verdict?.findings)
  const { scope, runId, ports, kept } = wish
  const scopes = useMemo(() => {
    const one = history?.present.runs.find(({ id }) => id === runId)
    const last = history?.past.at(-1)
    const all: { readonly scope: Scope, readonly words: string, readonly runs: readonly string[] }[] = [
      { scope: 'open', words: 'Runs with something to put right', runs: runsOf('open', runId) },
      { scope: 'touched', words: last === undefined ? 'Those of them that the last change touched' : `Those of them that the last change touched (${last.label})`, runs: runsOf('touched', runId) },
      { scope: 'all', words: 'Every run that is not locked', runs: runsOf('all', runId) },
    ]
    return one === undefined ? all : [{ scope: 'one' as const, words: `${one.name} alone`, runs: runsOf('one', runId) }, ...all]
    // runsOf reads the bench: what it reads is named here
  }, [history, findings, runId])
  const inScope = scopes.find((one) => one.scope === scope)?.runs ?? []
  const asked = inScope.filter((id) => !kept.has(id))
  const names = new Map<string, string>(history?.present.runs.map(({ id, name }) => [id, name]))
  const keep = (id: string, isKept: boolean): void => {
    const next = new Set(kept)
    if (isKept) next.add(id)
    else next.delete(id)
    wishFor({ kept: next })
  }
  return (
    <section className="ways" aria-label="Find the ways">
      <HeldHeading>Find the ways</HeldHeading>
      <p className="quiet">Joistway looks for a clear way for each run. You see what would change before anything does.</p>
      <fieldset className="ways-choices">
        <legend>For which runs</legend>
        {scopes.map(({ scope: each, words, runs }) => (
          <label key={each} className="ways-choice">
            <input type="radio" name="ways-scope" checked={each === scope} disabled={runs.length === 0} onChange={() => { wishFor({ scope: each }) }} />
            <span>{words}<span className="quiet">{each === 'one' ? runs.length === 0 ? ': it is locked' : '' : `: ${runs.length === 0 ? 'none' : runs.length}`}</span></span>
          </label>
        ))}
      </fieldset>
      <fieldset className="ways-choices">
        <legend>Spigots of the manifolds</legend>
        <label className="ways-choice">
          <input type="radio" name="ways-ports" checked={ports === 'chosen'} onChange={() => { wishFor({ ports: 'chosen' }) }} />
          <span>May be swapped, so that the ducts fan out</span>
        </label>
        <label className="ways-choice">
          <input type="radio" name="ways-ports" checked={ports === 'kept'} onChange={() => { wishFor({ ports: 'kept' }) }} />
          <span>Each run keeps its own</span>
        </label>
      </fieldset>
      {inScope.length > 1 && (
        <details className="thread-more">
          <summary>Keep some of them as they lie{kept.size === 0 ? '' : `: ${inScope.length - asked.length}`}</summary>
          <div className="ways-choices" role="group" aria-label="Runs to keep as they lie">
            {inScope.map((id) => (
              <label key={id} className="ways-choice">
                <input type="checkbox" checked={kept.has(id)} onChange={(event) => { keep(id, event.target.checked) }} />
                <span>{names.get(id)}</span>
              </label>
            ))}
          </div>
        </details>
      )}
      {inScope.length === 0 && <p className="thread-good">{scope === 'open' ? 'No run has anything to put right.' : 'There is no run to look for here.'}</p>}
      <div className="thread-buttons">
        <button type="button" className="button button-strong" disabled={asked.length === 0} onClick={() => { lookFor(wish) }}>
          {asked.length === 0 ? 'Find the ways' : asked.length === 1 ? `Find the way of ${names.get(asked[0])}` : `Find the ways of ${countText(asked.length, 'run')}`}
        </button>
        <button type="button" className="button" onClick={giveWaysUp}>Back</button>
      </div>
      <p className="quiet">Locked runs are never moved, and everything else in the void stays where it is.</p>
    </section>
  )
}
