/**
 * Linear conditions on small moves: row k asks that the sum of coefficient times move is at least `least[k]`. Rows may go together: of them
 * only the one that lacks most counts as missing.
 */
export class Rows {
  /** what a millimetre missing is worth, mm of length */
  readonly price: number
  count = 0
  least = new Float64Array(64)
  first = new Int32Array(65)
  variable = new Int32Array(512)
  coefficient = new Float64Array(512)
  /** of each row: room beside something, at a further place beside the same thing, or left on a leg between its bends */
  kind = new Uint8Array(64)
  static readonly BESIDE = 0
  static readonly FURTHER = 1
  static readonly LEG = 2
  #entries = 0

  constructor(price: number) {
    this.price = price
  }

  clear(): void {
    this.count = 0
    this.#entries = 0
  }

  /** Adds to the row being made. */
  put(variable: number, coefficient: number): void {
    if (coefficient === 0) return
    if (this.#entries === this.variable.length) {
      this.variable = doubled(this.variable)
      this.coefficient = doubled(this.coefficient)
    }
    this.variable[this.#entries] = variable
    this.coefficient[this.#entries++] = coefficient
  }

  /** Ends the row being made. */
  close(least: number, kind: number = Rows.BESIDE): void {
    if (this.count + 1 >= this.least.length) {
      this.least = doubled(this.least)
      this.first = doubled(this.first)
      this.kind = doubled(this.kind)
    }
    this.kind[this.count] = kind
    this.least[this.count++] = least
    this.first[this.count] = this.#entries
  }

  /** Writes to another list what would be asked with so much more room beside everything; what no move of up to +-mostMm of each variable could break is left out. */
  raisedInto(other: Rows, byMm: number, mostMm: number): void {
    const { count, first, variable, coefficient, least, kind } = this
    other.clear()
    for (let k = 0; k < count; k++) {
      if (kind[k] === Rows.LEG) continue
      let worst = -least[k] - byMm
      for (let e = first[k]; e < first[k + 1]; e++) worst -= Math.abs(coefficient[e]) * mostMm
      if (worst >= 0) continue
      for (let e = first[k]; e < first[k + 1]; e++) other.put(variable[e], coefficient[e])
      other.close(least[k] + byMm, kind[k])
    }
  }

  /** What is missing in all after these moves. */
  missingAfter(moves: Float64Array): number {
    const { count, first, variable, coefficient, least, kind } = this
    let sum = 0, most = 0
    for (let k = 0, e = 0; k < count; k++) {
      let missing = least[k]
      for (; e < first[k + 1]; e++) missing -= coefficient[e] * moves[variable[e]]
      if (kind[k] !== Rows.FURTHER) {
        sum += most
        most = 0
      }
      if (missing > most) most = missing
    }
    return sum + most
  }
}

export function doubled<T extends Float64Array | Int32Array | Uint8Array>(old: T): T {
  const made = new (old.constructor as new (size: number) => T)(2 * old.length)
  made.set(old)
  return made
}
