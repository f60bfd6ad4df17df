import type { Hand } from '#scene/hand.ts'
import { showStep } from './pulling.ts'

/** A duct that is touched is the step that is looked at; beside everything, all are. */
export const pullInHand: Hand = {
  tap(touch) {
    const picked = touch.pick()
    showStep(picked?.kind === 'run' ? picked.runId : null)
    return true
  },
}
