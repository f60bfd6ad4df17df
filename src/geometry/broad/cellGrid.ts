import type { IndexList } from './indexList.ts'

/** A uniform grid of cells, each listing the boxes that touch it; plain data. */
export interface PackedCells {
  /** cells along x, y, z */
  readonly sizes: readonly [number, number, number]
  /** corner of the first cell, mm, and cells per mm along each axis */
  readonly origin: readonly [number, number, number]
  readonly perMm: readonly [number, number, number]
  /** where each cell's boxes start in `entries`; x runs fastest; then the end */
  readonly starts: Uint32Array
  readonly entries: Uint32Array
  /** bounds of each entry, 6 numbers, rounded outwards: they lie in the order in which a cell is read, so a look seldom waits for memory */
  readonly entryBounds: Float32Array
  /** boxes that touch too many cells to be listed in them */
  readonly large: Uint32Array
}

/** Side of a cell over the mean spacing of the boxes: larger cells list fewer boxes twice, smaller ones hold fewer that do not matter. */
const CELL_SPACINGS = 1.4
/** A box that touches more cells than this is large: a 10 m chord among ordinary webs is not, a slab is. */
const MOST_CELLS = 96
/** With more boxes than this to a listed box's cells on average, the boxes are heaped and a grid does not tell them apart. */
const MOST_CROWDED = 64

/** Sort boxes (6 numbers each) into cells; null when they lie in heaps, where a grid would be no help. */
export function packCells(boxes: Float64Array): PackedCells | null {
  const count = boxes.length / 6
  const origin: [number, number, number] = [Infinity, Infinity, Infinity], far = [-Infinity, -Infinity, -Infinity]
  for (let b = 0; b < boxes.length; b += 6) {
    // by middles, so that one huge box does not stretch the grid
    for (let k = 0; k < 3; k++) {
      const middle = (boxes[b + k] + boxes[b + 3 + k]) / 2
      if (middle < origin[k]) origin[k] = middle
      if (middle > far[k]) far[k] = middle
    }
  }
  const sizes = cellCounts(far[0] - origin[0], far[1] - origin[1], far[2] - origin[2], count)
  const perMm: [number, number, number] = [0, 0, 0]
  for (let k = 0; k < 3; k++) perMm[k] = far[k] > origin[k] ? sizes[k] / (far[k] - origin[k]) : 0
  const [nx, ny, nz] = sizes, [ox, oy, oz] = origin, [px, py, pz] = perMm

  const starts = new Uint32Array(nx * ny * nz + 1)
  const large: number[] = []
  for (let i = 0, b = 0; i < count; i++, b += 6) {
    const x0 = cellAt(boxes[b], ox, px, nx), x1 = cellAt(boxes[b + 3], ox, px, nx)
    const y0 = cellAt(boxes[b + 1], oy, py, ny), y1 = cellAt(boxes[b + 4], oy, py, ny)
    const z0 = cellAt(boxes[b + 2], oz, pz, nz), z1 = cellAt(boxes[b + 5], oz, pz, nz)
    if ((x1 - x0 + 1) * (y1 - y0 + 1) * (z1 - z0 + 1) > MOST_CELLS) {
      large.push(i)
      continue
    }
    for (let z = z0; z <= z1; z++) for (let y = y0; y <= y1; y++) {
      const row = (z * ny + y) * nx
      for (let cell = row + x0; cell <= row + x1; cell++) starts[cell]++
    }
  }
  let total = 0, crowd = 0
  for (let cell = 0; cell < starts.length; cell++) {
    const size = starts[cell]
    starts[cell] = total += size
    crowd += size * size
  }
  if (crowd > MOST_CROWDED * total) return null

  // filled from the back, so that the starts end up where they belong and boxes stay in order within a cell
  const entries = new Uint32Array(total), entryBounds = new Float32Array(6 * total)
  let nextLarge = large.length - 1
  for (let i = count - 1, b = i * 6; i >= 0; i--, b -= 6) {
    if (nextLarge >= 0 && large[nextLarge] === i) {
      nextLarge--
      continue
    }
    const x0 = cellAt(boxes[b], ox, px, nx), x1 = cellAt(boxes[b + 3], ox, px, nx)
    const y0 = cellAt(boxes[b + 1], oy, py, ny), y1 = cellAt(boxes[b + 4], oy, py, ny)
    const z0 = cellAt(boxes[b + 2], oz, pz, nz), z1 = cellAt(boxes[b + 5], oz, pz, nz)
    const lowX = below(boxes[b]), lowY = below(boxes[b + 1]), lowZ = below(boxes[b + 2])
    const highX = -below(-boxes[b + 3]), highY = -below(-boxes[b + 4]), highZ = -below(-boxes[b + 5])
    for (let z = z0; z <= z1; z++) for (let y = y0; y <= y1; y++) {
      const row = (z * ny + y) * nx
      for (let cell = row + x0; cell <= row + x1; cell++) {
        const j = --starts[cell], to = 6 * j
        entries[j] = i
        entryBounds[to] = lowX
        entryBounds[to + 1] = lowY
        entryBounds[to + 2] = lowZ
        entryBounds[to + 3] = highX
        entryBounds[to + 4] = highY
        entryBounds[to + 5] = highZ
      }
    }
  }
  return { sizes, origin, perMm, starts, entries, entryBounds, large: Uint32Array.from(large) }
}

/** A number that single precision rounds to no more than `value`: less by more than half of its last place, and by the smallest there is near 0. */
function below(value: number): number {
  return value - Math.abs(value) * 2 ** -23 - 2 ** -149
}

/** Add to `out` every listed box (not the large ones) that meets the given one, each once. */
export function addFromCells(
  cells: PackedCells, boxes: Float64Array,
  minX: number, minY: number, minZ: number, maxX: number, maxY: number, maxZ: number, out: IndexList,
): void {
  const { starts, entries, entryBounds, sizes, origin, perMm } = cells
  const nx = sizes[0], ny = sizes[1], nz = sizes[2]
  const ox = origin[0], oy = origin[1], oz = origin[2], px = perMm[0], py = perMm[1], pz = perMm[2]
  const x0 = cellAt(minX, ox, px, nx), x1 = cellAt(maxX, ox, px, nx)
  const y0 = cellAt(minY, oy, py, ny), y1 = cellAt(maxY, oy, py, ny)
  const z0 = cellAt(minZ, oz, pz, nz), z1 = cellAt(maxZ, oz, pz, nz)
  for (let z = z0; z <= z1; z++) for (let y = y0; y <= y1; y++) for (let x = x0; x <= x1; x++) {
    const cell = (z * ny + y) * nx + x
    const end = starts[cell + 1]
    for (let j = starts[cell]; j < end; j++) {
      const f = 6 * j
      if (entryBounds[f] > maxX || entryBounds[f + 3] < minX || entryBounds[f + 1] > maxY || entryBounds[f + 4] < minY
        || entryBounds[f + 2] > maxZ || entryBounds[f + 5] < minZ) continue
      const i = entries[j], b = i * 6
      if (boxes[b] > maxX || boxes[b + 3] < minX || boxes[b + 1] > maxY || boxes[b + 4] < minY
        || boxes[b + 2] > maxZ || boxes[b + 5] < minZ) continue
      // a box in several cells is reported by the first of them that was asked about
      if (x > x0 && cellAt(boxes[b], ox, px, nx) < x) continue
      if (y > y0 && cellAt(boxes[b + 1], oy, py, ny) < y) continue
      if (z > z0 && cellAt(boxes[b + 2], oz, pz, nz) < z) continue
      out.push(i)
    }
  }
}

/** The cell along one axis, clamped to the grid; the first for what is not a number. */
export function cellAt(at: number, origin: number, perMm: number, size: number): number {
  const cell = (at - origin) * perMm
  return cell >= 1 ? cell < size ? cell | 0 : size - 1 : 0
}

/** About count / CELL_SPACINGS cubed cells, as near to cubes as the space allows; an axis thinner than a cell gets one. */
function cellCounts(sizeX: number, sizeY: number, sizeZ: number, count: number): [number, number, number] {
  const spread = [sizeX, sizeY, sizeZ].map(size => (size > 0 && size < Infinity ? size : 0))
  const isThin = spread.map(size => size === 0)
  let side = Infinity
  for (let pass = 0; pass < 3; pass++) {
    const wide = spread.filter((_, k) => !isThin[k])
    if (wide.length === 0) break
    side = CELL_SPACINGS * (wide.reduce((product, size) => product * size, 1) / count) ** (1 / wide.length)
    if (!spread.some((size, k) => !isThin[k] && size < side)) break
    spread.forEach((size, k) => { if (size < side) isThin[k] = true })
  }
  const counts = spread.map((size, k) => (isThin[k] ? 1 : Math.min(Math.ceil(size / side), 2 * count)))
  return [counts[0], counts[1], counts[2]]
}
