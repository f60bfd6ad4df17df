import type { ComponentType } from 'react'
import type { Hand } from '#scene/hand.ts'

/** One place of the workshop: a kind of work, with what stands beside the view while it is done. */
export interface Place {
  /** what a newcomer reads under the name, one short sentence */
  readonly about: string
  /** the column beside the view (below it on a phone) */
  readonly Panel: ComponentType
  /** takes the place of the 3D view; the 3D view stays when left out */
  readonly Stage?: ComponentType
  /** what the stage is, for those who hear the page read: 'The plan' when left out */
  readonly stageName?: string
  /** a strip under the view: a run unrolled, a joist in elevation */
  readonly Inset?: ComponentType
  /** drawn in the 3D view while the place is open (VoidView's children) */
  readonly InTheVoid?: ComponentType
  /** hears touches and keys in the 3D view first (VoidView's hand) */
  readonly hand?: Hand
  /** it tells of the run that is picked out itself: no name floats at it */
  readonly tellsOfRun?: boolean
}
