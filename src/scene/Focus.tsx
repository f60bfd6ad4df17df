import { useMemo } from 'react'
import type { Assembly } from '#assembly/assembly.ts'
import { BOX } from '#geometry/solid/solidSet.ts'
import { Boxes } from './Boxes.tsx'
import { SomeOf } from './Merged.tsx'
import type { Drawable } from './Merged.tsx'
import { PencilLines } from './PencilLines.tsx'
import { boxChunkOf } from './boxInstances.ts'
import type { Frame } from './frame.ts'
import type { VoidMaterials } from './materials.ts'
import type { InFocus } from './selection.ts'

/** What is picked out, in full colour over its faded neighbours. */
export function Focus({ assembly, frame, focus, runs, shapes, thinShapes, materials }: {
  readonly assembly: Assembly, readonly frame: Frame, readonly focus: InFocus
  readonly runs: Drawable, readonly shapes: Drawable, readonly thinShapes: Drawable, readonly materials: VoidMaterials
}) {
  const boxes = useMemo(() => {
    const indices = focus.solids.filter((solid) => assembly.solids.kind[solid] === BOX)
    return indices.length === 0 ? [] : [boxChunkOf(assembly, frame, 'box', indices)]
  }, [assembly, frame, focus])
  return (
    <>
      <Boxes chunks={boxes} material={materials.boxes} name="focus-boxes" />
      <PencilLines assembly={assembly} frame={frame} material={materials.pencil} only={focus.solids} />
      <SomeOf of={shapes} indices={focus.solids} material={materials.merged} name="focus-shapes" />
      <SomeOf of={thinShapes} indices={focus.solids} material={materials.merged} name="focus-thin-shapes" />
      <SomeOf of={runs} indices={focus.runs} material={materials.merged} name="focus-runs" />
    </>
  )
}
