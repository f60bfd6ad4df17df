/** What the places of the workshop draw in the void besides what is there: plain data in. All of it may be left out. */
import type { Cut } from './cutAway.ts'
import type { Xyz } from './frame.ts'
import type { Drawing } from './kinds.ts'
import type { OpeningTint } from './openingSteps.ts'

/** A ring round a run at one place. */
export interface Ring { readonly at: Xyz, readonly direction: Xyz, readonly radiusMm: number }

/** A tape pulled from one place to another. */
export interface TapeLine { readonly from: Xyz, readonly to: Xyz, readonly words: string }

/** Runs drawn at a trial size over themselves. */
export interface Ghosts {
  readonly runs: readonly number[]
  /** of those, the ones that touch something at that size */
  readonly failing: readonly number[]
  /** added to every outer diameter, mm */
  readonly growMm: number
}

export interface Label {
  readonly id: string
  readonly words: string
  /** places that it may stand at, the best first, mm */
  readonly anchors: readonly Xyz[]
  /** larger is placed first */
  readonly weight: number
  /** class of its element besides void-label */
  readonly look: string
  /** from its place to the name, CSS px; close by when left out */
  readonly offPx?: number
}

export interface Looking { readonly eyeMm: Xyz, readonly targetMm: Xyz }

export interface Extras {
  readonly drawing?: Drawing
  readonly cut?: Cut | null
  readonly tints?: readonly OpeningTint[]
  readonly ring?: Ring | null
  readonly tape?: TapeLine | null
  readonly ghosts?: Ghosts | null
  readonly labels?: readonly Label[]
  /** filled by the view: where the camera stands now */
  readonly lookNow?: { read: (() => Looking) | null }
}
