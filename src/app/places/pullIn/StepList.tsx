import { useListKeys } from '../../screens/useListKeys.ts'
import { capital } from '../../facts.ts'
import { lengthText } from '../../figures.ts'
import { goingIn } from './goesInAt.ts'
import { idOf, showStep, type Plan } from './pulling.ts'

/** Every duct in its order, with the end that it goes in from. */
export function StepList({ plan, shownId }: { readonly plan: Plan, readonly shownId: string | null }) {
  const { checks, order: { steps }, rigid } = plan
  const keys = useListKeys(steps.length)
  return (
    <ul className="rows pull-in-rows" ref={keys.list} onKeyDown={keys.onKeyDown} aria-label="The ducts in the order in which they go in">
      {steps.map((step, n) => {
        const { run, centreline } = checks.runs[step.runIndex].placed, own = rigid.get(step.runIndex), id = idOf(plan, step.runIndex)
        const isBarred = step.ends.length > 0 && step.ends.every(({ verdict }) => verdict !== 'free') || own !== undefined && own.verdict !== 'goes-in'
        return (
          <li key={id}>
            <button type="button" className="row" tabIndex={keys.tabIndexOf(n)} onFocus={keys.onFocusOf(n)} aria-current={id === shownId} data-step={step.place} onClick={() => { showStep(id === shownId ? null : id) }}>
              <span className="pull-in-place">{step.place}</span>
              <span className="row-words">
                <span className="row-title">{run.name}</span>
                <span className="row-more">{lengthText(centreline.lengthMm)}, {goingIn(plan, step)}</span>
                {(isBarred || step.under.length > 0) && <span className="row-more"><b>{isBarred ? 'Look at this one first' : capital(`goes in under ${step.under.length} already there`)}</b></span>}
              </span>
            </button>
          </li>
        )
      })}
    </ul>
  )
}
