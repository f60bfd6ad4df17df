/** The shapes of peerShapes.ts stood elsewhere: our packed numbers turned and moved, and the same as a quaternion for the other programs. */
import { Matrix4, Quaternion, Vector3 } from 'three'
import type { SolidKind, SolidSet } from '#geometry/solid/solidSet.ts'
import { BOX, CYLINDER } from '#geometry/solid/solidSet.ts'
import { type Draw, type Vec, axes, between } from './drawnElements.ts'

export interface Stand { readonly at: Vec, readonly frame: readonly [Vec, Vec, Vec], readonly matrix: Matrix4, readonly turn: Quaternion }

export const stand = (draw: Draw, reach: number): Stand => {
  const frame = axes(draw)
  const at: Vec = [between(draw, -reach, reach), between(draw, -reach, reach), between(draw, -reach, reach)]
  const matrix = new Matrix4().makeBasis(new Vector3(...frame[0]), new Vector3(...frame[1]), new Vector3(...frame[2])).setPosition(...at)
  return { at, frame, matrix, turn: new Quaternion().setFromRotationMatrix(matrix) }
}

/** Packed numbers of a box, cylinder or prism after the move. */
export const stood = (kind: SolidKind, data: Float64Array, { at, frame }: Stand): Float64Array => {
  const out = data.slice()
  const turned = (i: number): void => {
    const [x, y, z] = [data[i], data[i + 1], data[i + 2]]
    for (let k = 0; k < 3; k++) out[i + k] = frame[0][k] * x + frame[1][k] * y + frame[2][k] * z
  }
  turned(0)
  for (let k = 0; k < 3; k++) out[k] += at[k]
  if (kind === CYLINDER) turned(3)
  else for (let axis = 0; axis < 3; axis++) turned((kind === BOX ? 6 : 3) + 3 * axis)
  return out
}

/** One packed solid as a set; bounds are left empty. */
export const setOf = (kind: SolidKind, data: Float64Array): SolidSet => ({
  count: 1, kind: Uint8Array.of(kind), offset: Uint32Array.of(0, data.length), data, bounds: new Float64Array(6),
})
