import { useEffect, useMemo } from 'react'
import { BoxGeometry, InstancedBufferAttribute, InstancedMesh, PlaneGeometry, Sphere, Vector3 } from 'three'
import type { BufferGeometry, Material } from 'three'
import type { BoxChunk } from './boxInstances.ts'

/** Every box: one draw to a chunk. Replaced buffers are given back to the graphics card. */
export function Boxes({ chunks, material, name }: { readonly chunks: readonly BoxChunk[], readonly material: Material, readonly name: string }) {
  const forms = useMemo(() => ({ box: new BoxGeometry(1, 1, 1), plate: new PlaneGeometry(1, 1) }), [])
  useEffect(() => () => {
    forms.box.dispose()
    forms.plate.dispose()
  }, [forms])
  return chunks.map((chunk, n) => <Chunk key={n} chunk={chunk} form={forms[chunk.form]} material={material} name={`${name}-${n}`} />)
}

function Chunk({ chunk, form, material, name }: {
  readonly chunk: BoxChunk, readonly form: BufferGeometry, readonly material: Material, readonly name: string
}) {
  const mesh = useMemo(() => {
    const made = new InstancedMesh(form, undefined, 0)
    made.count = chunk.count
    made.instanceMatrix = new InstancedBufferAttribute(chunk.matrices, 16)
    made.instanceColor = new InstancedBufferAttribute(chunk.colours, 3)
    // three would transform its form by every instance to find it
    const [x, y, z, radius] = chunk.ball
    made.boundingSphere = new Sphere(new Vector3(x, y, z), radius)
    return made
  }, [chunk, form])
  useEffect(() => () => { mesh.dispose() }, [mesh])
  return <primitive object={mesh} material={material} name={name} dispose={null} />
}
