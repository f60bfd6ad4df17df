import type { PackedCells } from './cellGrid.ts'
import { cellAt } from './cellGrid.ts'
import type { IndexList } from './indexList.ts'

/** Added to the reach, mm: more than rounding takes from it anywhere within a kilometre. */
const HAIR_MM = 1e-6

/** Which boxes a query has seen: a box's number is that of the last query that looked at it. */
export class SeenBoxes {
  readonly lastQuery: Uint32Array
  #query = 0

  constructor(count: number) {
    this.lastQuery = new Uint32Array(count)
  }

  /** The next query's number. */
  next(): number {
    if (this.#query === 0xffff_ffff) {
      this.lastQuery.fill(0)
      this.#query = 0
    }
    return ++this.#query
  }
}

/**
 * Add to `out` every listed box that may come within `reachMm` of a straight leg, each once. Of each row of cells only
 * those beside the leg are looked into, and a box is taken when it comes within reach of the part of the leg beside that row, along x,
 * and no plane square to one of the axes and along the leg parts them (separating axes: Ericson, Real-Time Collision Detection 5.3.3).
 * @param ends x, y, z of the leg's start and then of its end, from offset `at`
 */
export function addAlongLeg(cells: PackedCells, seen: SeenBoxes, ends: Float64Array, at: number, reachMm: number, out: IndexList): void {
  const x0 = ends[at], y0 = ends[at + 1], z0 = ends[at + 2]
  const dx = ends[at + 3] - x0, dy = ends[at + 4] - y0, dz = ends[at + 5] - z0
  const { starts, entries, entryBounds, sizes, origin, perMm } = cells
  const nx = sizes[0], ny = sizes[1], nz = sizes[2]
  const ox = origin[0], oy = origin[1], oz = origin[2], px = perMm[0], py = perMm[1], pz = perMm[2]
  const reach = reachMm + HAIR_MM
  const minY = Math.min(y0, y0 + dy) - reach, maxY = Math.max(y0, y0 + dy) + reach
  const minZ = Math.min(z0, z0 + dz) - reach, maxZ = Math.max(z0, z0 + dz) + reach
  const firstY = cellAt(minY, oy, py, ny), lastY = cellAt(maxY, oy, py, ny)
  const firstZ = cellAt(minZ, oz, pz, nz), lastZ = cellAt(maxZ, oz, pz, nz)
  const ax = Math.abs(dx), ay = Math.abs(dy), az = Math.abs(dz)
  // twice the middles and sizes of the boxes are compared
  const twiceX = 2 * x0, twiceY = 2 * y0, twiceZ = 2 * z0
  const reachXY = 2 * reach * Math.sqrt(dx * dx + dy * dy), reachXZ = 2 * reach * Math.sqrt(dx * dx + dz * dz), reachYZ = 2 * reach * Math.sqrt(dy * dy + dz * dz)
  const perY = 1 / dy
  const { lastQuery } = seen, query = seen.next()
  for (let z = firstZ; z <= lastZ; z++) for (let y = firstY; y <= lastY; y++) {
    // the part of the leg beside this row, and so its extent along the row; the outermost rows have no outer edge
    let from = 0, to = 1
    if (dy !== 0) {
      const low = y === 0 ? -Infinity : oy + y / py - reach, high = y === ny - 1 ? Infinity : oy + (y + 1) / py + reach
      const a = (low - y0) * perY, b = (high - y0) * perY
      from = Math.max(from, Math.min(a, b))
      to = Math.min(to, Math.max(a, b))
      if (from > to) continue
    }
    const row = (z * ny + y) * nx
    const xa = x0 + dx * from, xb = x0 + dx * to
    const minX = Math.min(xa, xb) - reach, maxX = Math.max(xa, xb) + reach
    const end = starts[row + cellAt(maxX, ox, px, nx) + 1]
    for (let j = starts[row + cellAt(minX, ox, px, nx)], f = 6 * j; j < end; j++, f += 6) {
      const lowX = entryBounds[f], highX = entryBounds[f + 3]
      if (lowX > maxX || highX < minX) continue
      const lowY = entryBounds[f + 1], highY = entryBounds[f + 4]
      if (lowY > maxY || highY < minY) continue
      const lowZ = entryBounds[f + 2], highZ = entryBounds[f + 5]
      if (lowZ > maxZ || highZ < minZ) continue
      const mx = lowX + highX - twiceX, my = lowY + highY - twiceY, mz = lowZ + highZ - twiceZ
      const sizeX = highX - lowX, sizeY = highY - lowY, sizeZ = highZ - lowZ
      if (Math.abs(mx * dy - my * dx) > sizeX * ay + sizeY * ax + reachXY) continue
      if (Math.abs(mx * dz - mz * dx) > sizeX * az + sizeZ * ax + reachXZ) continue
      if (Math.abs(my * dz - mz * dy) > sizeY * az + sizeZ * ay + reachYZ) continue
      const i = entries[j]
      if (lastQuery[i] === query) continue
      lastQuery[i] = query
      out.push(i)
    }
  }
}
