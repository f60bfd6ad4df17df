import { useEffect, useRef } from 'react'
import { boundsOver } from '#scene/frame.ts'
import { endNote, labelOf, legWords } from '#routing/pullingWords.ts'
import { turnTo } from '../../desk.ts'
import { capital } from '../../facts.ts'
import { lengthText } from '../../figures.ts'
import { goingIn } from './goesInAt.ts'
import { passWords, passesOf } from './passWords.ts'
import { idOf, showStep, stepOn, type Plan } from './pulling.ts'

/** Step by step: those that are in are full in the picture, the one that goes in now stands out, the rest are faint. */
export function StepWork({ plan, shownId }: { readonly plan: Plan, readonly shownId: string | null }) {
  const { steps } = plan.order
  const at = steps.findIndex(({ runIndex }) => idOf(plan, runIndex) === shownId)
  const work = useRef<HTMLElement>(null)
  // what is said of a step stands above the list that it may have been chosen from
  useEffect(() => { if (shownId !== null) work.current?.closest('.panel')?.scrollTo({ top: 0 }) }, [shownId])
  return (
    <section ref={work} className="pull-in-step" aria-label="Step by step">
      <div className="pull-in-buttons pull-in-held">
        <button type="button" className="button" aria-disabled={at <= 0} onClick={() => { if (at > 0) stepOn(-1) }}>Back</button>
        <button type="button" className="button button-strong" aria-disabled={at === steps.length - 1} onClick={() => { if (at < steps.length - 1) stepOn(1) }}>{at < 0 ? 'Begin with the first' : 'Next'}</button>
        {at >= 0 && <button type="button" className="button" onClick={() => { flyTo(plan, at) }}>Fly to it</button>}
        {at >= 0 && <button type="button" className="button" onClick={() => { showStep(null) }}>All in</button>}
      </div>
      {at < 0 ? <p className="quiet" role="status">Go through them one by one, or touch one in the picture.</p> : <Step plan={plan} at={at} />}
    </section>
  )
}

function flyTo(plan: Plan, at: number): void {
  const { waypoints } = plan.checks.runs[plan.order.steps[at].runIndex].placed.run
  turnTo({ boundsMm: boundsOver(...waypoints.map(({ at: place }) => [...place, ...place])) })
}

function Step({ plan, at }: { readonly plan: Plan, readonly at: number }) {
  const { checks, order: { steps }, rigid } = plan
  const step = steps[at], { run, centreline } = checks.runs[step.runIndex].placed, own = rigid.get(step.runIndex)
  const passes = passesOf(plan, step.runIndex)
  const notes = step.ends.map((end) => endNote(checks, step.runIndex, end, step.ends.some((other) => other.end !== end.end && other.verdict === 'free'))).filter((note) => note !== '')
  const isStuck = step.ends.length > 0 && step.ends.every(({ verdict }) => verdict !== 'free')
  return (
    <>
      <div role="status">
        <h3>Step {step.place} of {steps.length}: {run.name}</h3>
        <p>{lengthText(centreline.lengthMm)}, {goingIn(plan, step)}. Its label says <b>{labelOf(checks, step)}</b>.</p>
      </div>
      {own?.verdict === 'before-joists' && <p className="pull-in-bad">It goes in only before the joists are fixed.</p>}
      {own?.verdict === 'no-opening' && <p className="pull-in-bad">It passes a joist where there is no opening for it.</p>}
      {isStuck && <p className="pull-in-bad">Neither end lets it in. Lay it before what bars it is fixed, or give it more straight at one end.</p>}
      {notes.length > 0 && <ul className="pull-in-notes" aria-label="Ends that are barred">{notes.map((note) => <li key={note}>{note}</li>)}</ul>}
      {passes.length === 0 ? <p>It passes over and under no other.</p> : (
        <ul className="pull-in-notes" aria-label="What it passes">
          {passes.map((pass, n) => (
            <li key={n} className={pass.way === 'under' && !pass.isLater ? 'is-bad' : undefined}>
              <button type="button" className="button pull-in-pass" onClick={() => { turnTo({ placeMm: pass.at }) }}>{capital(passWords(pass))}</button>
            </li>
          ))}
        </ul>
      )}
      {own !== undefined && (
        <ol className="pull-in-notes" aria-label="Its straight legs">
          {own.legs.map((leg, k) => <li key={k}><b>Leg {k + 1}, {lengthText(leg.lengthMm)}:</b> {legWords(checks, leg)}.</li>)}
        </ol>
      )}
    </>
  )
}
