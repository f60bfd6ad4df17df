/** Buckets narrower than most steps: seldom is a place looked at twice. */
const WIDTH_MM = 50

/**
 * What a wave over a grid has come to, taken cheapest first to within a bucket's width (Dial 1969; Denardo & Fox 1979). In one bucket the last
 * comes first, so a place may turn up again, cheaper than it was: the wave goes on from it once more.
 */
export class WayBuckets {
  #heads = new Int32Array(1024).fill(-1)
  #bucket = 0
  #count = 0
  #next = new Int32Array(1 << 14)
  #states = new Int32Array(1 << 14)
  #ranks = new Float64Array(1 << 14)
  /** of what was taken last */
  rank = 0

  clear(): void {
    this.#heads.fill(-1)
    this.#bucket = 0
    this.#count = 0
  }

  /** @param rank where it is less than that of the bucket being taken from it counts as of that */
  push(rank: number, state: number): void {
    // what nothing leads to goes nowhere
    if (rank === Infinity) return
    const bucket = Math.max(this.#bucket, Math.floor(rank / WIDTH_MM)), entry = this.#count++
    if (bucket >= this.#heads.length) {
      const heads = new Int32Array(2 * bucket).fill(-1)
      heads.set(this.#heads)
      this.#heads = heads
    }
    if (entry === this.#states.length) this.#grow()
    this.#states[entry] = state
    this.#ranks[entry] = rank
    this.#next[entry] = this.#heads[bucket]
    this.#heads[bucket] = entry
  }

  /** -1 when there are no more */
  pop(): number {
    while (this.#bucket < this.#heads.length && this.#heads[this.#bucket] < 0) this.#bucket++
    if (this.#bucket === this.#heads.length) return -1
    const entry = this.#heads[this.#bucket]
    this.#heads[this.#bucket] = this.#next[entry]
    this.rank = this.#ranks[entry]
    return this.#states[entry]
  }

  #grow(): void {
    const states = new Int32Array(2 * this.#count), next = new Int32Array(2 * this.#count), ranks = new Float64Array(2 * this.#count)
    states.set(this.#states)
    next.set(this.#next)
    ranks.set(this.#ranks)
    this.#states = states
    this.#next = next
    this.#ranks = ranks
  }
}
