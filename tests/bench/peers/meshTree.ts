/**
 * Bounding volumes over triangles (three-mesh-bvh): every box is twelve triangles of one mesh, a run a chain of segments. It sees
 * surfaces only, so a centreline wholly inside a solid is told its distance to the skin, and overlap past the axis has no sign.
 */
import { BufferAttribute, BufferGeometry, Line3, Vector3, type Box3 } from 'three'
import { MeshBVH, type ExtendedTriangle } from 'three-mesh-bvh'
import type { SolidSet } from '#geometry/solid/solidSet.ts'
import { NEAR_MM, OUTER_RADIUS_MM } from '../instance.ts'
import { keepLeast, type PeerAnswer, type Piece } from './pieces.ts'

const TRIANGLES = 12
const FACES = [0, 2, 3, 0, 3, 1, 4, 5, 7, 4, 7, 6, 0, 1, 5, 0, 5, 4, 2, 6, 7, 2, 7, 3, 0, 4, 6, 0, 6, 2, 1, 3, 7, 1, 7, 5]

export interface MeshScene { readonly tree: MeshBVH, readonly pieces: readonly Piece[], readonly solidCount: number }

/** @param solids boxes only */
export function meshScene(solids: SolidSet, pieces: readonly Piece[]): MeshScene {
  const { data, offset, count } = solids
  const positions = new Float32Array(24 * count), index = new Uint32Array(3 * TRIANGLES * count)
  for (let i = 0; i < count; i++) {
    const s = offset[i]
    for (let corner = 0; corner < 8; corner++) for (let k = 0; k < 3; k++) {
      let at = data[s + k]
      for (let axis = 0; axis < 3; axis++) at += (corner >> axis & 1 ? 1 : -1) * data[s + 3 + axis] * data[s + 6 + 3 * axis + k]
      positions[24 * i + 3 * corner + k] = at
    }
    for (let j = 0; j < FACES.length; j++) index[3 * TRIANGLES * i + j] = 8 * i + FACES[j]
  }
  const geometry = new BufferGeometry().setAttribute('position', new BufferAttribute(positions, 3)).setIndex(new BufferAttribute(index, 1))
  return { tree: new MeshBVH(geometry, { indirect: true }), pieces, solidCount: count }
}

const line = new Line3(), low = new Vector3(), high = new Vector3()

export function askMesh({ tree, pieces, solidCount }: MeshScene, onlyRun = -1): PeerAnswer {
  const solids = new Map<number, number>()
  const reach = OUTER_RADIUS_MM + NEAR_MM
  let run = 0
  const query = {
    intersectsBounds: (bounds: Box3) => meets(bounds, reach),
    intersectsTriangle: (triangle: ExtendedTriangle, triangleIndex: number) => {
      const distance = triangle.closestPointToSegment(line)
      if (distance < reach) keepLeast(solids, run * solidCount + Math.floor(triangleIndex / TRIANGLES), distance - OUTER_RADIUS_MM)
      return false
    },
  }
  for (const piece of pieces) {
    if (onlyRun >= 0 && piece.run !== onlyRun) continue
    run = piece.run
    line.start.set(...piece.from)
    line.end.set(...piece.to)
    low.copy(line.start).min(line.end)
    high.copy(line.start).max(line.end)
    tree.shapecast(query)
  }
  return { solids, runs: null }
}

/** Whether the segment enters the bounds grown by `reach`: slab by slab (Kay & Kajiya 1986). */
function meets({ min, max }: Box3, reach: number): boolean {
  if (low.x > max.x + reach || high.x < min.x - reach || low.y > max.y + reach || high.y < min.y - reach || low.z > max.z + reach || high.z < min.z - reach) return false
  const { start, end } = line
  let enter = 0, leave = 1
  for (const k of ['x', 'y', 'z'] as const) {
    const step = end[k] - start[k]
    if (Math.abs(step) < 1e-9) continue
    const a = (min[k] - reach - start[k]) / step, b = (max[k] + reach - start[k]) / step
    enter = Math.max(enter, Math.min(a, b))
    leave = Math.min(leave, Math.max(a, b))
  }
  return enter <= leave
}
