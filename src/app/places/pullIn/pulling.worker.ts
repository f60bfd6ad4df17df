/** The order of pulling in, and the pieces of rigid duct, away from the window: many runs over many joists take a second. */
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import type { Job } from '#model/index.ts'
import { pullingOrder, type PullingOrder } from '#routing/pullingOrder.ts'
import { rigidRuns, type RigidRun } from '#routing/willItGoIn.ts'

export interface ToPulling { readonly job: Job }
export interface FromPulling { readonly order: PullingOrder, readonly rigid: readonly RigidRun[] }

const port = self as unknown as { onmessage: (event: MessageEvent<ToPulling>) => void, postMessage: (message: FromPulling) => void }

port.onmessage = ({ data: { job } }) => {
  const context = contextFor(assemble(job))
  port.postMessage({ order: pullingOrder(context), rigid: rigidRuns(context) })
}
