/** Which job a window had open, so that it is there again after it was loaded anew: this window's own first, else the last one anywhere. */
import type { JobStore } from './jobStore.ts'

const KEY = 'joistway-open'
/** a job that was never kept, such as the demo */
const NONE = 'none'

export function rememberOpen(store: JobStore, id: string | null): void {
  try {
    sessionStorage.setItem(KEY, id ?? NONE)
  } catch {
    // a window that may keep nothing opens with the demo next time
  }
  void store.setNote(KEY, id ?? NONE).catch(() => {})
}

export async function lastOpen(store: JobStore): Promise<string | undefined> {
  let own: string | null = null
  try {
    own = sessionStorage.getItem(KEY)
  } catch {
    // as above
  }
  const id = own ?? await store.note(KEY).catch(() => undefined)
  return id === NONE ? undefined : id
}
