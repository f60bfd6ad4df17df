/** Keys that work wherever the focus is, while runs are threaded: Enter, Backspace, Escape. */
import { finish, giveUp, takeBack } from './laying.ts'
import { threadHand } from './threadHand.ts'
import { threading } from './threading.ts'
import { isBusy } from './ways/ways.ts'

/** what Enter and Backspace belong to already */
const TYPED = 'input, select, textarea, [contenteditable]'
const PRESSED = 'button, a, summary'

/** To be heard before anything else hears of the key. */
export function onThreadKey(event: KeyboardEvent): void {
  if (event.ctrlKey || event.metaKey || event.altKey || event.isComposing || isBusy()) return
  const { laying, isPulling } = threading.getState()
  const on = event.target instanceof Element ? event.target : null
  const act = event.key === 'Escape' ? isPulling ? () => { threadHand.cancel?.() } : laying !== null && on?.closest(TYPED) == null ? giveUp : null
    : laying === null || on?.closest(TYPED) != null ? null
    : event.key === 'Backspace' ? takeBack
    : event.key === 'Enter' && on?.closest(PRESSED) == null ? finish : null
  if (act === null) return
  event.preventDefault()
  event.stopPropagation()
  act()
}
