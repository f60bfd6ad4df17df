import type { Place } from '../place.ts'
import { LookPanel } from './LookPanel.tsx'

export const looking: Place = {
  about: 'Cut away, hide, measure between two things, and keep a view to show.', Panel: LookPanel,
}
