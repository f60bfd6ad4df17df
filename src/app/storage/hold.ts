/** One window at a time changes a job: whoever holds it. */

export interface Hold {
  readonly isMine: boolean
  /** lets another window have it, or gives up waiting for it */
  readonly release: () => void
}

/**
 * Holds a job, or waits for it where another window does. Where the browser has no locks (pages from an unsafe address)
 * every window holds: revision numbers still keep one from writing over the other.
 * @param freed called once when the other window has let go: from then on it is held here
 */
export async function hold(id: string, freed: () => void): Promise<Hold> {
  const locks = (navigator as Partial<Navigator>).locks
  if (locks === undefined) return { isMine: true, release: () => {} }
  const name = `joistway-job-${id}`
  let letGo: () => void = () => {}
  const held = new Promise<void>((resolve) => { letGo = resolve })
  const isMine = await new Promise<boolean>((resolve) => {
    locks.request(name, { ifAvailable: true }, (lock) => {
      resolve(lock !== null)
      return lock === null ? undefined : held
    }).catch(() => { resolve(true) })
  })
  if (isMine) return { isMine, release: letGo }
  const waiting = new AbortController()
  locks.request(name, { signal: waiting.signal }, () => {
    freed()
    return held
  }).catch(() => {})
  return {
    isMine: false,
    release: () => {
      waiting.abort()
      letGo()
    },
  }
}
