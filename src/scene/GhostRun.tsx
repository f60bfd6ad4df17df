import { useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry, DoubleSide } from 'three'
import type { PlacedRun } from '#assembly/assembly.ts'
import { MM_PER_UNIT, toScene } from './frame.ts'
import { tubeOf } from './meshSpans.ts'
import { PENCIL, SEVERITY_COLOURS } from './palette.ts'
import { useSceneFrame } from './sceneFrame.ts'
import { WideLine } from './WideLine.tsx'

/** like no air's colour */
const GHOST = '#ffffff'

/** A run that is not in the job yet, or is to stand out from the others: seen through everything that stands before it, its way drawn as a line. */
export function GhostRun({ placed, isGood, colour = GHOST, isOver = false }: {
  readonly placed: PlacedRun, readonly isGood: boolean, readonly colour?: string
  /** drawn after other ghosts, so that it is seen where they lie in one place */
  readonly isOver?: boolean
}) {
  const order = isOver ? 9 : 7
  const { frame } = useSceneFrame()
  const { tube, line } = useMemo(() => {
    const mesh = tubeOf(placed)
    const tube = new BufferGeometry()
    tube.setAttribute('position', new BufferAttribute(mesh.positions.map((value, i) => (value - frame.originMm[i % 3]) / MM_PER_UNIT), 3))
    tube.setAttribute('normal', new BufferAttribute(mesh.normals, 3))
    tube.setIndex(new BufferAttribute(mesh.indices, 1))
    return { tube, line: placed.run.waypoints.map(({ at: [x, y, z] }) => toScene(frame, x, y, z)) }
  }, [placed, frame])
  useEffect(() => () => { tube.dispose() }, [tube])
  return (
    <>
      <mesh geometry={tube} renderOrder={order} name="ghost-run" dispose={null}>
        <meshLambertMaterial color={isGood ? colour : SEVERITY_COLOURS.stop} transparent opacity={0.78} depthTest={false} depthWrite={false} side={DoubleSide} forceSinglePass />
      </mesh>
      <WideLine points={line} widthPx={3} colour={PENCIL} renderOrder={order + 1} />
    </>
  )
}
