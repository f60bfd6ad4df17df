import { useFrame } from '@react-three/fiber'
import type { Material, PerspectiveCamera } from 'three'
import { Vector3 } from 'three'

const HEAVY = 0.5
const LIGHT = 0.06
/** pixels that a metre must take for lines to be at their heaviest */
const PX_TO_METRE = 160

/** Lines grow lighter as the camera goes away, so that a whole floor is timber and not a heap of lines. */
export function PencilWeight({ material }: { readonly material: Material }) {
  useFrame(({ camera, controls, size }) => {
    const rig = controls as { getTarget?: (out: Vector3) => Vector3 } | null
    if (rig?.getTarget === undefined) return
    const distance = camera.position.distanceTo(rig.getTarget(TARGET))
    const pxToMetre = size.height / (2 * Math.tan((camera as PerspectiveCamera).fov * Math.PI / 360) * Math.max(distance, 1e-3))
    material.opacity = Math.max(LIGHT, Math.min(HEAVY, HEAVY * pxToMetre / PX_TO_METRE))
  })
  return null
}

const TARGET = new Vector3()
