/** What a ray from the eye meets first. Millimetres on site, no renderer: boxes exactly, everything else by its drawn triangles. */
import type { Assembly } from '#assembly/assembly.ts'
import { BOX } from '#geometry/solid/solidSet.ts'
import type { Xyz } from './frame.ts'
import type { MeshSpan } from './meshSpans.ts'

export interface Ray {
  readonly from: Xyz
  /** any length but zero */
  readonly direction: Xyz
}

export type Hit =
  | { readonly kind: 'solid', readonly solidIndex: number, readonly at: Xyz }
  | { readonly kind: 'run', readonly runIndex: number, readonly at: Xyz }

/**
 * @param runSpans drawn tubes, one per run of the assembly
 * @param shapeSpans drawn solids other than boxes; `index` is the solid's
 * @param skipsSolid solids that are not shown
 */
export function pick(
  assembly: Assembly, runSpans: readonly MeshSpan[], shapeSpans: readonly MeshSpan[], ray: Ray,
  skipsSolid: (solidIndex: number) => boolean = () => false,
): Hit | null {
  const { solids } = assembly
  let best = Infinity
  let hit: { kind: 'solid' | 'run', index: number } | null = null
  for (let i = 0; i < solids.count; i++) {
    if (solids.kind[i] !== BOX || throughBounds(solids.bounds, 6 * i, ray) >= best || skipsSolid(i)) continue
    const t = throughBox(solids.data, solids.offset[i], ray)
    if (t < best) { best = t; hit = { kind: 'solid', index: i } }
  }
  for (const [kind, spans] of [['solid', shapeSpans], ['run', runSpans]] as const) {
    for (const span of spans) {
      if (throughBounds(span.boundsMm, 0, ray) >= best || (kind === 'solid' && skipsSolid(span.index))) continue
      const t = throughTriangles(span, ray)
      if (t < best) { best = t; hit = { kind, index: span.index } }
    }
  }
  if (hit === null) return null
  const at: Xyz = [ray.from[0] + best * ray.direction[0], ray.from[1] + best * ray.direction[1], ray.from[2] + best * ray.direction[2]]
  return hit.kind === 'solid' ? { kind: 'solid', solidIndex: hit.index, at } : { kind: 'run', runIndex: hit.index, at }
}

/** @returns the ray parameter where it enters, 0 when it starts inside, Infinity when it misses */
export function throughBounds(six: ArrayLike<number>, o: number, ray: Ray): number {
  let enter = 0, leave = Infinity
  for (let k = 0; k < 3; k++) {
    const d = ray.direction[k], p = ray.from[k]
    if (d === 0) {
      if (p < six[o + k] || p > six[o + 3 + k]) return Infinity
      continue
    }
    const a = (six[o + k] - p) / d, b = (six[o + 3 + k] - p) / d
    enter = Math.max(enter, Math.min(a, b))
    leave = Math.min(leave, Math.max(a, b))
  }
  return enter <= leave ? enter : Infinity
}

function throughBox(data: Float64Array, s: number, ray: Ray): number {
  let enter = 0, leave = Infinity
  const [px, py, pz] = [ray.from[0] - data[s], ray.from[1] - data[s + 1], ray.from[2] - data[s + 2]]
  const [dx, dy, dz] = ray.direction
  for (let k = 0; k < 3; k++) {
    const a = s + 6 + 3 * k, half = data[s + 3 + k]
    const p = px * data[a] + py * data[a + 1] + pz * data[a + 2]
    const d = dx * data[a] + dy * data[a + 1] + dz * data[a + 2]
    if (Math.abs(d) < 1e-15) {
      if (Math.abs(p) > half) return Infinity
      continue
    }
    const one = (-half - p) / d, other = (half - p) / d
    enter = Math.max(enter, Math.min(one, other))
    leave = Math.min(leave, Math.max(one, other))
  }
  return enter <= leave ? enter : Infinity
}

/** Möller & Trumbore 1997, both sides of each triangle. */
function throughTriangles(span: MeshSpan, ray: Ray): number {
  const { positions: v, indices } = span.mesh
  const [dx, dy, dz] = ray.direction
  let best = Infinity
  for (let i = 0; i < indices.length; i += 3) {
    const a = 3 * indices[i], b = 3 * indices[i + 1], c = 3 * indices[i + 2]
    const ux = v[b] - v[a], uy = v[b + 1] - v[a + 1], uz = v[b + 2] - v[a + 2]
    const wx = v[c] - v[a], wy = v[c + 1] - v[a + 1], wz = v[c + 2] - v[a + 2]
    const px = dy * wz - dz * wy, py = dz * wx - dx * wz, pz = dx * wy - dy * wx
    const det = ux * px + uy * py + uz * pz
    if (det === 0) continue
    const tx = ray.from[0] - v[a], ty = ray.from[1] - v[a + 1], tz = ray.from[2] - v[a + 2]
    const s = (tx * px + ty * py + tz * pz) / det
    if (s < 0 || s > 1) continue
    const qx = ty * uz - tz * uy, qy = tz * ux - tx * uz, qz = tx * uy - ty * ux
    const r = (dx * qx + dy * qy + dz * qz) / det
    if (r < 0 || s + r > 1) continue
    const t = (wx * qx + wy * qy + wz * qz) / det
    if (t > 0 && t < best) best = t
  }
  return best
}

/**
 * The marker under a finger or pointer.
 * @param pixelsXy two numbers per marker, px; NaN for one behind the eye
 * @param reachPx how far off a touch may be
 * @returns its index, or -1
 */
export function nearestMarker(pixelsXy: ArrayLike<number>, x: number, y: number, reachPx: number): number {
  let best = -1, least = reachPx
  for (let i = 0; 2 * i + 1 < pixelsXy.length; i++) {
    const away = Math.hypot(pixelsXy[2 * i] - x, pixelsXy[2 * i + 1] - y)
    if (away <= least) { least = away; best = i }
  }
  return best
}
