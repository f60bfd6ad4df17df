import type { IndexList } from './indexList.ts'
import { sortKeys } from './sortKeys.ts'

/** Children per node and boxes per leaf. */
const FAN = 8
/** Bits of a key: 2 for the size class, the rest for the place. */
const PLACE_BITS = 28

/** The arrays of a tree; plain data, so a tree can be handed to a worker and rebuilt from them. */
export interface PackedTree {
  readonly count: number
  /** which box each entry is; entries are in tree order */
  readonly order: Uint32Array
  /** bounds of the entries in tree order, then of each level of nodes up to the root, 6 numbers each */
  readonly bounds: Float64Array
  /** where each level starts in `bounds`, in boxes; entries first; then the end */
  readonly levels: Uint32Array
}

/**
 * An index over axis-aligned boxes that finds those meeting another in time that grows with the answer.
 *
 * A packed tree after Kamel & Faloutsos, On Packing R-trees (1993): boxes sorted along a curve that fills space, then
 * every FAN in a row share a node. Long boxes are sorted apart from short ones, or each leaf with a 10 m chord among
 * its webs would be 10 m long; and the curve halves the longest remaining side first, because a floor is a thousand times as
 * long as it is deep.
 */
export class BoxTree {
  readonly packed: PackedTree

  /** @param boundsOrPacked 6 numbers for each box (minX, minY, minZ, maxX, maxY, maxZ), or another tree's `packed` */
  constructor(boundsOrPacked: Float64Array | PackedTree) {
    this.packed = boundsOrPacked instanceof Float64Array ? packTree(boundsOrPacked) : boundsOrPacked
  }

  /** Put into `out` every box that meets the given one (touching counts), each once; returns how many. */
  near(minX: number, minY: number, minZ: number, maxX: number, maxY: number, maxZ: number, out: IndexList): number {
    const { order, bounds, levels } = this.packed
    out.clear()
    let level = levels.length - 2
    if (level < 0) return 0
    // depth first; `at` is the place within the level, and the way up is by division
    let at = 0
    for (;;) {
      const b = (levels[level] + at) * 6
      const meets = bounds[b] <= maxX && bounds[b + 3] >= minX && bounds[b + 1] <= maxY && bounds[b + 4] >= minY
        && bounds[b + 2] <= maxZ && bounds[b + 5] >= minZ
      if (meets && level > 0) {
        at *= FAN
        level--
        continue
      }
      if (meets) out.push(order[at])
      at++
      while (at % FAN === 0 || at === levels[level + 1] - levels[level]) {
        if (level >= levels.length - 2) return out.count
        at = Math.ceil(at / FAN)
        level++
      }
    }
  }
}

function packTree(boxes: Float64Array): PackedTree {
  const count = boxes.length / 6
  const starts = [0]
  let total = 0
  for (let n = count; n > 0; n = Math.ceil(n / FAN)) {
    total += n
    starts.push(total)
    if (n === 1) break
  }
  const levels = Uint32Array.from(count === 0 ? [] : starts)
  const bounds = new Float64Array(total * 6)
  const order = sortKeys(placeKeys(boxes, count))
  for (let i = 0; i < count; i++) {
    const from = order[i] * 6
    for (let k = 0; k < 6; k++) bounds[i * 6 + k] = boxes[from + k]
  }
  for (let level = 1; level + 1 < levels.length; level++) {
    for (let node = levels[level]; node < levels[level + 1]; node++) {
      const first = levels[level - 1] + (node - levels[level]) * FAN
      joinBounds(bounds, first, Math.min(first + FAN, levels[level]), node)
    }
  }
  return { count, order, bounds, levels }
}

function joinBounds(bounds: Float64Array, first: number, end: number, node: number): void {
  let minX = Infinity, minY = Infinity, minZ = Infinity, maxX = -Infinity, maxY = -Infinity, maxZ = -Infinity
  for (let b = first * 6; b < end * 6; b += 6) {
    if (bounds[b] < minX) minX = bounds[b]
    if (bounds[b + 1] < minY) minY = bounds[b + 1]
    if (bounds[b + 2] < minZ) minZ = bounds[b + 2]
    if (bounds[b + 3] > maxX) maxX = bounds[b + 3]
    if (bounds[b + 4] > maxY) maxY = bounds[b + 4]
    if (bounds[b + 5] > maxZ) maxZ = bounds[b + 5]
  }
  const o = node * 6
  bounds[o] = minX
  bounds[o + 1] = minY
  bounds[o + 2] = minZ
  bounds[o + 3] = maxX
  bounds[o + 4] = maxY
  bounds[o + 5] = maxZ
}

/** One sorting key a box: its size class, then where its middle lies along the curve. */
function placeKeys(boxes: Float64Array, count: number): Uint32Array {
  const low = [Infinity, Infinity, Infinity], high = [-Infinity, -Infinity, -Infinity]
  let logSum = 0
  const extents = new Float64Array(count)
  for (let i = 0, b = 0; i < count; i++, b += 6) {
    for (let k = 0; k < 3; k++) {
      const middle = boxes[b + k] + boxes[b + 3 + k]
      if (middle < low[k]) low[k] = middle
      if (middle > high[k]) high[k] = middle
    }
    extents[i] = Math.max(boxes[b + 3] - boxes[b], boxes[b + 4] - boxes[b + 1], boxes[b + 5] - boxes[b + 2], Number.MIN_VALUE)
    logSum += Math.log2(extents[i])
  }
  const typical = 2 ** (logSum / Math.max(count, 1))
  const plan = halvingPlan(high[0] - low[0], high[1] - low[1], high[2] - low[2])
  const scale = [0, 1, 2].map(k => (high[k] > low[k] ? 2 ** plan.bits[k] / (high[k] - low[k]) : 0))
  const limit = plan.bits.map(bits => 2 ** bits - 1)
  const keys = new Uint32Array(count)
  for (let i = 0, b = 0; i < count; i++, b += 6) {
    const x = Math.min((boxes[b] + boxes[b + 3] - low[0]) * scale[0], limit[0]) >>> 0
    const y = Math.min((boxes[b + 1] + boxes[b + 4] - low[1]) * scale[1], limit[1]) >>> 0
    const z = Math.min((boxes[b + 2] + boxes[b + 5] - low[2]) * scale[2], limit[2]) >>> 0
    const ratio = extents[i] / typical
    const sizeClass = ratio < 0.25 ? 0 : ratio < 4 ? 1 : ratio < 64 ? 2 : 3
    keys[i] = sizeClass * 2 ** PLACE_BITS + plan.key(x, y, z)
  }
  return keys
}

/** In what order the three axes are halved, and the key that reads off the halves a cell lies in. */
function halvingPlan(sizeX: number, sizeY: number, sizeZ: number) {
  const sizes = [sizeX, sizeY, sizeZ], bits = [0, 0, 0]
  const order: number[] = []
  for (let i = 0; i < PLACE_BITS; i++) {
    const axis = sizes[0] >= sizes[1] && sizes[0] >= sizes[2] ? 0 : sizes[1] >= sizes[2] ? 1 : 2
    order.push(axis)
    bits[axis]++
    sizes[axis] /= 2
  }
  // bit by bit tables: 10 bits of one axis at a time, spread to where the order puts them
  const tables = [0, 1, 2].map(axis => spreadTables(order, axis, bits[axis]))
  const [tx, ty, tz] = tables
  const key = (x: number, y: number, z: number): number =>
    spread(tx, x) + spread(ty, y) + spread(tz, z)
  return { bits, key }
}

function spread(tables: Uint32Array[], value: number): number {
  return tables[0][value & 1023] + tables[1][value >>> 10 & 1023] + tables[2][value >>> 20]
}

function spreadTables(order: number[], axis: number, bits: number): Uint32Array[] {
  const places: number[] = []
  for (let i = order.length - 1; i >= 0; i--) if (order[i] === axis) places.push(2 ** (order.length - 1 - i))
  return [0, 10, 20].map(first => {
    const table = new Uint32Array(1024)
    for (let value = 1; value < 2 ** Math.min(10, bits - first); value++) {
      const lowest = 31 - Math.clz32(value & -value)
      table[value] = table[value & value - 1] + places[first + lowest]
    }
    return table
  })
}
