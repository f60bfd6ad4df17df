import { createContext, use } from 'react'
import type { RefObject } from 'react'
import type { Frame } from './frame.ts'

/** What drawn things of a place need of the view that they are put into. */
export interface SceneFrame {
  readonly frame: Frame
  /** where names and figures are put, over the picture */
  readonly tags: RefObject<HTMLDivElement | null>
}

export const SceneFrameContext = createContext<SceneFrame | null>(null)

export function useSceneFrame(): SceneFrame {
  const found = use(SceneFrameContext)
  if (found === null) throw new Error('useSceneFrame: only within the view')
  return found
}
