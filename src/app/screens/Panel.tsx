import { FindingsList } from './FindingsList.tsx'
import { RunsList } from './RunsList.tsx'
import { searchFor, showTab } from '../desk.ts'
import type { Tab } from '../desk.ts'
import { useDesk } from '../useDesk.ts'
import { headline, underline } from '../words.ts'

const TABS: readonly { readonly tab: Tab, readonly words: string }[] = [{ tab: 'findings', words: 'To change' }, { tab: 'runs', words: 'Runs' }]

/** The verdict in one line, and the two lists under it. */
export function Panel() {
  const open = useDesk((desk) => desk.open)
  const verdict = useDesk((desk) => desk.verdict)
  const busy = useDesk((desk) => desk.work !== null)
  const tab = useDesk((desk) => desk.tab)
  const search = useDesk((desk) => desk.search)
  return (
    <section className="panel" aria-label="The verdict">
      <div className="verdict" role="status">
        <h2>{verdict !== null ? headline(verdict) : busy ? 'Checking…' : open === null ? 'Nothing to check yet' : 'Not checked'}</h2>
        <p>{verdict !== null ? underline(verdict) : busy ? 'Every run is measured against everything near it.' : 'Open a job, and every run is measured against everything near it.'}</p>
      </div>
      {verdict !== null && (
        <>
          <div className="tabs" role="tablist" aria-label="Lists" onKeyDown={(event) => {
            if (event.key !== 'ArrowLeft' && event.key !== 'ArrowRight') return
            const other = tab === 'findings' ? 'runs' : 'findings'
            showTab(other)
            document.getElementById(`tab-${other}`)?.focus()
          }}>
            {TABS.map(({ tab: one, words }) => (
              <button key={one} type="button" role="tab" id={`tab-${one}`} aria-selected={tab === one} aria-controls="list" tabIndex={tab === one ? 0 : -1}
                onClick={() => { showTab(one) }}>
                {words} <span className="tab-count">{(one === 'findings' ? verdict.findings : verdict.runs).length.toLocaleString('en-GB')}</span>
              </button>
            ))}
          </div>
          <div id="list" className="list-side" role="tabpanel" aria-labelledby={`tab-${tab}`}>
            <label className="search">
              <span>Find a run, joist or opening</span>
              <input type="search" value={search} placeholder="for instance J12" onChange={(event) => { searchFor(event.target.value) }} />
            </label>
            {tab === 'findings' ? <FindingsList verdict={verdict} /> : <RunsList verdict={verdict} />}
          </div>
        </>
      )}
    </section>
  )
}
