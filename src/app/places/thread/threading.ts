/** What is in hand while runs are threaded: the run being laid, what is pointed at, the point that is chosen. The job itself is changed on the bench only. */
import { createStore } from 'zustand/vanilla'
import { useStore } from 'zustand'
import { mm } from '#checks/wording.ts'
import type { GatePreview } from '#routing/threadPreview.ts'
import type { Gate, Threaded } from '#routing/threadRun.ts'
import type { RunEnd } from '#model/index.ts'
import type { Xyz } from '#scene/frame.ts'
import type { Least } from './leastBeside.ts'

/** A run from its spigot on, as far as it has been threaded. */
export interface Laying {
  readonly typeId: string
  readonly from: RunEnd
  readonly gates: readonly Gate[]
  /** null until it is ended */
  readonly to: RunEnd | null
  /** of the job's run that is threaded anew: its ends stay, and its course until the new one is taken */
  readonly anewId?: string
  /** as it would lie; null while there is nothing to draw */
  readonly laid: Threaded | null
}

/** What the next tap would do. */
export type Aim =
  | { readonly kind: 'opening', readonly gate: Gate & { readonly kind: 'opening' }, readonly preview: GatePreview, readonly words: string }
  | { readonly kind: 'hole', readonly gate: Gate & { readonly kind: 'hole' }, readonly words: string }
  | { readonly kind: 'bay', readonly gate: Gate & { readonly kind: 'point' }, readonly words: string }
  | { readonly kind: 'end', readonly end: RunEnd, readonly at: Xyz, readonly words: string }

export interface Threading {
  readonly laying: Laying | null
  readonly aim: Aim | null
  /** keys of ends that lie on one another where a thumb was: one of them is meant */
  readonly several: readonly string[]
  /** duct type for the next run; null takes the one that fits the spigot */
  readonly typeId: string | null
  /** of the run that is picked out: which of its points is worked on */
  readonly point: { readonly runId: string, readonly index: number } | null
  /** which way a point goes when it is pulled */
  readonly lift: 'level' | 'upright'
  /** at the point that is being moved: what its two legs come nearest to */
  readonly least: Least | null
  readonly isPulling: boolean
  /** working out what a pull did, its findings, its clearance and its tube, the last time, ms */
  readonly pullMs: number | null
  /** said aloud and shown: what was done, or why not */
  readonly said: string
}

export const EMPTY_HANDS: Threading = {
  laying: null, aim: null, several: [], typeId: null, point: null, lift: 'level', least: null, isPulling: false, pullMs: null, said: '',
}

export const threading = createStore<Threading>()(() => EMPTY_HANDS)

export function useThreading<T>(select: (state: Threading) => T): T {
  return useStore(threading, select)
}

/** '12.4 mm to joist J4, web 3', or how far into it. */
export function leastWords({ clearanceMm, name }: Least): string {
  return clearanceMm < 0 ? `${mm(-clearanceMm)} into ${name}` : `${mm(clearanceMm)} to ${name}`
}

let isFresh = false

/** Stays until something else is said or taken in hand. */
export function say(said: string): void {
  threading.setState({ said })
  isFresh = true
  setTimeout(() => { isFresh = false }, 0)
}

/** What was said of something else is not left standing; what was said in the same breath is. */
export function hush(): void {
  if (!isFresh) threading.setState({ said: '' })
}
