/** How the air's place looks at the job: at which speed, and what the runs are coloured by. Nothing here is part of the job. */
import { createStore } from 'zustand/vanilla'
import { useStore } from 'zustand'
import type { FanSpeed } from '#model/index.ts'

export interface AirView {
  readonly speed: FanSpeed
  readonly tint: 'none' | 'speed' | 'pressure'
}
export const airView = createStore<AirView>()(() => ({ speed: 'boost', tint: 'none' }))

export function useAirView<T>(select: (state: AirView) => T): T {
  return useStore(airView, select)
}
