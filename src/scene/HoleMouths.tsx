import { useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry, DoubleSide } from 'three'
import type { Assembly } from '#assembly/assembly.ts'
import type { Frame } from './frame.ts'
import { holeMouthsOf } from './holeMouths.ts'
import { HOLE } from './palette.ts'

/** Drilled holes and sleeves, all in one draw. */
export function HoleMouths({ assembly, frame, faded }: { readonly assembly: Assembly, readonly frame: Frame, readonly faded: boolean }) {
  const geometry = useMemo(() => {
    const { positions, indices } = holeMouthsOf(assembly, frame)
    const made = new BufferGeometry()
    made.setAttribute('position', new BufferAttribute(positions, 3))
    made.setIndex(new BufferAttribute(indices, 1))
    return made
  }, [assembly, frame])
  useEffect(() => () => { geometry.dispose() }, [geometry])
  if (geometry.getIndex()?.count === 0) return null
  return (
    <mesh geometry={geometry} name="hole-mouths" dispose={null}>
      <meshBasicMaterial color={HOLE} side={DoubleSide} transparent opacity={faded ? 0.3 : 1} depthWrite={!faded} forceSinglePass />
    </mesh>
  )
}
