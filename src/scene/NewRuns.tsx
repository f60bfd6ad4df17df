import { useEffect, useMemo } from 'react'
import { DoubleSide, MeshLambertMaterial } from 'three'
import type { Assembly, PlacedRun } from '#assembly/assembly.ts'
import type { Frame } from './frame.ts'
import { Merged, useDrawable } from './Merged.tsx'
import { mergedRuns } from './meshSpans.ts'
import { useSceneFrame } from './sceneFrame.ts'

const every = (assembly: Assembly, frame: Frame) => mergedRuns(assembly, frame)

/** Runs that do not lie so in the job yet, drawn as those that do. */
export function NewRuns({ assembly, runs }: { readonly assembly: Assembly, readonly runs: readonly PlacedRun[] }) {
  const { frame } = useSceneFrame()
  const drawable = useDrawable(every, useMemo(() => ({ ...assembly, runs }), [assembly, runs]), frame)
  const material = useMemo(() => new MeshLambertMaterial({ vertexColors: true, side: DoubleSide }), [])
  useEffect(() => () => { material.dispose() }, [material])
  return <Merged of={drawable} material={material} name="new-runs" />
}
