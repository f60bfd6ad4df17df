import type { SolidSet } from '../solid/solidSet.ts'
import { BoxIndex } from './boxIndex.ts'
import type { PackedBoxIndex } from './boxIndex.ts'
import type { IndexList } from './indexList.ts'

/** Finds the solids of a set near a place, in time that grows with how many there are. */
export class SolidGrid {
  readonly index: BoxIndex

  /** @param setOrPacked the solids, or `packed` of a grid over the same set (from another thread) */
  constructor(setOrPacked: SolidSet | PackedBoxIndex) {
    this.index = new BoxIndex('boxes' in setOrPacked ? setOrPacked : setOrPacked.bounds)
  }

  get packed(): PackedBoxIndex {
    return this.index.packed
  }

  /** Put into `out` every solid whose bounds meet the given box (touching counts), each once; returns how many. No garbage. */
  near(minX: number, minY: number, minZ: number, maxX: number, maxY: number, maxZ: number, out: IndexList): number {
    return this.index.near(minX, minY, minZ, maxX, maxY, maxZ, out)
  }

  /** The same for what lies about one element: no solid within `reachMm` of it is left out, and few others are taken. */
  nearElement(elements: Float64Array, e: number, reachMm: number, out: IndexList): number {
    return this.index.nearElement(elements, e, reachMm, out)
  }
}
