/** The runs as two meshes: the one that is being worked on by itself, or those that are drawn faint, and all others together. A drag then makes one tube anew, and nothing else. */
import { useMemo, useRef } from 'react'
import type { Assembly } from '#assembly/assembly.ts'
import { useDrawable } from './Merged.tsx'
import type { Drawable } from './Merged.tsx'
import type { Frame } from './frame.ts'
import { mergedRuns } from './meshSpans.ts'

export function useRunDrawables(assembly: Assembly, frame: Frame, apart: ReadonlySet<string>): { readonly others: Drawable, readonly active: Drawable } {
  const makeOthers = useMemo(() => (all: Assembly, at: Frame) => mergedRuns(all, at, (index) => !apart.has(all.runs[index].run.id)), [apart])
  const makeActive = useMemo(() => (all: Assembly, at: Frame) => mergedRuns(all, at, (index) => apart.has(all.runs[index].run.id)), [apart])
  const settled = useKept(assembly, (was) => was.runs.length === assembly.runs.length
    && was.runs.every((placed, index) => apart.has(placed.run.id) && placed.run.id === assembly.runs[index].run.id || placed === assembly.runs[index]))
  return { others: useDrawable(makeOthers, settled, frame), active: useDrawable(makeActive, assembly, frame) }
}

/** The assembly as it was for as long as nothing but its runs changes. */
export function useStill(assembly: Assembly): Assembly {
  return useKept(assembly, (was) => was.solids === assembly.solids && was.joists === assembly.joists && was.zones === assembly.zones
    && was.holes === assembly.holes && was.sleeves === assembly.sleeves && was.parts === assembly.parts)
}

function useKept<T>(value: T, isSame: (was: T) => boolean): T {
  const kept = useRef(value)
  if (kept.current !== value && !isSame(kept.current)) kept.current = value
  return kept.current
}
