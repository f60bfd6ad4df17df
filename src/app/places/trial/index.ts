import type { Place } from '../place.ts'
import { TrialPanel } from './TrialPanel.tsx'

export const trial: Place = {
  about: 'Larger or smaller ducts, to see what they touch first. Nothing in the job changes.', Panel: TrialPanel,
}
