import { useSyncExternalStore } from 'react'

/** the same width as in style.css */
const WIDE = '(min-width: 1024px)'

/** Whether the list stands beside the picture. */
export function useWide(): boolean {
  return useSyncExternalStore(listen, () => matchMedia(WIDE).matches)
}

function listen(tell: () => void): () => void {
  const query = matchMedia(WIDE)
  query.addEventListener('change', tell)
  return () => { query.removeEventListener('change', tell) }
}
