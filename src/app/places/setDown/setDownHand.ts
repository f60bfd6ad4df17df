/** A finger or mouse in the view while equipment is set down: a spigot is tapped, then the opening or bay that it shall look through. */
import type { Hand } from '#scene/hand.ts'
import { nearestPlace } from '#scene/reach.ts'
import { bench } from '../../editing/theBench.ts'
import { pickInPlan } from '../../plan/board.ts'
import { pointSnapping, snapping, startSnapping, stopSnapping, tapSnapping } from '../../plan/snapping.ts'

export const setDownHand: Hand = {
  hover(touch) {
    if (snapping.getState().spigot !== null && touch !== null) pointSnapping(touch.ray)
  },
  tap(touch) {
    const { assembly } = bench.store.getState()
    if (assembly === null) return false
    const under = assembly.spigots[nearestPlace(touch, assembly.spigots.map(({ at }) => at))]
    if (under !== undefined) {
      pickInPlan({ kind: 'equipment', id: under.equipment.id })
      startSnapping(under.equipment.id, under.spigot.id)
      return true
    }
    if (snapping.getState().spigot !== null) {
      tapSnapping(touch.ray, 0)
      return true
    }
    const picked = touch.pick()
    const ownerId = picked?.kind === 'solid' ? assembly.parts.ownerIdOf(picked.solidIndex) : null
    if (!assembly.job.equipment.some(({ id }) => id === ownerId)) return false
    pickInPlan({ kind: 'equipment', id: ownerId! })
    return true
  },
  key({ key }) {
    if (key !== 'Escape' || snapping.getState().spigot === null) return false
    stopSnapping()
    return true
  },
}
