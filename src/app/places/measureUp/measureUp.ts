import { WorkPlan } from '../../plan/WorkPlan.tsx'
import type { Place } from '../place.ts'
import { MeasureUpPanel } from './MeasureUpPanel.tsx'

export const MEASURE_UP: Place = {
  about: 'Draw the rooms and joists as the tape says they are.', Panel: MeasureUpPanel, Stage: WorkPlan,
}
