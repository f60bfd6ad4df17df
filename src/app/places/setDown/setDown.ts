import { WorkPlan } from '../../plan/WorkPlan.tsx'
import type { Place } from '../place.ts'
import { SetDownPanel } from './SetDownPanel.tsx'

export const SET_DOWN: Place = {
  about: 'Put the unit, manifolds and plenums where they go.', Panel: SetDownPanel, Stage: WorkPlan,
}
