import { MeshBuilder } from './meshBuilder.ts'
import type { SolidMesh } from './meshBuilder.ts'

/** A packed box as 12 triangles, each face with its own corners so that its edges stay sharp. */
export function boxMesh(data: Float64Array, s: number): SolidMesh {
  const mesh = new MeshBuilder()
  for (let k = 0; k < 3; k++) {
    for (const side of [-1, 1]) {
      const p = (k + 1) % 3, q = (k + 2) % 3
      const normal = [0, 1, 2].map(i => side * data[s + 6 + 3 * k + i])
      const corners = [[-1, -1], [1, -1], [1, 1], [-1, 1]].map(([sp, sq]) => {
        const signs = [0, 0, 0]
        signs[k] = side
        signs[p] = sp
        signs[q] = sq
        const point = [0, 1, 2].map(i => data[s + i]
          + signs[0] * data[s + 3] * data[s + 6 + i]
          + signs[1] * data[s + 4] * data[s + 9 + i]
          + signs[2] * data[s + 5] * data[s + 12 + i])
        return mesh.addVertex(point[0], point[1], point[2], normal[0], normal[1], normal[2])
      })
      if (side > 0) mesh.addQuad(corners[0], corners[1], corners[2], corners[3])
      else mesh.addQuad(corners[3], corners[2], corners[1], corners[0])
    }
  }
  return mesh.build()
}
