import type { Place } from '../place.ts'
import { Unroll } from './Unroll.tsx'
import { UnrollPanel } from './UnrollPanel.tsx'

export const strip: Place = {
  about: 'One run laid flat, with the room that it has all along.', Panel: UnrollPanel, Inset: Unroll,
}
