import { useEffect, useState } from 'react'
import type { Finding } from '#checks/finding.ts'
import { joistPlaceOf } from '#checks/joistPlace.ts'
import { joistPlaceWords, moveSentence, sentenceOf, titleOf } from '#checks/wording.ts'
import { SeverityMark } from './SeverityMark.tsx'
import { goToFinding, goToPlace, goToRun, pickOut } from '../desk.ts'
import { capital, factsOfOpening, factsOfRun, factsOfSolid } from '../facts.ts'
import type { Facts } from '../facts.ts'
import { loadLaying, loadMaking } from '../laterParts.ts'
import { useDesk } from '../useDesk.ts'
import { SEVERITY_WORDS } from '../words.ts'

/** What was picked out: its site name and its sizes, or the whole of a finding with the move that clears it. */
export function Card() {
  const open = useDesk((desk) => desk.open)
  const verdict = useDesk((desk) => desk.verdict)
  const selection = useDesk((desk) => desk.selection)
  /** what became of the move that was made here last */
  const [told, setTold] = useState<{ readonly runId: string, readonly words: string, readonly nextId: string | undefined } | null>(null)
  useEffect(() => { setTold((now) => selection?.kind === 'run' && selection.runId === now?.runId ? now : null) }, [selection])
  if (open === null || selection === null) return null
  const { assembly } = open
  const make = async (finding: Finding): Promise<void> => {
    const runId = finding.move?.runId
    if (runId === undefined) return
    const made = (await loadMaking()).carryOut(finding)
    setTold('why' in made ? { runId, words: made.why, nextId: undefined } : { runId, words: made.words, nextId: made.next?.id })
    pickOut({ kind: 'run', runId })
  }

  if (selection.kind === 'finding') {
    const number = verdict?.findings.findIndex(({ id }) => id === selection.id) ?? -1
    const finding = verdict?.findings[number]
    if (finding === undefined) return null
    const next = verdict?.findings[number + 1]
    const move = moveSentence(finding)
    const on = joistPlaceOf(assembly.joists, finding)
    const run = assembly.runs.find((placed) => finding.parts.some((part) => part.id === placed.run.id))?.run
    return (
      <CardSheet title={capital(titleOf(finding))}
        above={<p className="severity"><SeverityMark severity={finding.severity} number={number + 1} size={30} /> {SEVERITY_WORDS[finding.severity]}</p>}>
        {move !== '' && <p className="move">{move}</p>}
        {on !== null && <p className="card-words">On site: <b>{joistPlaceWords(on)}</b>.</p>}
        <p className="card-words">{capital(sentenceOf(finding))}</p>
        <div className="card-buttons">
          {finding.move != null && <button type="button" className="button button-strong" onClick={() => { void make(finding) }}>Make this move</button>}
          {next !== undefined && <button type="button" className={`button ${finding.move == null ? 'button-strong' : ''}`} onClick={() => { goToFinding(next.id) }}>Next</button>}
          {run !== undefined && <button type="button" className="button" onClick={() => { goToRun(run.id) }}>Show the whole run</button>}
        </div>
      </CardSheet>
    )
  }

  if (selection.kind === 'run') {
    const run = verdict?.runs.find(({ runId }) => runId === selection.runId)
    const facts = factsOfRun(assembly, selection.runId, run)
    const { words, nextId } = told?.runId === selection.runId ? told : { words: null, nextId: undefined }
    return (
      <CardSheet title={facts.title}>
        {words !== null && (
          <div className="move card-told">
            <p role="status">{words}</p>
            {nextId !== undefined && <button type="button" className="button button-strong" autoFocus onClick={() => {
              setTold(null)
              goToFinding(nextId)
            }}>Next to change</button>}
          </div>
        )}
        <FactList {...facts} />
        <div className="card-buttons">
          <button type="button" className="button" onClick={() => {
            goToPlace('thread')
            void loadLaying().then(({ startAnew }) => { startAnew(selection.runId) })
          }}>Thread it anew</button>
          {(run?.findingIds ?? []).slice(0, 8).map((id) => {
            const number = verdict?.findings.findIndex((finding) => finding.id === id) ?? -1
            const finding = verdict?.findings[number]
            return finding === undefined ? null : (
              <button key={id} type="button" className="button button-mark" aria-label={`Go to ${number + 1}: ${titleOf(finding)}`} onClick={() => { goToFinding(id) }}>
                <SeverityMark severity={finding.severity} number={number + 1} />
              </button>
            )
          })}
        </div>
      </CardSheet>
    )
  }

  const facts = selection.kind === 'solid' ? factsOfSolid(assembly, selection.solidIndex, selection.at) : factsOfOpening(assembly, selection.joistIndex, selection.number)
  return <CardSheet title={facts.title}><FactList {...facts} /></CardSheet>
}

/** Back to where the list was left. */
function putAway(): void {
  const row = document.querySelector<HTMLElement>('.row[aria-current="true"]')
  pickOut(null)
  // on a phone the list is only there again once the card has gone
  requestAnimationFrame(() => { row?.focus() })
}

function CardSheet({ title, above, children }: { readonly title: string, readonly above?: React.ReactNode, readonly children: React.ReactNode }) {
  return (
    <section className="card" aria-label="Picked out" aria-live="polite">
      <button type="button" className="button button-square card-close" aria-label="Put away" onClick={putAway}>{'\u00d7'}</button>
      {above}
      <h2>{title}</h2>
      {children}
    </section>
  )
}

function FactList({ facts }: Facts) {
  return (
    <dl className="facts">
      {facts.map(({ label, value }) => <div key={label}><dt>{label}</dt><dd>{value}</dd></div>)}
    </dl>
  )
}
