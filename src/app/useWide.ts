import { useSyncExternalStore } from 'react'

/** the same widths as in style.css */
const WIDE = '(min-width: 1024px)', PHONE = '(max-width: 599px)'

/** Whether the list stands beside the picture. */
export function useWide(): boolean {
  return useSyncExternalStore(listenToWide, () => matchMedia(WIDE).matches)
}

/** Whether it is a phone: the picture above, the list below, and room for one of each. */
export function usePhone(): boolean {
  return useSyncExternalStore(listenToPhone, () => matchMedia(PHONE).matches)
}

const listenToWide = listenTo(WIDE), listenToPhone = listenTo(PHONE)

function listenTo(width: string) {
  return (tell: () => void): () => void => {
    const query = matchMedia(width)
    query.addEventListener('change', tell)
    return () => { query.removeEventListener('change', tell) }
  }
}
