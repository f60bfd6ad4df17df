import { useSyncExternalStore } from 'react'

const STRONG = '(prefers-contrast: more), (forced-colors: active)'

/** Whether the person asked for more contrast: white paper and full pencil lines then. */
export function useStrongContrast(): boolean {
  return useSyncExternalStore(listen, () => matchMedia(STRONG).matches)
}

function listen(tell: () => void): () => void {
  const query = matchMedia(STRONG)
  query.addEventListener('change', tell)
  return () => { query.removeEventListener('change', tell) }
}
