import type { RootState } from '@react-three/fiber'
import { Vector3 } from 'three'
import type { PerspectiveCamera } from 'three'

const TARGET = new Vector3()

/** How large a metre is on the screen, CSS px, at the place that the camera turns about; 0 before there is one. */
export function pxToMetre({ camera, controls, size }: Pick<RootState, 'camera' | 'controls' | 'size'>): number {
  const rig = controls as { getTarget?: (out: Vector3) => Vector3 } | null
  if (rig?.getTarget === undefined) return 0
  const distance = camera.position.distanceTo(rig.getTarget(TARGET))
  return size.height / (2 * Math.tan((camera as PerspectiveCamera).fov * Math.PI / 360) * Math.max(distance, 1e-3))
}
