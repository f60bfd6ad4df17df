import { useEffect, useMemo } from 'react'
import { BufferGeometry } from 'three'
import type { Assembly } from '#assembly/assembly.ts'
import { BOX } from '#geometry/solid/solidSet.ts'
import { Boxes } from './Boxes.tsx'
import { useMergedGeometry } from './Merged.tsx'
import { PencilLines } from './PencilLines.tsx'
import { boxChunkOf } from './boxInstances.ts'
import type { Frame } from './frame.ts'
import type { VoidMaterials } from './materials.ts'
import type { MergedMesh } from './meshSpans.ts'
import type { InFocus } from './selection.ts'

/** What is picked out, in full colour over its faded neighbours. */
export function Focus({ assembly, frame, focus, runs, shapes, materials }: {
  readonly assembly: Assembly, readonly frame: Frame, readonly focus: InFocus
  readonly runs: MergedMesh, readonly shapes: MergedMesh, readonly materials: VoidMaterials
}) {
  const boxes = useMemo(() => {
    const indices = focus.solids.filter((solid) => assembly.solids.kind[solid] === BOX)
    return indices.length === 0 ? [] : [boxChunkOf(assembly, frame, 'box', indices)]
  }, [assembly, frame, focus])
  return (
    <>
      <Boxes chunks={boxes} material={materials.boxes} name="focus-boxes" />
      <PencilLines assembly={assembly} frame={frame} material={materials.pencil} only={focus.solids} />
      {focus.solids.map((solid) => <SpanOf key={solid} mesh={shapes} index={solid} materials={materials} />)}
      {focus.runs.map((run) => <SpanOf key={run} mesh={runs} index={run} materials={materials} />)}
    </>
  )
}

/** One solid's part of a merged mesh; it shares the mesh's buffers. */
function SpanOf({ mesh, index, materials }: { readonly mesh: MergedMesh, readonly index: number, readonly materials: VoidMaterials }) {
  const whole = useMergedGeometry(mesh)
  const span = mesh.spans.find((one) => one.index === index)
  const part = useMemo(() => {
    const made = new BufferGeometry()
    if (span === undefined) return made
    for (const name of ['position', 'normal', 'color']) made.setAttribute(name, whole.getAttribute(name))
    made.setIndex(whole.getIndex())
    made.setDrawRange(span.firstIndex, span.endIndex - span.firstIndex)
    return made
  }, [whole, span])
  useEffect(() => () => { part.dispose() }, [part])
  if (span === undefined) return null
  return <mesh geometry={part} material={materials.merged} name={`focus-${index}`} dispose={null} />
}
