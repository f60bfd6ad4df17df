import { Suspense, lazy, useState } from 'react'

const InPlan = lazy(() => import('./InPlan.tsx'))

/** The plan, folded away until it is wanted. */
export function PlanFold() {
  const [isOpen, setOpen] = useState(false)
  return (
    <details className="thread-more" onToggle={(event) => { setOpen(event.currentTarget.open) }}>
      <summary>In plan</summary>
      {isOpen && <Suspense fallback={<p className="quiet">Drawing the plan…</p>}><InPlan /></Suspense>}
    </details>
  )
}
