import { useEffect, useMemo, useState } from 'react'
import { titleOf } from '#checks/wording.ts'
import type { Verdict } from '#routing/verdict.ts'
import { SeverityMark } from './SeverityMark.tsx'
import { useListKeys } from './useListKeys.ts'
import { SEVERITIES, goToFinding, goToJoist, listBy, toggleSeverity } from '../desk.ts'
import { byRun, findingsLeft } from '../filtering.ts'
import type { FindingGroup } from '../filtering.ts'
import { useDesk } from '../useDesk.ts'
import { SEVERITY_MEANINGS, SEVERITY_WORDS, amountWords } from '../words.ts'

/** Rows put on the page at a time: a job of thousands of findings must still scroll smoothly on a tablet. */
const AT_A_TIME = 150

/** No finding speaks of it; where it is a joist it can be shown all the same. */
function NothingLeft({ search }: { readonly search: string }) {
  const joists = useDesk((desk) => desk.open?.assembly.joists)
  const wanted = search.trim().toLowerCase()
  const joistIndex = joists?.findIndex(({ id, name }) => id.toLowerCase() === wanted || name.toLowerCase() === wanted) ?? -1
  return (
    <div className="teach">
      <p>{wanted === '' ? 'Nothing here. Press a button above to show more.' : 'Nothing to change there. Try other words, or look among the runs.'}</p>
      {joistIndex >= 0 && <button type="button" className="button" onClick={() => { goToJoist(joistIndex) }}>Show {joists![joistIndex].name}</button>}
    </div>
  )
}

/** The heading that stands before the first row of each group, by the id of that finding. */
function headingsOf(groups: readonly FindingGroup[]): Map<string, string> {
  return new Map(groups.flatMap(({ name, findings }) => name === '' || findings.length === 0 ? [] : [[findings[0].id, `${name} \u00b7 ${findings.length}`]]))
}

export function FindingsList({ verdict }: { readonly verdict: Verdict }) {
  const severities = useDesk((desk) => desk.severities)
  const search = useDesk((desk) => desk.search)
  const selection = useDesk((desk) => desk.selection)
  const chosenId = selection?.kind === 'finding' ? selection.id : null
  const listing = useDesk((desk) => desk.listing)
  const groups = useMemo(() => {
    const left = findingsLeft(verdict.findings, severities, search)
    return listing === 'run' ? byRun(left, verdict.runs) : [{ runId: null, name: '', findings: left }]
  }, [verdict, severities, search, listing])
  const left = useMemo(() => groups.flatMap(({ findings }) => findings), [groups])
  const numbers = useMemo(() => new Map(verdict.findings.map(({ id }, i) => [id, i + 1])), [verdict])
  const [most, setMost] = useState(AT_A_TIME)
  const rows = left.slice(0, most)
  const headings = useMemo(() => headingsOf(groups), [groups])
  const keys = useListKeys(rows.length)

  useEffect(() => {
    if (chosenId === null) return
    keys.list.current?.querySelector(`[aria-current="true"]`)?.scrollIntoView({ block: 'nearest' })
  }, [chosenId, keys.list])

  if (verdict.findings.length === 0) {
    return (
      <div className="teach">
        <h3>{verdict.runs.length === 0 ? 'Nothing to check yet' : 'Nothing touches, nothing is too tight'}</h3>
        <p>
          {verdict.runs.length === 0
            ? 'Once the job has runs, every place where one touches a joist, a web or another duct is listed here, worst first.'
            : 'Look at the runs for how much larger each duct could be before it touches something.'}
        </p>
      </div>
    )
  }
  return (
    <>
      <div className="filters" role="group" aria-label="Show">
        {SEVERITIES.map((severity) => (
          <button key={severity} type="button" className="filter" aria-pressed={severities.has(severity)} title={SEVERITY_MEANINGS[severity]}
            onClick={() => { toggleSeverity(severity) }}>
            <SeverityMark severity={severity} size={22} /> {SEVERITY_WORDS[severity]} <span className="filter-count">{verdict.counts[severity].toLocaleString('en-GB')}</span>
          </button>
        ))}
        <button type="button" className="listing-way" aria-pressed={listing === 'run'} onClick={() => { listBy(listing === 'run' ? 'severity' : 'run') }}>Run by run</button>
      </div>
      {left.length === 0 && <NothingLeft search={search} />}
      <ul ref={keys.list} className="rows" aria-label={listing === 'run' ? 'What to change, run by run' : 'What to change, worst first'} onKeyDown={keys.onKeyDown}>
        {rows.map((finding, n) => (
          <li key={finding.id}>
            {headings.has(finding.id) && <h3 className="row-heading">{headings.get(finding.id)}</h3>}
            <button type="button" className="row" tabIndex={keys.tabIndexOf(n)} onFocus={keys.onFocusOf(n)} aria-current={finding.id === chosenId}
              data-finding={finding.id} onClick={() => { goToFinding(finding.id) }}>
              <SeverityMark severity={finding.severity} number={numbers.get(finding.id)} />
              <span className="row-words">
                <span className="row-title">{titleOf(finding)}</span>
                <span className="row-more"><b>{SEVERITY_WORDS[finding.severity]}</b> · {amountWords(finding)}</span>
              </span>
            </button>
          </li>
        ))}
      </ul>
      {left.length > most && <button type="button" className="button more" onClick={() => { setMost(most + AT_A_TIME) }}>Show {Math.min(AT_A_TIME, left.length - most)} more of {left.length}</button>}
    </>
  )
}
