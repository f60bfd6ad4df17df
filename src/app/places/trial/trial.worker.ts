/** Trial sizes of many runs, away from the window, so that it never stands still. */
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import type { Job } from '#model/index.ts'
import { trialList } from '#routing/trialList.ts'
import type { TrialAsk, TrialList } from '#routing/trialList.ts'

export interface ToTrial { readonly job: Job, readonly ask: Omit<TrialAsk, 'growMm'> }
export type FromTrial = { readonly kind: 'trying', readonly doneRatio: number } | { readonly kind: 'list', readonly list: TrialList }

const port = self as unknown as { onmessage: (event: MessageEvent<ToTrial>) => void, postMessage: (message: FromTrial) => void }

port.onmessage = ({ data: { job, ask } }) => {
  const list = trialList(contextFor(assemble(job)), { ...ask, growMm: 0 }, (doneRatio) => { port.postMessage({ kind: 'trying', doneRatio }) })
  port.postMessage({ kind: 'list', list })
}
