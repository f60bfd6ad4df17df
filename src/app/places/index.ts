/**
 * The places of the workshop in the order of the work. A new place is its folder and a line here. Each comes in a file of its
 * own when it is first opened; the first, where the verdict is read, is the desk itself.
 */
import type { Place } from './place.ts'

export interface PlaceLink {
  readonly id: string
  /** one or two words */
  readonly name: string
  readonly load: () => Promise<Place>
}

/** Where a job opens: the verdict and the lists. */
export const CHECK = 'check'

export const PLACES: readonly PlaceLink[] = [
  { id: 'measure-up', name: 'Measure up', load: async () => (await import('./measureUp/measureUp.ts')).MEASURE_UP },
  { id: 'set-down', name: 'Set down', load: async () => (await import('./setDown/setDown.ts')).SET_DOWN },
  { id: 'thread', name: 'Thread', load: async () => (await import('./thread/index.ts')).thread },
  { id: 'strip', name: 'Unroll', load: async () => (await import('./strip/index.ts')).strip },
  { id: 'joist', name: 'Joists', load: async () => (await import('./joist/index.ts')).joist },
  { id: 'trial', name: 'Try sizes', load: async () => (await import('./trial/index.ts')).trial },
  { id: 'pull-in', name: 'Pull in', load: async () => (await import('./pullIn/index.ts')).pullIn },
  { id: 'air', name: 'Air', load: async () => (await import('./air/index.ts')).air },
  { id: 'commission', name: 'Commission', load: async () => (await import('./commission/index.ts')).commission },
  { id: 'sheets', name: 'Sheets', load: async () => (await import('./sheets/index.ts')).sheetsPlace },
  { id: 'looking', name: 'Look round', load: async () => (await import('./looking/index.ts')).looking },
]
