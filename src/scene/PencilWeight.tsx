import { useFrame } from '@react-three/fiber'
import type { Material } from 'three'
import { pxToMetre } from './nearness.ts'

const HEAVY = 0.5
const LIGHT = 0.06
/** CSS px that a metre takes where lines are at their heaviest */
const HEAVY_PX_TO_METRE = 160

/** Lines grow lighter as the camera goes away, so that a whole floor is timber and not a heap of lines. */
export function PencilWeight({ material }: { readonly material: Material }) {
  useFrame((state) => {
    material.opacity = Math.max(LIGHT, Math.min(HEAVY, HEAVY * pxToMetre(state) / HEAVY_PX_TO_METRE))
  })
  return null
}
