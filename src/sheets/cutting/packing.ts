/**
 * Pieces cut from stock of one length with as few lengths as can be: bin packing by branch and bound, with a lower bound beside the answer.
 * Every cut takes the kerf, so n pieces fit a length when their sum and n - 1 kerfs do.
 */

export interface Packing {
  /** for each length of stock: which pieces, by their index, in the order of cutting */
  readonly lengths: readonly { readonly pieces: readonly number[], readonly offcutMm: number }[]
  /** no fewer lengths can do: proved */
  readonly lowerBound: number
  /** indices of pieces longer than the stock, which are in none of the lengths */
  readonly tooLong: readonly number[]
}

/** A piece longer by less than this still comes out of the stock, mm: rounding. */
const ROUNDING_MM = 1e-6
/** How many places are tried before the best found so far is taken; the bound then says how far off it may be. */
const MOST_TRIES = 300_000

/** @param piecesMm each > 0; @param stockMm > 0; @param kerfMm >= 0 */
export function packStock(piecesMm: readonly number[], stockMm: number, kerfMm: number): Packing {
  if (!(stockMm > 0) || !(kerfMm >= 0) || piecesMm.some((mm) => !(mm > 0))) throw new Error('packStock: pieces and stock must be > 0 mm and the kerf >= 0')
  const tooLong = piecesMm.flatMap((mm, i) => mm > stockMm + ROUNDING_MM ? [i] : [])
  const order = piecesMm.map((_, i) => i).filter((i) => !tooLong.includes(i)).sort((a, b) => piecesMm[b] - piecesMm[a] || a - b)
  const sizes = order.map((i) => piecesMm[i] + kerfMm), room = stockMm + kerfMm
  const lowerBound = leastLengths(sizes, room)
  const bins = search(sizes, room, lowerBound, firstFit(sizes, room))
  const lengths = bins.map((bin) => {
    const pieces = bin.map((k) => order[k]), used = pieces.reduce((sum, i) => sum + piecesMm[i], 0) + kerfMm * (pieces.length - 1)
    // what is left after the last piece is cut off it
    return { pieces, offcutMm: Math.max(0, stockMm - used - (stockMm - used > kerfMm ? kerfMm : stockMm - used)) }
  })
  return { lengths, lowerBound, tooLong }
}

/** The bound L2 of Martello and Toth, Knapsack Problems (1990), 8.3.2: pieces over half a length need one each, and what small ones do not fit beside them needs more. */
export function leastLengths(sizes: readonly number[], room: number): number {
  let best = 0
  for (const limit of [0, ...new Set(sizes.filter((size) => size <= room / 2))]) {
    let alone = 0, half = 0, halfSum = 0, smallSum = 0
    for (const size of sizes) {
      if (size > room - limit) alone++
      else if (size > room / 2) {
        half++
        halfSum += size
      } else if (size >= limit) smallSum += size
    }
    const over = (smallSum - (half * room - halfSum)) / room
    best = Math.max(best, alone + half + Math.max(0, Math.ceil(over - 1e-9)))
  }
  return best
}

/** Longest first, each into the first length that has room: a packing to better. */
function firstFit(sizes: readonly number[], room: number): number[][] {
  const bins: number[][] = [], left: number[] = []
  sizes.forEach((size, k) => {
    let bin = left.findIndex((free) => size <= free + ROUNDING_MM)
    if (bin < 0) {
      bin = bins.push([]) - 1
      left.push(room)
    }
    bins[bin].push(k)
    left[bin] -= size
  })
  return bins
}

/** Longest first, every length that has room tried, those with equal room once; a branch that cannot beat the best is left. */
function search(sizes: readonly number[], room: number, lowerBound: number, known: number[][]): number[][] {
  let best = known, tries = 0
  const bins: number[][] = [], left: number[] = []
  const rest = new Float64Array(sizes.length + 1)
  for (let k = sizes.length - 1; k >= 0; k--) rest[k] = rest[k + 1] + sizes[k]
  const place = (k: number, free: number): void => {
    if (best.length === lowerBound || ++tries > MOST_TRIES) return
    if (k === sizes.length) {
      if (bins.length < best.length) best = bins.map((bin) => [...bin])
      return
    }
    if (bins.length + Math.max(0, Math.ceil((rest[k] - free) / room - 1e-9)) >= best.length) return
    const seen = new Set<number>()
    for (let bin = 0; bin < bins.length; bin++) {
      const key = Math.round(left[bin] * 1e6)
      if (sizes[k] > left[bin] + ROUNDING_MM || seen.has(key)) continue
      seen.add(key)
      bins[bin].push(k)
      left[bin] -= sizes[k]
      place(k + 1, free - sizes[k])
      left[bin] += sizes[k]
      bins[bin].pop()
    }
    if (bins.length + 1 >= best.length) return
    bins.push([k])
    left.push(room - sizes[k])
    place(k + 1, free + room - sizes[k])
    bins.pop()
    left.pop()
  }
  place(0, 0)
  return best
}
