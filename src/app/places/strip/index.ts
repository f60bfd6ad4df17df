import { createElement, lazy } from 'react'
import type { Place } from '../place.ts'
import { Unroll } from './Unroll.tsx'
import { UnrollPanel } from './UnrollPanel.tsx'

// drawn with three, which is no part of the first load
const InTheVoid = lazy(() => import('./InTheVoid.tsx'))

export const strip: Place = {
  about: 'One run laid flat, with the room that it has all along.', Panel: UnrollPanel, Inset: Unroll, InTheVoid: () => createElement(InTheVoid),
  tellsOfRun: true,
}
