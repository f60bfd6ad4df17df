/** The hand that is there in every place: the cut's handle can always be dragged, and while the tape is held a touch lays its next end. */
import type { Cut } from '#scene/cutAway.ts'
import { alongToRay, handleOf, planeOutline } from '#scene/cutAway.ts'
import type { Xyz } from '#scene/frame.ts'
import { frameOf } from '#scene/frame.ts'
import type { Hand, Touch } from '#scene/hand.ts'
import { desk } from '../../desk.ts'
import { endOf } from './tapeEnd.ts'
import { layTapeEnd, viewing } from './viewing.ts'

/** from the handle's middle, CSS px */
const HANDLE_REACH_PX = 32

/** the cut's handle while it is dragged: where it was, and how far along the ray met it first */
let held: { readonly cut: Cut, readonly from: Xyz, readonly startMm: number } | null = null

function takeHandle(touch: Touch): boolean {
  const { cut } = viewing.getState(), { open } = desk.getState()
  if (cut === null || open === null) return false
  const from = handleOf(planeOutline(cut, frameOf(open.assembly).boundsMm)), px = from === null ? null : touch.toPx(from)
  if (from === null || px === null || Math.hypot(px[0] - touch.x, px[1] - touch.y) > HANDLE_REACH_PX) return false
  const startMm = alongToRay(from, cut.towards, touch.ray)
  if (startMm === null) return false
  held = { cut, from, startMm }
  return true
}

function dragHandle({ cut, from, startMm }: NonNullable<typeof held>, touch: Touch): void {
  const nowMm = alongToRay(from, cut.towards, touch.ray)
  if (nowMm === null) return
  const byMm = Math.round(nowMm - startMm), [x, y, z] = cut.at, [nx, ny, nz] = cut.towards
  viewing.setState({ cut: { ...cut, at: [x + byMm * nx, y + byMm * ny, z + byMm * nz] } })
}

function layTape(touch: Touch): boolean {
  const { open } = desk.getState()
  if (!viewing.getState().tapeHeld || open === null) return false
  const picked = touch.pick(), end = endOf(open.assembly, picked)
  if (end !== null) layTapeEnd(end)
  else viewing.setState({ tapeMissed: picked?.kind === 'opening' ? 'An opening has no surface: touch a chord or a web beside it.' : picked?.kind === 'finding' ? 'That is the mark of a finding: touch the duct or the joist beside it.' : 'Nothing there: touch a duct, a joist or a wall.' })
  return true
}

/** @param own the hand of the place that is open, asked after this one */
export function withLookingHand(own?: Hand): Hand {
  return {
    ...own,
    press: (touch) => takeHandle(touch) || (own?.press?.(touch) ?? false),
    drag: (touch) => {
      if (held === null) own?.drag?.(touch)
      else dragHandle(held, touch)
    },
    drop: () => {
      if (held === null) own?.drop?.()
      held = null
    },
    cancel: () => {
      if (held === null) own?.cancel?.()
      else viewing.setState({ cut: held.cut })
      held = null
    },
    tap: (touch) => layTape(touch) || (own?.tap?.(touch) ?? false),
  }
}
