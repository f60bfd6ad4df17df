import { useEffect, useRef } from 'react'
import type { Finding } from '#checks/finding.ts'
import { joistPlaceOf } from '#checks/joistPlace.ts'
import { joistPlaceWords, moveSentence, sentenceOf, titleOf } from '#checks/wording.ts'
import { pickOut, turnTo } from '../../desk.ts'
import { bench } from '../../editing/theBench.ts'
import { useBench } from '../../editing/useBench.ts'
import { capital } from '../../facts.ts'
import { SeverityMark } from '../../screens/SeverityMark.tsx'
import { SEVERITY_WORDS } from '../../words.ts'
import { say } from './threading.ts'
import { beginAsking } from './ways/ways.ts'

/** One finding, with the move that clears it as one step. */
export function FindingWork({ finding, number }: { readonly finding: Finding, readonly number: number }) {
  const isWhole = useBench((now) => now.isWhole)
  const checking = useBench((now) => now.checking)
  const run = useBench((now) => now.assembly?.runs.find((placed) => finding.parts.some(({ id }) => id === placed.run.id))?.run)
  const next = useBench((now) => now.verdict?.findings[number])
  const joists = useBench((now) => now.assembly?.joists)
  const on = joists === undefined ? null : joistPlaceOf(joists, finding)
  const heading = useRef<HTMLHeadingElement>(null)
  // the next one after a move that was made here
  useEffect(() => { 
    if (wantsFocus) heading.current?.focus()
    wantsFocus = false
  }, [finding.id])
  const { move } = finding
  return (
    <section className="thread-finding" aria-label="A finding">
      <p className="severity"><SeverityMark severity={finding.severity} number={number} size={30} /> {SEVERITY_WORDS[finding.severity]}</p>
      <h3 ref={heading} tabIndex={-1}>{capital(titleOf(finding))}</h3>
      <p>{capital(sentenceOf(finding))}</p>
      {on !== null && <p>On site: <b>{joistPlaceWords(on)}</b>.</p>}
      {move != null ? <p className="move">{moveSentence(finding)}</p>
        : <p className="quiet">{move === null ? moveSentence(finding) : isWhole ? 'No move of a point answers this.' : checking === 'stopped' || checking === 'failed' ? 'No move has been looked for: checking was stopped.' : 'Looking for a move that clears it\u2026'}</p>}
      <div className="thread-buttons">
        {move != null && <button type="button" className="button button-strong" onClick={() => { makeMove(finding) }}>Make this move</button>}
        {next !== undefined && <button type="button" className="button" onClick={() => { showFinding(next) }}>Next</button>}
        {run !== undefined && <button type="button" className="button" onClick={() => { pickOut({ kind: 'run', runId: run.id }) }}>Work on {run.name}</button>}
        {run !== undefined && run.locked !== true && <button type="button" className="button" onClick={() => { beginAsking('one', run.id) }}>Find another way…</button>}
      </div>
    </section>
  )
}

let wantsFocus = false

export function showFinding(finding: Finding): void {
  pickOut({ kind: 'finding', id: finding.id })
  turnTo({ placeMm: [finding.mark.x, finding.mark.y, finding.mark.z] })
}

export interface Made {
  /** what became of it, in words */
  readonly words: string
  /** the finding that now stands in its place */
  readonly next: Finding | undefined
}

/** Carries the move of a finding out. */
export function carryOut(finding: Finding): Made | { readonly why: string } {
  const { move } = finding
  if (move == null) return { why: 'No move of it is known.' }
  const place = bench.store.getState().verdict?.findings.findIndex(({ id }) => id === finding.id) ?? -1
  const done = bench.perform({ do: 'apply-move', move })
  if (!done.ok) return { why: `${done.why}.` }
  const left = bench.store.getState().verdict?.findings ?? []
  const next = left[Math.min(Math.max(place, 0), left.length - 1)]
  const words = left.some(({ id }) => id === finding.id) ? 'Moved, but it is still there.' : next === undefined ? 'Cleared. Nothing is left to change.' : `Cleared. ${left.length} left to change.`
  return { words, next }
}

/** The same, and goes on to what now stands in its place. */
export function makeMove(finding: Finding): void {
  const { move } = finding
  if (move == null) return
  const made = carryOut(finding)
  if ('why' in made) {
    say(made.why)
    return
  }
  const { next } = made
  say(next === undefined || next.id === finding.id ? made.words : `${made.words} The next is ${titleOf(next)}.`)
  if (next === undefined) pickOut({ kind: 'run', runId: move.runId })
  else {
    wantsFocus = true
    showFinding(next)
  }
}
