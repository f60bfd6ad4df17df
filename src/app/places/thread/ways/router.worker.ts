/** Looks for the ways of runs away from the window; ended from outside when it is no longer wanted. */
import { foundFor } from './foundFor.ts'
import type { FromRouter, ToRouter } from './routerMessages.ts'

/** ms between two words on how far it has come */
const EVERY_MS = 200

const port = self as unknown as { onmessage: (event: MessageEvent<ToRouter>) => void, postMessage: (message: FromRouter) => void }

port.onmessage = ({ data }) => {
  let saidMs = performance.now()
  const onProgress = (doneRatio: number): void => {
    const nowMs = performance.now()
    if (nowMs - saidMs < EVERY_MS) return
    saidMs = nowMs
    port.postMessage({ kind: 'looking', doneRatio })
  }
  try {
    port.postMessage({ kind: 'found', found: foundFor(data, onProgress) })
  } catch (error) {
    port.postMessage({ kind: 'failed', why: error instanceof Error ? error.message : String(error) })
  }
}
