import { useEffect, useMemo } from 'react'
import { DoubleSide, MeshLambertMaterial } from 'three'
import type { Assembly } from '#assembly/assembly.ts'
import type { Label } from './extras.ts'
import type { Frame } from './frame.ts'
import { Labels } from './Labels.tsx'
import { Merged, useDrawable } from './Merged.tsx'
import { mergedRuns } from './meshSpans.ts'
import { useSceneFrame } from './sceneFrame.ts'

/** Runs in other colours than those of their air, drawn over themselves, with what the colours stand for written at them. A child of VoidView. */
export function TintedRuns({ assembly, colours, labels }: {
  readonly assembly: Assembly
  /** by run; null leaves it as it is */
  readonly colours: readonly (string | null)[]
  readonly labels: readonly Label[]
}) {
  const { frame, tags } = useSceneFrame()
  const make = useMemo(() => (all: Assembly, at: Frame) => mergedRuns(all, at, (index) => colours[index] != null, (_, index) => colours[index]!), [colours])
  const drawable = useDrawable(make, assembly, frame)
  // a hair nearer than the run itself, so that the two do not flicker
  const material = useMemo(() => new MeshLambertMaterial({ vertexColors: true, side: DoubleSide, polygonOffset: true, polygonOffsetFactor: -2, polygonOffsetUnits: -8 }), [])
  useEffect(() => () => { material.dispose() }, [material])
  return (
    <>
      <Merged of={drawable} material={material} name="tinted-runs" />
      <Labels labels={labels} cut={null} frame={frame} tags={tags} />
    </>
  )
}
