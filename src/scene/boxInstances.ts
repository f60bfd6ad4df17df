/** Every box of an assembly as instancing buffers: a few large chunks, so that a hundred houses are a few dozen draws. */
import type { Assembly } from '#assembly/assembly.ts'
import { BOX } from '#geometry/solid/solidSet.ts'
import { MM_PER_UNIT, toScene } from './frame.ts'
import type { Frame } from './frame.ts'
import { AS_USUAL, type Drawing } from './kinds.ts'
import { rgbOfClass } from './palette.ts'

/** 'box' has six faces; 'plate' is drawn as its two large faces only, as one two-sided sheet: a sixth of the triangles. */
export type BoxForm = 'box' | 'plate'

export interface BoxChunk {
  readonly form: BoxForm
  readonly count: number
  /** column-major 4 x 4 per box: a cube of side 1 (or a 1 x 1 sheet square to its z) to scene units */
  readonly matrices: Float32Array
  /** red, green, blue 0..1 per box, linear */
  readonly colours: Float32Array
  /** scene units: a ball round all of them, centre and radius */
  readonly ball: readonly [number, number, number, number]
  /** which solid each instance is */
  readonly solidIndices: Uint32Array
}

/** Above this many plates their edges are left out: nobody can see a 2 mm edge in a view that holds them all. */
export const MOST_WHOLE_PLATES = 8_000
/** thickness over width below which a box counts as a plate */
const PLATE_RATIO = 0.15
/** instances to a chunk: large enough for few draws, small enough that what is out of view is left out */
const CHUNK = 6_000
const MOST_CHUNKS = 16

/**
 * @param faint those that are drawn thin, or the rest
 * @param drawing how each kind is drawn
 * @returns chunks of at least one box each; boxes that lie near each other in the assembly share a chunk
 */
export function boxChunksOf(assembly: Assembly, frame: Frame, faint = false, drawing: Drawing = AS_USUAL): BoxChunk[] {
  const { solids, parts } = assembly
  const whole: number[] = []
  const plates: number[] = []
  for (let i = 0; i < solids.count; i++) {
    if (solids.kind[i] !== BOX || drawing(parts.classOf(i)) !== (faint ? 'thin' : 'full')) continue
    if (isPlate(solids.data, solids.offset[i])) plates.push(i)
    else whole.push(i)
  }
  if (plates.length <= MOST_WHOLE_PLATES) {
    const all = [...whole, ...plates].sort((a, b) => a - b)
    return chunked(all).map((indices) => boxChunkOf(assembly, frame, 'box', indices))
  }
  return [
    ...chunked(whole).map((indices) => boxChunkOf(assembly, frame, 'box', indices)),
    ...chunked(plates).map((indices) => boxChunkOf(assembly, frame, 'plate', indices)),
  ]
}

/** Some boxes as one chunk. */
export function boxChunkOf(assembly: Assembly, frame: Frame, form: BoxForm, indices: readonly number[]): BoxChunk {
  const { solids, parts } = assembly
  const matrices = new Float32Array(indices.length * 16)
  const colours = new Float32Array(indices.length * 3)
  indices.forEach((solid, n) => {
    writeMatrix(matrices, n * 16, solids.data, solids.offset[solid], frame, form)
    colours.set(rgbOfClass(parts.classOf(solid)), n * 3)
  })
  return { form, count: indices.length, matrices, colours, ball: ballRound(solids.bounds, frame, indices), solidIndices: Uint32Array.from(indices) }
}

function ballRound(bounds: Float64Array, frame: Frame, indices: readonly number[]): BoxChunk['ball'] {
  const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity]
  for (const solid of indices) {
    for (let k = 0; k < 3; k++) {
      low[k] = Math.min(low[k], bounds[6 * solid + k])
      high[k] = Math.max(high[k], bounds[6 * solid + 3 + k])
    }
  }
  const radius = Math.hypot(...high.map((value, k) => value - low[k])) / 2 / MM_PER_UNIT
  return [...toScene(frame, (low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2), radius]
}

function isPlate(data: Float64Array, s: number): boolean {
  const sizes = [data[s + 3], data[s + 4], data[s + 5]].sort((a, b) => a - b)
  return sizes[0] < PLATE_RATIO * sizes[1]
}

function chunked(indices: number[]): number[][] {
  if (indices.length === 0) return []
  const count = Math.min(MOST_CHUNKS, Math.ceil(indices.length / CHUNK))
  const size = Math.ceil(indices.length / count)
  return Array.from({ length: count }, (_, n) => indices.slice(n * size, (n + 1) * size)).filter((chunk) => chunk.length > 0)
}

function writeMatrix(out: Float32Array, o: number, data: Float64Array, s: number, frame: Frame, form: BoxForm): void {
  // the thinnest direction goes last, so that a sheet is square to it; cyclic order keeps the frame right-handed
  let last = 2
  if (form === 'plate') last = data[s + 3] <= data[s + 4] && data[s + 3] <= data[s + 5] ? 0 : data[s + 4] <= data[s + 5] ? 1 : 2
  for (let column = 0; column < 3; column++) {
    const axis = (last + 1 + column) % 3
    const size = 2 * data[s + 3 + axis] / MM_PER_UNIT
    for (let row = 0; row < 3; row++) out[o + column * 4 + row] = data[s + 6 + axis * 3 + row] * size
  }
  for (let row = 0; row < 3; row++) out[o + 12 + row] = (data[s + row] - frame.originMm[row]) / MM_PER_UNIT
  out[o + 15] = 1
}
