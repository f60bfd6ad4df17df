/** Drilled holes and sleeves as their mouths: a dark disc on each face, which the duct comes out of. */
import type { Assembly } from '#assembly/assembly.ts'
import { axesAlong } from '#geometry/solid/rotation.ts'
import type { Frame, Xyz } from './frame.ts'
import { toScene } from './frame.ts'

const SIDES = 32
/** how far a mouth stands off the face, so that the two are not drawn in one plane, mm */
const PROUD_MM = 0.6

export interface HoleMouths {
  /** scene x, y, z: for each mouth its middle and then its rim */
  readonly positions: Float32Array
  readonly indices: Uint32Array
}

export function holeMouthsOf(assembly: Assembly, frame: Frame): HoleMouths {
  const mouths: { at: Xyz, axis: Xyz, radiusMm: number, halfLengthMm: number }[] = [
    ...assembly.holes,
    ...assembly.sleeves.map(({ at, axis, sleeve }) => ({ at, axis, radiusMm: sleeve.diameterMm / 2, halfLengthMm: sleeve.lengthMm / 2 })),
  ]
  const positions: number[] = []
  const indices: number[] = []
  for (const { at, axis, radiusMm, halfLengthMm } of mouths) {
    const [, , , ux, uy, uz, vx, vy, vz] = axesAlong(axis)
    for (const side of [-1, 1]) {
      const away = side * (halfLengthMm + PROUD_MM)
      const first = positions.length / 3
      const [x, y, z] = [0, 1, 2].map((k) => at[k] + away * axis[k])
      positions.push(...toScene(frame, x, y, z))
      for (let i = 0; i < SIDES; i++) {
        const c = radiusMm * Math.cos(2 * Math.PI * i / SIDES), s = radiusMm * Math.sin(2 * Math.PI * i / SIDES)
        positions.push(...toScene(frame, x + c * ux + s * vx, y + c * uy + s * vy, z + c * uz + s * vz))
        indices.push(first, first + 1 + i, first + 1 + (i + 1) % SIDES)
      }
    }
  }
  return { positions: Float32Array.from(positions), indices: Uint32Array.from(indices) }
}
