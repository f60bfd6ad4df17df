import { createElement, lazy } from 'react'
import type { Place } from '../place.ts'
import { PullInPanel } from './PullInPanel.tsx'
import { pullInHand } from './pullInHand.ts'

// drawn with three, which is no part of the first load
const InTheVoid = lazy(() => import('./InTheVoid.tsx'))

export const pullIn: Place = {
  about: 'In which order the ducts go in, and from which end.',
  Panel: PullInPanel,
  InTheVoid: () => createElement(InTheVoid),
  hand: pullInHand,
}
