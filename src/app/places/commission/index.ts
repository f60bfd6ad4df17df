import type { Place } from '../place.ts'
import { CommissionPanel } from './CommissionPanel.tsx'
import { CommissionStage } from './CommissionStage.tsx'

export const commission: Place = {
  about: 'With the meter from terminal to terminal: what it should read, what it reads, what to turn next, and the sheet to sign.',
  Panel: CommissionPanel, Stage: CommissionStage, stageName: 'The readings',
}
