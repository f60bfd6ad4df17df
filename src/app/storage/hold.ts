/** One window at a time changes a job: whoever holds it. */

export interface Hold {
  readonly isMine: boolean
  /** lets another window have it, or gives up waiting for it */
  readonly release: () => void
}

/** A window that is just being closed or loaded again lets go within this, ms. */
const LETTING_GO_MS = 400

/**
 * Holds a job, or waits for it where another window does. Where the browser has no locks (pages from an unsafe address)
 * every window holds: revision numbers still keep one from writing over the other.
 * @param freed called once when the other window has let go: from then on it is held here
 */
export async function holdJob(id: string, freed: () => void): Promise<Hold> {
  const locks = (navigator as Partial<Navigator>).locks
  if (locks === undefined) return { isMine: true, release: () => {} }
  let letGo: () => void = () => {}
  const held = new Promise<void>((resolve) => { letGo = resolve })
  const waiting = new AbortController()
  let isLate = false
  const isMine = await new Promise<boolean>((resolve) => {
    const timer = setTimeout(() => {
      isLate = true
      resolve(false)
    }, LETTING_GO_MS)
    locks.request(`joistway-job-${id}`, { signal: waiting.signal }, () => {
      clearTimeout(timer)
      if (isLate) freed()
      else resolve(true)
      return held
    }).catch(() => { resolve(!isLate && !waiting.signal.aborted) })
  })
  return {
    isMine,
    release: () => {
      waiting.abort()
      letGo()
    },
  }
}
