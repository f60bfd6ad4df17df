import earcut from 'earcut'
import { ringsOf } from '../solid/degenerate.ts'
import { MeshBuilder } from './meshBuilder.ts'
import type { SolidMesh } from './meshBuilder.ts'

/** A packed prism: its caps cut into triangles round any holes, and its sides, all edges sharp. */
export function prismMesh(data: Float64Array, s: number): SolidMesh {
  const mesh = new MeshBuilder()
  const bottom = data[s + 12], top = data[s + 13]
  const rings = ringsOf(data, s)
  const addVertex = (u: number, v: number, w: number, nu: number, nv: number, nw: number) => mesh.addVertex(
    data[s] + u * data[s + 3] + v * data[s + 6] + w * data[s + 9],
    data[s + 1] + u * data[s + 4] + v * data[s + 7] + w * data[s + 10],
    data[s + 2] + u * data[s + 5] + v * data[s + 8] + w * data[s + 11],
    nu * data[s + 3] + nv * data[s + 6] + nw * data[s + 9],
    nu * data[s + 4] + nv * data[s + 7] + nw * data[s + 10],
    nu * data[s + 5] + nv * data[s + 8] + nw * data[s + 11],
  )

  const corners: number[] = [], holeStarts: number[] = []
  for (const [i, ring] of rings.entries()) {
    if (i > 0) holeStarts.push(corners.length / 2)
    corners.push(...ring)
  }
  const triangles = earcut(corners, holeStarts)
  for (const w of [bottom, top]) {
    const outward = w === top ? 1 : -1
    const first = corners.length / 2 === 0 ? 0 : addVertex(corners[0], corners[1], w, 0, 0, outward)
    for (let i = 2; i < corners.length; i += 2) addVertex(corners[i], corners[i + 1], w, 0, 0, outward)
    for (let t = 0; t < triangles.length; t += 3) {
      const a = triangles[t], b = triangles[t + 1], c = triangles[t + 2]
      const turn = (corners[2 * b] - corners[2 * a]) * (corners[2 * c + 1] - corners[2 * a + 1])
        - (corners[2 * b + 1] - corners[2 * a + 1]) * (corners[2 * c] - corners[2 * a])
      if (turn > 0 === outward > 0) mesh.addTriangle(first + a, first + b, first + c)
      else mesh.addTriangle(first + a, first + c, first + b)
    }
  }
  // outline counter-clockwise, holes clockwise: the material is on the left, so outward is on the right
  for (const ring of rings) {
    for (let i = 0, n = ring.length; i < n; i += 2) {
      const j = (i + 2) % n
      const du = ring[j] - ring[i], dv = ring[j + 1] - ring[i + 1], length = Math.hypot(du, dv) || 1
      const nu = dv / length, nv = -du / length
      mesh.addQuad(
        addVertex(ring[i], ring[i + 1], bottom, nu, nv, 0), addVertex(ring[j], ring[j + 1], bottom, nu, nv, 0),
        addVertex(ring[j], ring[j + 1], top, nu, nv, 0), addVertex(ring[i], ring[i + 1], top, nu, nv, 0),
      )
    }
  }
  return mesh.build()
}
