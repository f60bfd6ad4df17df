/** The pulling order of the job as shown, and which step of it is looked at. Nothing here is part of the job. */
import { useEffect, useState } from 'react'
import { createStore } from 'zustand/vanilla'
import { useStore } from 'zustand'
import type { CheckContext } from '#checks/context.ts'
import type { PullingOrder } from '#routing/pullingOrder.ts'
import type { RigidRun } from '#routing/willItGoIn.ts'
import { useSettledChecks } from '../looking/useChecks.ts'
import type { FromPulling, ToPulling } from './pulling.worker.ts'

export interface Pulling {
  /** null while it is worked out */
  readonly plan: Plan | null
  /** run of the step that is looked at; null for all of them at once */
  readonly shownId: string | null
}

/** An order with what it was worked out from. */
export interface Plan {
  readonly checks: CheckContext
  readonly order: PullingOrder
  readonly rigid: ReadonlyMap<number, RigidRun>
}

export const pulling = createStore<Pulling>()(() => ({ plan: null, shownId: null }))

export function usePulling<T>(select: (state: Pulling) => T): T {
  return useStore(pulling, select)
}

export function showStep(shownId: string | null): void {
  pulling.setState({ shownId })
}

/** The run of the step so many farther on; stays at the first and the last. */
export function stepOn(by: number): void {
  const { plan, shownId } = pulling.getState()
  if (plan === null || plan.order.steps.length === 0) return
  const { steps } = plan.order, now = steps.findIndex(({ runIndex }) => idOf(plan, runIndex) === shownId)
  const next = now < 0 ? by > 0 ? 0 : steps.length - 1 : Math.min(steps.length - 1, Math.max(0, now + by))
  showStep(idOf(plan, steps[next].runIndex))
}

export function idOf({ checks }: Plan, runIndex: number): string {
  return checks.runs[runIndex].placed.run.id
}

export type PlanWork = 'working' | 'stopped' | 'failed' | null

/** Keeps the order up to date while the place is open. */
export function usePlan(): { readonly work: PlanWork, readonly stop: () => void, readonly again: () => void } {
  const checks = useSettledChecks()
  const [work, setWork] = useState<PlanWork>(null)
  const [round, setRound] = useState(0)
  const [stop, setStop] = useState<() => void>(() => () => {})
  useEffect(() => {
    pulling.setState({ plan: null })
    if (checks === null || checks.runs.length === 0) {
      setWork(null)
      return
    }
    setWork('working')
    const worker = new Worker(new URL('./pulling.worker.ts', import.meta.url), { type: 'module' })
    worker.onerror = (event) => {
      event.preventDefault()
      setWork('failed')
      worker.terminate()
    }
    worker.onmessage = ({ data: { order, rigid } }: MessageEvent<FromPulling>) => {
      pulling.setState(({ shownId }) => ({
        plan: { checks, order, rigid: new Map(rigid.map((run) => [run.runIndex, run])) },
        shownId: checks.runs.some(({ placed }) => placed.run.id === shownId) ? shownId : null,
      }))
      setWork(null)
      worker.terminate()
    }
    worker.postMessage({ job: checks.assembly.job } satisfies ToPulling)
    setStop(() => () => {
      worker.terminate()
      setWork('stopped')
    })
    return () => { worker.terminate() }
  }, [checks, round])
  return { work, stop, again: () => { setRound((now) => now + 1) } }
}
