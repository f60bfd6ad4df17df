import { useMemo } from 'react'
import { placed } from '#assembly/place.ts'
import { axesOfRotation } from '#geometry/solid/rotation.ts'
import type { Xyz } from './frame.ts'
import { toScene } from './frame.ts'
import { PENCIL } from './palette.ts'
import { useSceneFrame } from './sceneFrame.ts'
import { WideLine } from './WideLine.tsx'

/** corners by their signs along x, y and z, so that the line goes over all twelve edges */
const WAY = [[-1, -1, -1], [1, -1, -1], [1, 1, -1], [-1, 1, -1], [-1, -1, -1], [-1, -1, 1], [1, -1, 1], [1, -1, -1], [1, -1, 1], [1, 1, 1], [1, 1, -1], [1, 1, 1], [-1, 1, 1], [-1, 1, -1], [-1, 1, 1], [-1, -1, 1]] as const

/** The edges of a box where a piece of equipment would stand, and the line that its spigot looks along. */
export function GhostBox({ centre, sizeMm, rotationDeg, from, to }: { readonly centre: Xyz, readonly sizeMm: Xyz, readonly rotationDeg: Xyz, readonly from: Xyz, readonly to: Xyz }) {
  const { frame } = useSceneFrame()
  const edges = useMemo(() => {
    const axes = axesOfRotation(...rotationDeg)
    return WAY.map(([x, y, z]) => toScene(frame, ...placed(centre, axes, x * sizeMm[0] / 2, y * sizeMm[1] / 2, z * sizeMm[2] / 2)))
  }, [frame, centre, sizeMm, rotationDeg])
  const axis = useMemo(() => [toScene(frame, ...from), toScene(frame, ...to)], [frame, from, to])
  return (
    <>
      <WideLine points={edges} widthPx={4} colour={PENCIL} renderOrder={8} />
      <WideLine points={axis} widthPx={3} colour={PENCIL} renderOrder={8} />
    </>
  )
}
