import { useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry } from 'three'
import type { Material } from 'three'
import type { Assembly } from '#assembly/assembly.ts'
import type { Frame } from './frame.ts'
import { pencilLinesOf } from './pencilLines.ts'

/** Edges of boxes, all of them or only some. */
export function PencilLines({ assembly, frame, material, only }: {
  readonly assembly: Assembly, readonly frame: Frame, readonly material: Material, readonly only?: readonly number[]
}) {
  const geometry = useMemo(() => {
    const made = new BufferGeometry()
    made.setAttribute('position', new BufferAttribute(pencilLinesOf(assembly, frame, only), 3))
    return made
  }, [assembly, frame, only])
  useEffect(() => () => { geometry.dispose() }, [geometry])
  if (geometry.getAttribute('position').count === 0) return null
  return <lineSegments geometry={geometry} material={material} name="pencil" dispose={null} />
}
