import { useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry } from 'three'
import type { Material } from 'three'
import type { MergedMesh } from './meshSpans.ts'

/** Many solids as one draw. */
export function Merged({ mesh, material, name }: { readonly mesh: MergedMesh, readonly material: Material, readonly name: string }) {
  const geometry = useMergedGeometry(mesh)
  if (mesh.indices.length === 0) return null
  return <mesh geometry={geometry} material={material} name={name} dispose={null} />
}

/** The graphics card's copy of a mesh, given back when it is replaced. */
export function useMergedGeometry(mesh: MergedMesh): BufferGeometry {
  const geometry = useMemo(() => {
    const made = new BufferGeometry()
    made.setAttribute('position', new BufferAttribute(mesh.positions, 3))
    made.setAttribute('normal', new BufferAttribute(mesh.normals, 3))
    made.setAttribute('color', new BufferAttribute(mesh.colours, 3))
    made.setIndex(new BufferAttribute(mesh.indices, 1))
    return made
  }, [mesh])
  useEffect(() => () => { geometry.dispose() }, [geometry])
  return geometry
}
