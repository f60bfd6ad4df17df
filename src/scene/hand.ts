/** A place's own hand in the view: it is asked before the camera turns and before anything is picked out. */
import type { KeyboardEvent } from 'react'
import type { Xyz } from './frame.ts'
import type { Ray } from './pick.ts'
import type { Selection } from './selection.ts'

/** Where the view is touched or pointed at. */
export interface Touch {
  /** CSS px from the view's top left corner */
  readonly x: number
  readonly y: number
  /** from the eye, mm on site */
  readonly ray: Ray
  /** how far off a touch may be, CSS px: more for a finger than for a mouse */
  readonly reachPx: number
  /** the same on site where the scale is one, as in a plan */
  readonly reachMm?: number
  /** a mouse or pen points before it presses; a finger does not */
  readonly canHover: boolean
  /** where a place on site is drawn; null behind the eye */
  readonly toPx: (placeMm: Xyz) => readonly [number, number] | null
  /** what picking finds there */
  readonly pick: () => Selection | null
}

export interface Hand {
  /** true takes the press: the camera stays where it is, and `drag`, then `drop` or `cancel` follow */
  readonly press?: (touch: Touch) => boolean
  readonly drag?: (touch: Touch) => void
  readonly drop?: () => void
  readonly cancel?: () => void
  /** pointed at with nothing pressed; null when the pointer has left */
  readonly hover?: (touch: Touch | null) => void
  /** a press and lift in one place; false lets it pick as usual */
  readonly tap?: (touch: Touch) => boolean
  /** @param right what is to the right in the picture, level, a unit direction; true when the key was used */
  readonly key?: (event: KeyboardEvent, right: Xyz) => boolean
}
