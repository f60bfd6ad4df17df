import { createElement, lazy } from 'react'
import { WorkPlan } from '../../plan/WorkPlan.tsx'
import type { Place } from '../place.ts'
import { SetDownPanel } from './SetDownPanel.tsx'
import { setDownHand } from './setDownHand.ts'

// drawn with three, which is no part of the first load
const InTheVoid = lazy(() => import('./InTheVoid.tsx'))

export const SET_DOWN: Place = {
  about: 'Put the unit, manifolds and plenums where they go.', Panel: SetDownPanel, Stage: WorkPlan,
  InTheVoid: () => createElement(InTheVoid),
  hand: setDownHand,
}
