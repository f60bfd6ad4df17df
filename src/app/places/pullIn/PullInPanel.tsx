import { useEffect } from 'react'
import { ringWords } from '#routing/pullingWords.ts'
import { desk, pickOut } from '../../desk.ts'
import { countText } from '../../figures.ts'
import { useBench } from '../../editing/useBench.ts'
import { viewing } from '../looking/viewing.ts'
import { StepList } from './StepList.tsx'
import { StepWork } from './StepWork.tsx'
import { idOf, pulling, showStep, usePlan, usePulling, type Plan, type PlanWork } from './pulling.ts'
import './pullIn.css'

/** In which order the ducts go in, from which end, and what bars the others; step by step in the picture. */
export function PullInPanel() {
  const runCount = useBench((now) => now.assembly?.runs.length ?? 0)
  const plan = usePulling((now) => now.plan)
  const shownId = usePulling((now) => now.shownId)
  const { work, stop, again } = usePlan()
  useEffect(() => {
    const { selection } = desk.getState()
    if (selection?.kind === 'run') showStep(selection.runId)
    // what is picked out would stand out from what is in already
    pickOut(null)
    return () => {
      viewing.setState({ faintRuns: new Set() })
      pulling.setState({ shownId: null })
    }
  }, [])
  useEffect(() => { viewing.setState({ faintRuns: notInYet(plan, shownId) }) }, [plan, shownId])
  if (runCount === 0) return <section className="teach"><h3>No ducts to pull in</h3><p>Once there are runs, their order is here: which goes in first, and from which end.</p></section>
  if (plan === null) return <Waiting work={work} stop={stop} again={again} />
  return (
    <div className="pull-in">
      <StepWork plan={plan} shownId={shownId} />
      <p>{summary(plan)}</p>
      <StepList plan={plan} shownId={shownId} />
      {plan.order.rings.map((ring) => <p key={ring.runs.join()} className="pull-in-note">{ringWords(plan.checks, ring)}</p>)}
      {!plan.order.isLeast && <p className="pull-in-note">Too many runs lie under each other in one knot to prove that no other order has fewer going in under others.</p>}
      <p className="quiet">Assumed: people work from below, with the ceiling not up yet. What lies lower goes in first, so that none has to go in under one that hangs there already.</p>
    </div>
  )
}

function Waiting({ work, stop, again }: { readonly work: PlanWork, readonly stop: () => void, readonly again: () => void }) {
  return (
    <div className="pull-in">
      <p role="status">{work === 'stopped' ? 'Stopped.' : work === 'failed' ? 'That could not be worked out.' : 'Working out the order…'}</p>
      {work === 'stopped' || work === 'failed' ? <button type="button" className="button" onClick={again}>Try again</button> : <button type="button" className="button" onClick={stop}>Stop</button>}
    </div>
  )
}

/** Of the step that is looked at and those after it: the one itself is drawn by the place. */
function notInYet(plan: Plan | null, shownId: string | null): ReadonlySet<string> {
  if (plan === null || shownId === null) return new Set()
  const ids = plan.order.steps.map(({ runIndex }) => idOf(plan, runIndex)), at = ids.indexOf(shownId)
  return new Set(at < 0 ? [] : ids.slice(at))
}

function summary({ order: { steps, passes } }: Plan): string {
  const under = steps.reduce((sum, step) => sum + step.under.length, 0)
  const ducts = `${countText(steps.length, 'duct')} in order`
  if (passes.length === 0) return `${ducts}. None passes over another, so any order does.`
  return `${ducts}. ${countText(passes.length, 'place')} where one passes over another; ${under === 0 ? 'none has to go in under one that is there already' : `${countText(under, 'time')} one has to go in under one that is there already`}.`
}
