import { createElement, lazy } from 'react'
import type { Place } from '../place.ts'
import { ThreadPanel } from './ThreadPanel.tsx'
import { threadHand } from './threadHand.ts'

// drawn with three, which is no part of the first load
const InTheVoid = lazy(() => import('./InTheVoid.tsx'))

export const thread: Place = {
  about: 'Take a duct from spigot to spigot through the joists, or change one.',
  Panel: ThreadPanel,
  InTheVoid: () => createElement(InTheVoid),
  hand: threadHand,
  tellsOfRun: true,
}
