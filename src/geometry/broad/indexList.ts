/** A growing list of indices that is emptied and filled again without making garbage. */
export class IndexList {
  items: Uint32Array
  count = 0

  constructor(capacity = 64) {
    this.items = new Uint32Array(capacity)
  }

  clear(): void {
    this.count = 0
  }

  push(index: number): void {
    if (this.count === this.items.length) {
      const larger = new Uint32Array(2 * this.count + 1)
      larger.set(this.items)
      this.items = larger
    }
    this.items[this.count++] = index
  }
}
