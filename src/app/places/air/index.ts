import { lazy } from 'react'
import type { Place } from '../place.ts'
import { AirPanel } from './AirPanel.tsx'

export const air: Place = {
  about: 'How much air each room gets, what it costs in pressure, how to set the valves, and what is said about noise and places.', Panel: AirPanel,
  InTheVoid: lazy(() => import('./InTheVoid.tsx')),
}
