import { ARC, KIND, START_X } from '../curve/centreline.ts'
import { elementBounds } from '../curve/measure.ts'
import { SeenBoxes, addAlongLeg } from './alongLeg.ts'
import { BoxTree } from './boxTree.ts'
import type { PackedTree } from './boxTree.ts'
import { addFromCells, packCells } from './cellGrid.ts'
import type { PackedCells } from './cellGrid.ts'
import { IndexList } from './indexList.ts'

/** An index as plain arrays, so that it can be handed to a worker and taken up there. */
export interface PackedBoxIndex {
  readonly boxes: Float64Array
  readonly cells: PackedCells | null
  /** the boxes the cells do not list: those too large, or all of them when they lie in heaps */
  readonly tree: PackedTree | null
}

const inTree = new IndexList()
const bounds = new Float64Array(6)

/**
 * Finds which of many axis-aligned boxes meet another one, in time that grows with the answer. Boxes spread as in a
 * building go into a uniform grid; huge ones and heaps go into a tree, which is slower but minds neither.
 */
export class BoxIndex {
  readonly packed: PackedBoxIndex
  readonly #tree: BoxTree | null
  readonly #seen: SeenBoxes

  /** @param boxesOrPacked 6 numbers for each box (minX, minY, minZ, maxX, maxY, maxZ), or another index's `packed` */
  constructor(boxesOrPacked: Float64Array | PackedBoxIndex) {
    if (boxesOrPacked instanceof Float64Array) {
      const cells = packCells(boxesOrPacked)
      this.#tree = treeOfTheRest(boxesOrPacked, cells)
      this.packed = { boxes: boxesOrPacked, cells, tree: this.#tree?.packed ?? null }
    } else {
      this.packed = boxesOrPacked
      this.#tree = boxesOrPacked.tree && new BoxTree(boxesOrPacked.tree)
    }
    this.#seen = new SeenBoxes(this.packed.cells ? this.packed.boxes.length / 6 : 0)
  }

  /** Put into `out` every box that meets the given one (touching counts), each once; returns how many. Makes no garbage. */
  near(minX: number, minY: number, minZ: number, maxX: number, maxY: number, maxZ: number, out: IndexList): number {
    const { boxes, cells } = this.packed
    out.clear()
    if (cells) addFromCells(cells, boxes, minX, minY, minZ, maxX, maxY, maxZ, out)
    if (this.#tree) this.#addFromTree(this.#tree, minX, minY, minZ, maxX, maxY, maxZ, out)
    return out.count
  }

  /**
   * Put into `out` every box that may come within `reachMm` of the straight line between two points, each once; returns
   * how many. Far fewer than `near` finds for a leg that runs askew. Makes no garbage.
   * @param ends x, y, z of one point and then of the other, from offset `at`: as a packed leg has them at START_X
   */
  nearLeg(ends: Float64Array, at: number, reachMm: number, out: IndexList): number {
    const { cells } = this.packed
    out.clear()
    if (cells) addAlongLeg(cells, this.#seen, ends, at, reachMm, out)
    if (this.#tree) {
      const x0 = ends[at], y0 = ends[at + 1], z0 = ends[at + 2], x1 = ends[at + 3], y1 = ends[at + 4], z1 = ends[at + 5]
      this.#addFromTree(
        this.#tree, Math.min(x0, x1) - reachMm, Math.min(y0, y1) - reachMm, Math.min(z0, z1) - reachMm,
        Math.max(x0, x1) + reachMm, Math.max(y0, y1) + reachMm, Math.max(z0, z1) + reachMm, out,
      )
    }
    return out.count
  }

  /** Put into `out` every box that one leg or bend may come within `reachMm` of, each once; returns how many. */
  nearElement(elements: Float64Array, e: number, reachMm: number, out: IndexList): number {
    if (elements[e + KIND] !== ARC) return this.nearLeg(elements, e + START_X, reachMm, out)
    elementBounds(elements, e, bounds)
    return this.near(
      bounds[0] - reachMm, bounds[1] - reachMm, bounds[2] - reachMm,
      bounds[3] + reachMm, bounds[4] + reachMm, bounds[5] + reachMm, out,
    )
  }

  #addFromTree(tree: BoxTree, minX: number, minY: number, minZ: number, maxX: number, maxY: number, maxZ: number, out: IndexList): void {
    const { cells } = this.packed
    const count = tree.near(minX, minY, minZ, maxX, maxY, maxZ, inTree)
    for (let j = 0; j < count; j++) out.push(cells ? cells.large[inTree.items[j]] : inTree.items[j])
  }
}

function treeOfTheRest(boxes: Float64Array, cells: PackedCells | null): BoxTree | null {
  if (!cells) return new BoxTree(boxes)
  if (cells.large.length === 0) return null
  const large = new Float64Array(6 * cells.large.length)
  cells.large.forEach((box, i) => large.set(boxes.subarray(6 * box, 6 * box + 6), 6 * i))
  return new BoxTree(large)
}
