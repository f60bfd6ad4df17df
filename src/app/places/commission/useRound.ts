import { useMemo } from 'react'
import { createStore } from 'zustand/vanilla'
import { useStore } from 'zustand'
import { useBench } from '../../editing/useBench.ts'
import { roundOf, type Round } from './rounds.ts'

/** What is in hand on this screen; the record itself is part of the job. */
export interface InHand {
  /** id of the terminal that was picked by hand; null follows what is next */
  readonly picked: string | null
  /** what was just taken, for the line that says so */
  readonly said: string
  readonly isSheetOpen: boolean
}
export const inHand = createStore<InHand>()(() => ({ picked: null, said: '', isSheetOpen: false }))

export function useInHand<T>(select: (state: InHand) => T): T {
  return useStore(inHand, select)
}

/** null with no job on the bench. */
export function useRound(): Round | null {
  const assembly = useBench((now) => now.assembly)
  return useMemo(() => assembly === null ? null : roundOf(assembly), [assembly])
}
