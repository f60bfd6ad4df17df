/** Candidates of a search in order: least rank first, of equals the earlier, so that the same search goes the same way everywhere. */
export class WayHeap {
  #ranks = new Float64Array(1 << 12)
  #items = new Int32Array(1 << 12)
  count = 0

  clear(): void {
    this.count = 0
  }

  /** @param item counts up with every candidate: of equal ranks the smaller comes first */
  push(rank: number, item: number): void {
    if (this.count === this.#items.length) {
      const ranks = new Float64Array(2 * this.count), items = new Int32Array(2 * this.count)
      ranks.set(this.#ranks)
      items.set(this.#items)
      this.#ranks = ranks
      this.#items = items
    }
    const ranks = this.#ranks, items = this.#items
    let i = this.count++
    while (i > 0) {
      const parent = (i - 1) >> 1
      if (ranks[parent] < rank || ranks[parent] === rank && items[parent] < item) break
      ranks[i] = ranks[parent]
      items[i] = items[parent]
      i = parent
    }
    ranks[i] = rank
    items[i] = item
  }

  get leastRank(): number {
    return this.count === 0 ? Infinity : this.#ranks[0]
  }

  /** -1 when there is none left */
  pop(): number {
    if (this.count === 0) return -1
    const ranks = this.#ranks, items = this.#items, top = items[0]
    const n = --this.count, rank = ranks[n], item = items[n]
    let i = 0
    for (;;) {
      let child = 2 * i + 1
      if (child >= n) break
      if (child + 1 < n && (ranks[child + 1] < ranks[child] || ranks[child + 1] === ranks[child] && items[child + 1] < items[child])) child++
      if (rank < ranks[child] || rank === ranks[child] && item < items[child]) break
      ranks[i] = ranks[child]
      items[i] = items[child]
      i = child
    }
    ranks[i] = rank
    items[i] = item
    return top
  }
}
