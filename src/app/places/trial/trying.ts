/** Works trial sizes out: one run here, several in a worker that can be stopped. Limits do not depend on the size that is tried, so a slider asks for nothing. */
import { useEffect, useState } from 'react'
import type { CheckContext } from '#checks/context.ts'
import { trialList } from '#routing/trialList.ts'
import type { TrialAsk, TrialRow } from '#routing/trialList.ts'
import { useSettledChecks } from '../looking/useChecks.ts'
import { useViewing, viewing } from '../looking/viewing.ts'
import type { TrialSet } from '../looking/viewing.ts'
import type { FromTrial, ToTrial } from './trial.worker.ts'

export type Trying = { readonly doneRatio: number } | 'stopped' | 'failed' | null

function askOf(set: TrialSet): Omit<TrialAsk, 'growMm'> {
  return set.kind === 'run' ? { runIds: [set.runId] } : set.kind === 'group' ? { group: set.group } : {}
}

/** Up to so many runs are worked out at once, well within a fifth of a second. */
const MOST_HERE = 2

/** Keeps `viewing.trialList` up to date while the place is open. */
export function useTrying(): { readonly trying: Trying, readonly stop: () => void, readonly again: () => void } {
  const checks = useSettledChecks()
  const set = useViewing((now) => now.trialSet)
  const [trying, setTrying] = useState<Trying>(null)
  const [round, setRound] = useState(0)
  const [end, setEnd] = useState<(() => void) | null>(null)
  useEffect(() => {
    if (checks === null) {
      viewing.setState({ trialList: null })
      return
    }
    const ask = askOf(set)
    const count = set.kind === 'run' ? 1 : checks.runs.filter(({ placed: { run } }) => set.kind === 'all' || run.group === set.group).length
    if (count <= MOST_HERE) {
      viewing.setState({ trialList: trialList(checks, { ...ask, growMm: 0 }) })
      setTrying(null)
      return
    }
    viewing.setState({ trialList: null })
    setTrying({ doneRatio: 0 })
    const cancel = inWorker(checks, ask, setTrying)
    setEnd(() => () => {
      cancel()
      setTrying('stopped')
    })
    return cancel
  }, [checks, set, round])
  return { trying, stop: () => { end?.() }, again: () => { setRound((now) => now + 1) } }
}

function inWorker(checks: CheckContext, ask: Omit<TrialAsk, 'growMm'>, tell: (trying: Trying) => void): () => void {
  const worker = new Worker(new URL('./trial.worker.ts', import.meta.url), { type: 'module' })
  worker.onerror = (event) => {
    event.preventDefault()
    tell('failed')
    worker.terminate()
  }
  worker.onmessage = ({ data }: MessageEvent<FromTrial>) => {
    if (data.kind === 'trying') {
      tell({ doneRatio: data.doneRatio })
      return
    }
    viewing.setState({ trialList: data.list })
    tell(null)
    worker.terminate()
  }
  worker.postMessage({ job: checks.assembly.job, ask } satisfies ToTrial)
  return () => { worker.terminate() }
}

/** Whether a run touches something once all of the set have grown by so much, mm in diameter. */
export function failsAt({ together }: TrialRow, growMm: number): boolean {
  return together.growMm !== null && together.growMm < growMm
}
