import { useFrame } from '@react-three/fiber'
import type { Material } from 'three'
import { pxToMetre } from './nearness.ts'

const USUAL = { heavy: 0.5, light: 0.06 }, STRONG = { heavy: 1, light: 0.3 }
/** CSS px that a metre takes where lines are at their heaviest */
const HEAVY_PX_TO_METRE = 160

/** Lines grow lighter as the camera goes away, so that a whole floor is timber and not a heap of lines. */
export function PencilWeight({ material, isStrong }: { readonly material: Material, readonly isStrong: boolean }) {
  const { heavy, light } = isStrong ? STRONG : USUAL
  useFrame((state) => {
    material.opacity = Math.max(light, Math.min(heavy, heavy * pxToMetre(state) / HEAVY_PX_TO_METRE))
  })
  return null
}
