import { BOX, CYLINDER, PRISM } from '../solid/solidSet.ts'
import type { SolidSet } from '../solid/solidSet.ts'
import { boxMesh } from './boxMesh.ts'
import { cylinderMesh } from './cylinderMesh.ts'
import type { SolidMesh } from './meshBuilder.ts'
import { prismMesh } from './prismMesh.ts'
import { tubeMesh } from './tubeMesh.ts'

export interface MeshOptions {
  /** no point of the mesh lies further than this from the true surface, mm; only curved solids use it */
  readonly chordErrorMm?: number
  /** how a tube ends: 'round' as the solid is, 'flat' as the duct is cut */
  readonly tubeEnds?: 'round' | 'flat'
}

/**
 * A closed surface of triangles for drawing a solid, made from the same parameters as its clearances; triangles counter-clockwise seen
 * from outside. Vertices are doubled along sharp edges at exactly equal positions, so joined by position it is watertight.
 */
export function meshOfSolid(set: SolidSet, solidIndex: number, options: MeshOptions = {}): SolidMesh {
  const { chordErrorMm = 0.5, tubeEnds = 'round' } = options
  const { data } = set, s = set.offset[solidIndex]
  switch (set.kind[solidIndex]) {
    case BOX: return boxMesh(data, s)
    case PRISM: return prismMesh(data, s)
    case CYLINDER: return cylinderMesh(data, s, chordErrorMm)
    default: return tubeMesh(data, s, chordErrorMm, tubeEnds)
  }
}
