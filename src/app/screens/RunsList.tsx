import { useEffect, useMemo, useState } from 'react'
import type { RunVerdict, Verdict } from '#routing/verdict.ts'
import type { Assembly } from '#assembly/assembly.ts'
import { AIR, airOf } from '#scene/air.ts'
import { SeverityMark } from './SeverityMark.tsx'
import { useListKeys } from './useListKeys.ts'
import { goToRun } from '../desk.ts'
import { countText, lengthText, mmText } from '../figures.ts'
import { runsLeft } from '../filtering.ts'
import { useDesk } from '../useDesk.ts'
import { RUN_STATE_WORDS } from '../words.ts'

/** Rows put on the page at a time. */
const AT_A_TIME = 100

/** Every run with its state, and how much larger it could be. */
export function RunsList({ verdict }: { readonly verdict: Verdict }) {
  const search = useDesk((desk) => desk.search)
  const selection = useDesk((desk) => desk.selection)
  const assembly = useDesk((desk) => desk.open?.assembly)
  const chosenId = selection?.kind === 'run' ? selection.runId : null
  const left = useMemo(() => runsLeft(verdict.runs, search), [verdict, search])
  const [most, setMost] = useState(AT_A_TIME)
  // the one that is picked out is always among them
  const rows = left.slice(0, Math.max(most, left.findIndex(({ runId }) => runId === chosenId) + 1))
  const keys = useListKeys(rows.length)
  useEffect(() => {
    if (chosenId !== null) keys.list.current?.querySelector(`[aria-current="true"]`)?.scrollIntoView({ block: 'nearest' })
  }, [chosenId, keys.list])

  if (verdict.runs.length === 0) {
    return (
      <div className="teach">
        <h3>No runs in this job</h3>
        <p>A run is one duct from one spigot to another: its type, where it starts and ends, and the points that it turns at. Add runs to the file, and open it again.</p>
      </div>
    )
  }
  return (
    <>
      {left.length === 0 && <p className="teach">No run has those words. Try its number, or a joist that it touches.</p>}
      <ul ref={keys.list} className="rows" aria-label="Runs" onKeyDown={keys.onKeyDown}>
        {rows.map((run, n) => (
          <li key={run.runId}>
            <button type="button" className="row" tabIndex={keys.tabIndexOf(n)} onFocus={keys.onFocusOf(n)} aria-current={run.runId === chosenId}
              data-run={run.runId} onClick={() => { goToRun(run.runId) }}>
              {run.state === 'clear' ? <ClearMark /> : <SeverityMark severity={run.state} />}
              <span className="row-words">
                <span className="row-title">{run.name}{assembly !== undefined && <AirLetters assembly={assembly} runId={run.runId} />}</span>
                <span className="row-more"><b>{RUN_STATE_WORDS[run.state]}</b> · {mmText(run.outerDiameterMm)} across, {lengthText(run.lengthMm)}, {countText(run.bendCount, 'bend')}</span>
                <span className="row-more">{trialWords(run)}</span>
              </span>
            </button>
          </li>
        ))}
      </ul>
      {left.length > rows.length && <button type="button" className="button more" onClick={() => { setMost(rows.length + AT_A_TIME) }}>Show {Math.min(AT_A_TIME, left.length - rows.length)} more of {left.length}</button>}
    </>
  )
}

function trialWords({ touchesFirst, trialDiameterMm, outerDiameterMm }: RunVerdict): string {
  if (touchesFirst === null || trialDiameterMm === null) return 'Nothing is near enough to touch'
  const spare = trialDiameterMm - outerDiameterMm
  return spare < 0 ? trialDiameterMm > 0 ? `Only ${mmText(trialDiameterMm)} goes past ${touchesFirst.name}` : `Runs right into ${touchesFirst.name}`
    : `Takes up to ${mmText(trialDiameterMm)}, then touches ${touchesFirst.name}`
}

function AirLetters({ assembly, runId }: { readonly assembly: Assembly, readonly runId: string }) {
  const placed = assembly.runs.find(({ run }) => run.id === runId)
  const air = placed === undefined ? undefined : airOf(placed)
  return air === undefined ? null : <span className="air" title={AIR[air].words} style={{ borderColor: AIR[air].colour }}>{AIR[air].letters}</span>
}

/** A tick: it goes in. */
function ClearMark() {
  return (
    <svg className="mark" width="34" height="34" viewBox="-1.2 -1.2 2.4 2.4" aria-hidden="true">
      <path d="M-0.7 0.05 -0.15 0.6 0.8 -0.6" fill="none" stroke="currentColor" strokeWidth="0.26" />
    </svg>
  )
}
