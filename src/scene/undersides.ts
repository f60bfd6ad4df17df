/** Ceiling zones as their undersides: triangles and outlines in scene units. */
import { ShapeUtils, Vector2 } from 'three'
import { ringsOf } from '#geometry/solid/degenerate.ts'
import type { SolidSet } from '#geometry/solid/solidSet.ts'
import type { Frame } from './frame.ts'
import { toScene } from './frame.ts'

export interface Undersides {
  readonly positions: Float32Array
  readonly indices: Uint32Array
  /** both ends of each edge of each ring */
  readonly outline: Float32Array
}

/** @param zones prisms, as the assembly packs them */
export function undersidesOf(zones: SolidSet, frame: Frame): Undersides {
  const positions: number[] = []
  const indices: number[] = []
  const outline: number[] = []
  for (let zone = 0; zone < zones.count; zone++) {
    const { data } = zones
    const s = zones.offset[zone]
    const place = (u: number, v: number): [number, number, number] => {
      const at = [0, 1, 2].map((k) => data[s + k] + u * data[s + 3 + k] + v * data[s + 6 + k] + data[s + 12] * data[s + 9 + k])
      return toScene(frame, at[0], at[1], at[2])
    }
    const rings = ringsOf(data, s).map((ring) => Array.from({ length: ring.length / 2 }, (_, i) => new Vector2(ring[2 * i], ring[2 * i + 1])))
    const first = positions.length / 3
    for (const ring of rings) {
      ring.forEach(({ x, y }, i) => {
        const next = ring[(i + 1) % ring.length]
        positions.push(...place(x, y))
        outline.push(...place(x, y), ...place(next.x, next.y))
      })
    }
    for (const triangle of ShapeUtils.triangulateShape(rings[0], rings.slice(1))) indices.push(...triangle.map((corner) => first + corner))
  }
  return { positions: Float32Array.from(positions), indices: Uint32Array.from(indices), outline: Float32Array.from(outline) }
}
