/** What VoidView is told of the way of looking. Light: the first picture waits for it. */
import { useMemo } from 'react'
import type { Cut } from '#scene/cutAway.ts'
import { drawingWith } from '#scene/kinds.ts'
import type { Drawing } from '#scene/kinds.ts'
import { useViewing } from './viewing.ts'

export function useDrawing(): Drawing {
  const hidden = useViewing((now) => now.hidden)
  const faint = useViewing((now) => now.faint)
  return useMemo(() => drawingWith(hidden, faint), [hidden, faint])
}

export function useCut(): Cut | null {
  return useViewing((now) => now.cut)
}

export function useFaintRuns(): ReadonlySet<string> {
  return useViewing((now) => now.faintRuns)
}
