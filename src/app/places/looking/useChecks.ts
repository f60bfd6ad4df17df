import { useEffect, useMemo, useRef } from 'react'
import type { CheckContext } from '#checks/context.ts'
import { bench } from '../../editing/theBench.ts'
import { useBench } from '../../editing/useBench.ts'
import { setOpen } from './viewing.ts'
import type { PlaceId } from './viewing.ts'

/** The checks' look-ups of the job as shown, renewed with it; null with no job. */
export function useChecks(): CheckContext | null {
  const assembly = useBench((now) => now.assembly)
  return useMemo(() => assembly === null ? null : bench.context(), [assembly])
}

/** The same, but as it was while something is being dragged: for what takes longer than a frame. */
export function useSettledChecks(): CheckContext | null {
  const checks = useChecks()
  const isDragging = useBench((now) => now.drag !== null)
  const kept = useRef(checks)
  if (!isDragging) kept.current = checks
  return kept.current
}

/** Tells the view that this place is on the screen for as long as it is. */
export function useOpen(place: PlaceId): void {
  useEffect(() => {
    setOpen(place, true)
    return () => { setOpen(place, false) }
  }, [place])
}
