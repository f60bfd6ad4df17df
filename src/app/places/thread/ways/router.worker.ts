/** Looks for the ways of runs away from the window; ended from outside when it is no longer wanted, so what it has by then is handed over beforehand. */
import type { RouteProgress } from '#routing/router/routeJob.ts'
import { foundFor } from './foundFor.ts'
import type { Found, FromRouter, ToRouter } from './routerMessages.ts'

/** ms between two words on how far it has come, and between two looks at what it has by then: at least so much, and not more than a tenth of the time goes into them */
const EVERY_MS = 200, SO_FAR_EVERY_MS = 1_500, SO_FAR_TIMES = 10

const port = self as unknown as { onmessage: (event: MessageEvent<ToRouter>) => void, postMessage: (message: FromRouter) => void }

port.onmessage = ({ data }) => {
  let saidMs = performance.now(), soFarMs = saidMs + SO_FAR_EVERY_MS, mostLaid = 1
  const onProgress = (progress: RouteProgress, soFar: () => Found): void => {
    const nowMs = performance.now()
    if (nowMs - saidMs >= EVERY_MS) {
      saidMs = nowMs
      port.postMessage({ kind: 'looking', progress })
    }
    if (nowMs < soFarMs) return
    // all over again from another start it may have fewer for a while
    const found = soFar()
    if (found.laid.length >= mostLaid) port.postMessage({ kind: 'so-far', found })
    mostLaid = Math.max(mostLaid, found.laid.length)
    const tookMs = performance.now() - nowMs
    soFarMs = performance.now() + Math.max(SO_FAR_EVERY_MS, SO_FAR_TIMES * tookMs)
  }
  try {
    port.postMessage({ kind: 'found', found: foundFor(data, onProgress) })
  } catch (error) {
    port.postMessage({ kind: 'failed', why: error instanceof Error ? error.message : String(error) })
  }
}
