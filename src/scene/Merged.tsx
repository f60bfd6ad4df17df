import { useEffect, useMemo } from 'react'
import { BufferAttribute, BufferGeometry } from 'three'
import type { Material } from 'three'
import type { Frame } from './frame.ts'
import type { Drawing } from './kinds.ts'
import type { MergedMesh } from './meshSpans.ts'
import type { Assembly } from '#assembly/assembly.ts'

/** A merged mesh with the graphics card's copy of it. */
export interface Drawable { readonly mesh: MergedMesh, readonly geometry: BufferGeometry }

/** Makes a merged mesh and its copy for the graphics card, and gives the copy back when it is replaced. */
export function useDrawable(make: (assembly: Assembly, frame: Frame, drawing?: Drawing) => MergedMesh, assembly: Assembly, frame: Frame, drawing?: Drawing): Drawable {
  const made = useMemo(() => {
    const mesh = make(assembly, frame, drawing)
    const geometry = new BufferGeometry()
    geometry.setAttribute('position', new BufferAttribute(mesh.positions, 3))
    geometry.setAttribute('normal', new BufferAttribute(mesh.normals, 3))
    geometry.setAttribute('color', new BufferAttribute(mesh.colours, 3))
    geometry.setIndex(new BufferAttribute(mesh.indices, 1))
    return { mesh, geometry }
  }, [make, assembly, frame, drawing])
  useEffect(() => () => { made.geometry.dispose() }, [made])
  return made
}

/** Many solids as one draw. */
export function Merged({ of: { mesh, geometry }, material, name }: { readonly of: Drawable, readonly material: Material, readonly name: string }) {
  if (mesh.indices.length === 0) return null
  return <mesh geometry={geometry} material={material} name={name} dispose={null} />
}

/** Some of the solids of a merged mesh as one draw; the vertices are the mesh's own. */
export function SomeOf({ of: { mesh, geometry }, indices, material, name }: {
  readonly of: Drawable, readonly indices: readonly number[], readonly material: Material, readonly name: string
}) {
  const part = useMemo(() => {
    const chosen = new Set(indices)
    const spans = mesh.spans.filter(({ index }) => chosen.has(index))
    const triangles = new Uint32Array(spans.reduce((sum, { firstIndex, endIndex }) => sum + endIndex - firstIndex, 0))
    let at = 0
    for (const { firstIndex, endIndex } of spans) {
      triangles.set(mesh.indices.subarray(firstIndex, endIndex), at)
      at += endIndex - firstIndex
    }
    const made = new BufferGeometry()
    for (const name of ['position', 'normal', 'color']) made.setAttribute(name, geometry.getAttribute(name))
    made.setIndex(new BufferAttribute(triangles, 1))
    return made
  }, [mesh, geometry, indices])
  useEffect(() => () => { part.dispose() }, [part])
  if (part.getIndex()?.count === 0) return null
  return <mesh geometry={part} material={material} name={name} dispose={null} />
}
