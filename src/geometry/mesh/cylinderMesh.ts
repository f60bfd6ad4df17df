import { axesAlong } from '../solid/rotation.ts'
import { MeshBuilder, sidesOfCircle } from './meshBuilder.ts'
import type { SolidMesh } from './meshBuilder.ts'

/** A packed cylinder with flat ends; no point of it further than `errorMm` from the true one. */
export function cylinderMesh(data: Float64Array, s: number, errorMm: number): SolidMesh {
  const mesh = new MeshBuilder()
  const radius = data[s + 6], half = data[s + 7]
  const axis = data.subarray(s + 3, s + 6)
  const [, , , px, py, pz, qx, qy, qz] = axesAlong(axis)
  const sides = sidesOfCircle(radius, 2 * Math.PI, errorMm, 8)
  const rings = [-half, half].map(along => Array.from({ length: sides }, (_, i) => {
    const c = Math.cos(2 * Math.PI * i / sides), d = Math.sin(2 * Math.PI * i / sides)
    const nx = c * px + d * qx, ny = c * py + d * qy, nz = c * pz + d * qz
    return {
      nx, ny, nz,
      x: data[s] + along * axis[0] + radius * nx,
      y: data[s + 1] + along * axis[1] + radius * ny,
      z: data[s + 2] + along * axis[2] + radius * nz,
    }
  }))
  const [low, high] = rings.map(ring => ring.map(v => mesh.addVertex(v.x, v.y, v.z, v.nx, v.ny, v.nz)))
  for (let i = 0; i < sides; i++) {
    const j = (i + 1) % sides
    mesh.addQuad(low[i], low[j], high[j], high[i])
  }
  for (const [end, ring] of rings.entries()) {
    const outward = end === 0 ? -1 : 1
    const cap = ring.map(v => mesh.addVertex(v.x, v.y, v.z, outward * axis[0], outward * axis[1], outward * axis[2]))
    for (let i = 1; i + 1 < sides; i++) {
      if (outward > 0) mesh.addTriangle(cap[0], cap[i], cap[i + 1])
      else mesh.addTriangle(cap[0], cap[i + 1], cap[i])
    }
  }
  return mesh.build()
}
