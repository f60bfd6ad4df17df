/** How the void is looked at: what is hidden, cut away, named, measured and tried. Nothing here is part of the job or of its steps; saved views are commands. */
import { createStore } from 'zustand/vanilla'
import { useStore } from 'zustand'
import type { TapeEnd } from '#checks/tape.ts'
import type { TrialList } from '#routing/trialList.ts'
import type { Cut } from '#scene/cutAway.ts'
import type { Looking } from '#scene/extras.ts'
import type { Kind } from '#scene/kinds.ts'

export type PlaceId = 'strip' | 'joist' | 'trial' | 'looking'

/** Which runs are tried: one, those of a group, or all. */
export type TrialSet = { readonly kind: 'run', readonly runId: string } | { readonly kind: 'group', readonly group: string } | { readonly kind: 'all' }

export interface Viewing {
  /** places whose panels are on the screen: what they draw in the void is drawn then only */
  readonly open: ReadonlySet<PlaceId>
  readonly hidden: ReadonlySet<Kind>
  readonly faint: ReadonlySet<Kind>
  readonly cut: Cut | null
  readonly namesRuns: boolean
  readonly namesJoists: boolean
  /** the two ends of the tape; the first that is null is picked next */
  readonly tapeEnds: readonly [TapeEnd | null, TapeEnd | null]
  /** touching a thing in the view lays an end of the tape on it */
  readonly tapeHeld: boolean
  /** what the last touch with the tape came to, when it laid no end */
  readonly tapeMissed: string
  readonly stripRunId: string | null
  readonly stationMm: number
  /** heights and lengths at one scale, or heights stretched */
  readonly isTrueScale: boolean
  readonly joistId: string | null
  /** which openings can take this, mm; null for all of them by size */
  readonly wantedMm: number | null
  readonly tintsOpenings: boolean
  /** added to the ducts in the joist view, mm in diameter */
  readonly joistGrowMm: number
  /** ids of runs that are drawn faint: old courses while new ones are looked at, ducts that are not in yet */
  readonly faintRuns: ReadonlySet<string>
  readonly trialSet: TrialSet
  readonly trialGrowMm: number
  readonly trialList: TrialList | null
}

export const viewing = createStore<Viewing>()(() => ({
  open: new Set(), hidden: new Set(), faint: new Set(), cut: null, namesRuns: false, namesJoists: false, tapeEnds: [null, null], tapeHeld: false, tapeMissed: '',
  stripRunId: null, stationMm: 0, isTrueScale: false, joistId: null, wantedMm: null, tintsOpenings: true, joistGrowMm: 0, faintRuns: new Set(),
  trialSet: { kind: 'all' }, trialGrowMm: 0, trialList: null,
}))

export function useViewing<T>(select: (state: Viewing) => T): T {
  return useStore(viewing, select)
}

/** filled by the view: where the camera stands now */
export const lookNow: { read: (() => Looking) | null } = { read: null }

export function setOpen(place: PlaceId, isOpen: boolean): void {
  viewing.setState((now) => {
    const open = new Set(now.open)
    if (isOpen) open.add(place)
    else open.delete(place)
    return { open, tapeHeld: place === 'looking' && !isOpen ? false : now.tapeHeld }
  })
}

/** From drawn as usual to faint, to hidden, and back. */
export function turnKind(kind: Kind): void {
  viewing.setState((now) => {
    const hidden = new Set(now.hidden), faint = new Set(now.faint)
    if (hidden.delete(kind)) return { hidden, faint }
    if (faint.delete(kind)) hidden.add(kind)
    else faint.add(kind)
    return { hidden, faint }
  })
}

export function showAllKinds(): void {
  viewing.setState({ hidden: new Set(), faint: new Set() })
}

/** Lays the end that is still free on something; with both laid a new measure begins. */
export function layTapeEnd(end: TapeEnd): void {
  viewing.setState(({ tapeEnds: [from, to] }) => ({ tapeEnds: from === null || to !== null ? [end, null] : [from, end], tapeMissed: '' }))
}
