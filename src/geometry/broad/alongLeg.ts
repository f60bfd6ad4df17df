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
 * those beside the leg are looked into, and a box is taken when no plane square to one of the axes, or to one of them
 * and along the leg, parts it from the leg by more than the reach (separating axes: Ericson, Real-Time Collision Detection 5.3.3).
 * @param ends x, y, z of the leg's start and then of its end, from offset `at`
 */
export function addAlongLeg(
  cells: PackedCells, boxes: Float64Array, seen: SeenBoxes,
  ends: Float64Array, at: number, reachMm: number, out: IndexList,
): void {
  const x0 = ends[at], y0 = ends[at + 1], z0 = ends[at + 2]
  const dx = ends[at + 3] - x0, dy = ends[at + 4] - y0, dz = ends[at + 5] - z0
  const { starts, entries, sizes, origin, perMm } = cells
  const nx = sizes[0], ny = sizes[1], nz = sizes[2]
  const ox = origin[0], oy = origin[1], oz = origin[2], px = perMm[0], py = perMm[1], pz = perMm[2]
  const reach = reachMm + HAIR_MM
  const minX = Math.min(x0, x0 + dx) - reach, maxX = Math.max(x0, x0 + dx) + reach
  const minY = Math.min(y0, y0 + dy) - reach, maxY = Math.max(y0, y0 + dy) + reach
  const minZ = Math.min(z0, z0 + dz) - reach, maxZ = Math.max(z0, z0 + dz) + reach
  const firstY = cellAt(minY, oy, py, ny), lastY = cellAt(maxY, oy, py, ny)
  const firstZ = cellAt(minZ, oz, pz, nz), lastZ = cellAt(maxZ, oz, pz, nz)
  const ax = Math.abs(dx), ay = Math.abs(dy), az = Math.abs(dz)
  const reachXY = reach * Math.sqrt(dx * dx + dy * dy), reachXZ = reach * Math.sqrt(dx * dx + dz * dz), reachYZ = reach * Math.sqrt(dy * dy + dz * dz)
  const { lastQuery } = seen, query = seen.next()
  for (let z = firstZ; z <= lastZ; z++) for (let y = firstY; y <= lastY; y++) {
    // the part of the leg beside this row, and so its extent along the row; the outermost rows have no outer edge
    let from = 0, to = 1
    if (dy !== 0) {
      const low = y === 0 ? -Infinity : oy + y / py - reach, high = y === ny - 1 ? Infinity : oy + (y + 1) / py + reach
      const a = (low - y0) / dy, b = (high - y0) / dy
      from = Math.max(from, Math.min(a, b))
      to = Math.min(to, Math.max(a, b))
      if (from > to) continue
    }
    const row = (z * ny + y) * nx
    const xa = x0 + dx * from, xb = x0 + dx * to
    const last = row + cellAt(Math.max(xa, xb) + reach, ox, px, nx)
    for (let cell = row + cellAt(Math.min(xa, xb) - reach, ox, px, nx); cell <= last; cell++) {
      const end = starts[cell + 1]
      for (let j = starts[cell]; j < end; j++) {
        const i = entries[j]
        if (lastQuery[i] === query) continue
        lastQuery[i] = query
        const b = 6 * i
        const lowX = boxes[b], lowY = boxes[b + 1], lowZ = boxes[b + 2], highX = boxes[b + 3], highY = boxes[b + 4], highZ = boxes[b + 5]
        if (lowX > maxX || highX < minX || lowY > maxY || highY < minY || lowZ > maxZ || highZ < minZ) continue
        const hx = 0.5 * (highX - lowX), hy = 0.5 * (highY - lowY), hz = 0.5 * (highZ - lowZ)
        const mx = lowX + hx - x0, my = lowY + hy - y0, mz = lowZ + hz - z0
        if (Math.abs(mx * dy - my * dx) > hx * ay + hy * ax + reachXY) continue
        if (Math.abs(mx * dz - mz * dx) > hx * az + hz * ax + reachXZ) continue
        if (Math.abs(my * dz - mz * dy) > hy * az + hz * ay + reachYZ) continue
        out.push(i)
      }
    }
  }
}
