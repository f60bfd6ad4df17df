import { useRef } from 'react'
import type { RunChange } from '#sheets/revisions/compareJobs.ts'
import { boundsOver } from '#scene/frame.ts'
import { showVoid, turnTo } from '../../desk.ts'
import { countText, mmText } from '../../figures.ts'
import { compareWith, handOver, sheets, useSheets } from './sheetsShown.ts'

/** What is other than in an older file: as a list, and each changed run in the void as it was and as it is. */
export function Compare({ busy }: { readonly busy: boolean }) {
  const compared = useSheets((now) => now.compared)
  const changedId = useSheets((now) => now.changedId)
  const picker = useRef<HTMLInputElement>(null)
  return (
    <section className="sheets-part" aria-label="Changes">
      <h3>What changed</h3>
      <p className="quiet">Pick an older file of this job to see which runs moved, and which sheets to print again.</p>
      <div className="sheets-buttons">
        <button type="button" className="button" disabled={busy} onClick={() => { picker.current?.click() }}>Compare with an older file</button>
        <input ref={picker} type="file" accept=".json,application/json" hidden aria-label="Older file to compare with" className="older-file" onChange={(event) => {
          const file = event.target.files?.[0]
          event.target.value = ''
          if (file !== undefined) void compareWith(file)
        }} />
        {compared !== null && <button type="button" className="button" disabled={busy} onClick={() => { void handOver({ kind: 'changes' }, 'The list of changes') }}>Changes as PDF</button>}
      </div>
      {compared !== null && (
        <>
          <p role="status"><b>{headline(compared.revision.runs.length, compared.revision.things.length)}</b> since {compared.fileName}.</p>
          <ul className="sheets-list">
            {compared.revision.runs.map((change) => (
              <li key={`${change.what} ${change.id}`}>
                <button type="button" className="sheets-row" aria-current={change.id === changedId ? 'true' : undefined} onClick={() => { look(change) }}>
                  <b>{change.name}</b><span>{changeWords(change)}</span>
                </button>
              </li>
            ))}
          </ul>
          {changedId !== null && <p className="sheets-now">In the void: yellow as it is now, white as it was.</p>}
          <Again />
        </>
      )}
    </section>
  )
}

function Again() {
  const reprint = useSheets((now) => now.compared?.revision.reprint ?? [])
  const again = reprint.filter(({ what }) => what !== 'gone'), gone = reprint.filter(({ what }) => what === 'gone')
  if (reprint.length === 0) return <p>No sheet has to be printed again.</p>
  return (
    <>
      {again.length > 0 && <><h4>Print again</h4><ul className="sheets-plain">{again.map(({ booklet, id, title }) => <li key={`${booklet} ${id}`}>{title}</li>)}</ul></>}
      {gone.length > 0 && <><h4>Throw away</h4><ul className="sheets-plain">{gone.map(({ booklet, id, title }) => <li key={`${booklet} ${id}`}>{title}</li>)}</ul></>}
    </>
  )
}

function headline(runs: number, things: number): string {
  if (runs + things === 0) return 'Nothing changed'
  return [...runs > 0 ? [countText(runs, 'run')] : [], ...things > 0 ? [countText(things, 'other thing')] : []].join(' and ') + ' changed'
}

function changeWords({ what, moved, longerMm, words }: RunChange): string {
  if (what !== 'changed') return what === 'new' ? 'new' : 'gone'
  return [...moved === null ? [] : [`moved ${mmText(moved.mm)}`], ...Math.abs(longerMm) < 0.5 ? [] : [`${mmText(Math.abs(longerMm))} ${longerMm > 0 ? 'longer' : 'shorter'}`], ...words].join(', ')
}

/** Shows a run in the void as it was and as it is, from where all of both is seen. */
function look({ id }: RunChange): void {
  sheets.setState({ changedId: id })
  showVoid(true)
  const { compared } = sheets.getState()
  const before = compared?.before.find(({ run }) => run.id === id)
  const points = [...before?.run.waypoints ?? []]
  const moved = compared?.revision.runs.find((change) => change.id === id)?.moved
  if (moved != null) turnTo({ boundsMm: boundsOver([...moved.at, ...moved.at], [...moved.from, ...moved.from], ...points.map(({ at }) => [...at, ...at])) })
  else if (points.length > 0) turnTo({ boundsMm: boundsOver(...points.map(({ at }) => [...at, ...at])) })
}
