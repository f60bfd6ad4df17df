import { createElement, lazy } from 'react'
import type { Place } from '../place.ts'
import { SheetStage } from './SheetStage.tsx'
import { SheetsPanel } from './SheetsPanel.tsx'

// drawn with three, which is no part of the first load
const InTheVoid = lazy(() => import('./InTheVoid.tsx'))

export const sheetsPlace: Place = {
  about: 'Drawings and lists for the site, a page for the client, and what changed since an older file.',
  Panel: SheetsPanel, Stage: SheetStage, stageName: 'The sheet', InTheVoid: () => createElement(InTheVoid),
}
