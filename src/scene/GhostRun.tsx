import { useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry, DoubleSide } from 'three'
import type { PlacedRun } from '#assembly/assembly.ts'
import { MM_PER_UNIT } from './frame.ts'
import { tubeOf } from './meshSpans.ts'
import { PENCIL, SEVERITY_COLOURS, TAPE } from './palette.ts'
import { useSceneFrame } from './sceneFrame.ts'
import './threeLine.ts'

/** A run that is not in the job yet: seen through everything that stands before it, its way drawn as a line. */
export function GhostRun({ placed, isGood }: { readonly placed: PlacedRun, readonly isGood: boolean }) {
  const { frame } = useSceneFrame()
  const { tube, line } = useMemo(() => {
    const mesh = tubeOf(placed)
    const tube = new BufferGeometry(), line = new BufferGeometry()
    tube.setAttribute('position', new BufferAttribute(mesh.positions.map((value, i) => (value - frame.originMm[i % 3]) / MM_PER_UNIT), 3))
    tube.setAttribute('normal', new BufferAttribute(mesh.normals, 3))
    tube.setIndex(new BufferAttribute(mesh.indices, 1))
    line.setAttribute('position', new BufferAttribute(Float32Array.from(placed.run.waypoints.flatMap(({ at }) => at.map((value, k) => (value - frame.originMm[k]) / MM_PER_UNIT))), 3))
    return { tube, line }
  }, [placed, frame])
  useEffect(() => () => {
    tube.dispose()
    line.dispose()
  }, [tube, line])
  return (
    <>
      <mesh geometry={tube} renderOrder={7} name="ghost-run" dispose={null}>
        <meshLambertMaterial color={isGood ? TAPE : SEVERITY_COLOURS.stop} transparent opacity={0.62} depthTest={false} depthWrite={false} side={DoubleSide} forceSinglePass />
      </mesh>
      <threeLine geometry={line} renderOrder={8} dispose={null}>
        <lineBasicMaterial color={PENCIL} depthTest={false} transparent />
      </threeLine>
    </>
  )
}
