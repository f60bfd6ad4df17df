/**
 * Solids packed in flat arrays: a closed set of four kinds. Millimetres; right-handed, z up; unit axes.
 *
 * Parameters of one solid, from `offset[i]` in `data`:
 * - box (15): centre xyz, half sizes (along u, v, w), unit axes u xyz, v xyz, w xyz
 * - prism: origin xyz, unit axes u, v, w (9 numbers), wBottom, wTop, ringCount, then for each ring its vertex count
 *   followed by that many (u, v) pairs. First ring is the outline, counter-clockwise seen from +w; the others are
 *   holes, clockwise; the first vertex is not repeated. Rings are simple and holes lie inside the outline.
 * - cylinder (8): centre xyz, unit axis xyz, radius, half length. Flat ends.
 * - tube: radius, elementCount, then elementCount * ELEMENT_STRIDE numbers laid out as in curve/centreline.ts.
 *   A tube is every point within `radius` of its centreline, so its ends are round.
 */
export const BOX = 0
export const PRISM = 1
export const CYLINDER = 2
export const TUBE = 3
export type SolidKind = typeof BOX | typeof PRISM | typeof CYLINDER | typeof TUBE

export interface SolidSet {
  readonly count: number
  readonly kind: Uint8Array
  /** where each solid's parameters start in `data`; length count + 1 */
  readonly offset: Uint32Array
  readonly data: Float64Array
  /** axis-aligned bounds, 6 per solid: minX, minY, minZ, maxX, maxY, maxZ, mm */
  readonly bounds: Float64Array
}
