/** Names in the picture that never lie on one another: those that matter most are placed first, each at the first free place beside its thing. */

/** One name. All in CSS px from the picture's top left corner. */
export interface LabelAsk {
  /** places that it may stand at, the best first; NaN for one that is out of sight */
  readonly anchorsXy: ArrayLike<number>
  readonly width: number
  readonly height: number
  /** larger is placed first; of equals the earlier in the list */
  readonly weight: number
  /** from the anchor to the name; OFF_PX when left out */
  readonly offPx?: number
}

/** @returns left and top of each name, NaN for those that found no room */
export function placeLabels(asks: readonly LabelAsk[], width: number, height: number, taken: readonly Block[] = []): Float64Array {
  const out = new Float64Array(2 * asks.length).fill(NaN)
  const blocks: Block[] = [...taken]
  const order = asks.map((_, i) => i).sort((a, b) => asks[b].weight - asks[a].weight || a - b)
  for (const i of order) {
    const block = freeBlock(asks[i], blocks, width, height)
    if (block === null) continue
    blocks.push(block)
    out[2 * i] = block.left
    out[2 * i + 1] = block.top
  }
  return out
}

export interface Block { readonly left: number, readonly top: number, readonly width: number, readonly height: number }

/** clear px between two names */
const GAP_PX = 3
/** from the anchor to the name */
const OFF_PX = 6

function freeBlock({ anchorsXy, width, height, offPx = OFF_PX }: LabelAsk, blocks: readonly Block[], pictureWidth: number, pictureHeight: number): Block | null {
  for (let a = 0; a + 1 < anchorsXy.length; a += 2) {
    const x = anchorsXy[a], y = anchorsXy[a + 1]
    if (!(x >= 0 && x <= pictureWidth && y >= 0 && y <= pictureHeight)) continue
    // above, below, right, left
    for (const [left, top] of [[x - width / 2, y - offPx - height], [x - width / 2, y + offPx], [x + offPx, y - height / 2], [x - offPx - width, y - height / 2]]) {
      if (left < 0 || top < 0 || left + width > pictureWidth || top + height > pictureHeight) continue
      const block = { left, top, width, height }
      if (blocks.every((other) => !overlap(block, other))) return block
    }
  }
  return null
}

function overlap(a: Block, b: Block): boolean {
  return a.left < b.left + b.width + GAP_PX && b.left < a.left + a.width + GAP_PX && a.top < b.top + b.height + GAP_PX && b.top < a.top + a.height + GAP_PX
}
