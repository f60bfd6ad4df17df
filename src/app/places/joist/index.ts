import type { Place } from '../place.ts'
import { JoistInset } from './JoistInset.tsx'
import { JoistPanel } from './JoistPanel.tsx'

export const joist: Place = {
  about: 'A joist seen square on: what each opening takes, and what goes through it.', Panel: JoistPanel, Inset: JoistInset,
}
