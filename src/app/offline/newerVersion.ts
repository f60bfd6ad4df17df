/** Working with the network off: a service worker that keeps every file of the page, and the way to a newer version of it. */
import { createStore } from 'zustand/vanilla'

export interface OfflineState {
  /** everything is kept: the page works with the network off */
  readonly isReady: boolean
  /** a newer version of the page is here, and waits to be taken */
  readonly isNewer: boolean
}

export const offline = createStore<OfflineState>()(() => ({ isReady: false, isNewer: false }))

let registration: ServiceWorkerRegistration | undefined
/** A window that stays open asks for a newer version this often, ms. */
const ASK_AGAIN_MS = 3600 * 1000

/**
 * Keeps the page's files. Where the browser does not allow it, all goes on without.
 * @param keepWork called before the window is loaded again for a newer version; false when that would lose work
 */
export async function workOffline(keepWork: () => Promise<boolean>): Promise<void> {
  // while developing, files change under the worker's feet
  if (!import.meta.env.PROD || !('serviceWorker' in navigator)) return
  const { serviceWorker } = navigator
  let isFirst = serviceWorker.controller === null
  serviceWorker.addEventListener('controllerchange', () => {
    // the first one takes over a page of its own version; every other comes with a newer one, in all windows at once
    if (!isFirst) void keepWork().then((isKept) => { if (isKept) location.reload() })
    isFirst = false
  })
  try {
    const now = registration = await serviceWorker.register(`${import.meta.env.BASE_URL}sw.js`)
    const look = (): void => { offline.setState({ isReady: now.active !== null, isNewer: now.waiting !== null && serviceWorker.controller !== null }) }
    const follow = (): void => { now.installing?.addEventListener('statechange', look) }
    now.addEventListener('updatefound', follow)
    follow()
    look()
    await serviceWorker.ready
    look()
    setInterval(() => { now.update().catch(() => {}) }, ASK_AGAIN_MS)
  } catch {
    // refused, as in some private windows: the page works as long as it is open, and with the network on
  }
}

/** Takes the newer version: every window keeps its work and is loaded again. */
export function takeNewer(): void {
  registration?.waiting?.postMessage({ type: 'SKIP_WAITING' })
}
