/**
 * Linear conditions on small moves: row k asks that the sum of coefficient times move is at least `least[k]`. Rows may go together: of them
 * only the one that lacks most counts as missing.
 */
export class Rows {
  count = 0
  least = new Float64Array(64)
  first = new Int32Array(65)
  variable = new Int32Array(512)
  coefficient = new Float64Array(512)
  /** 1 for a row that goes with the one before it */
  isFurther = new Uint8Array(64)
  #entries = 0

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
  close(least: number, isFurther = false): void {
    if (this.count + 1 >= this.least.length) {
      this.least = doubled(this.least)
      this.first = doubled(this.first)
      this.isFurther = doubled(this.isFurther)
    }
    this.isFurther[this.count] = isFurther ? 1 : 0
    this.least[this.count++] = least
    this.first[this.count] = this.#entries
  }

  /** What is missing in all after these moves. */
  missingAfter(moves: Float64Array): number {
    const { count, first, variable, coefficient, least, isFurther } = this
    let sum = 0, most = 0
    for (let k = 0, e = 0; k < count; k++) {
      let missing = least[k]
      for (; e < first[k + 1]; e++) missing -= coefficient[e] * moves[variable[e]]
      if (isFurther[k] === 0) {
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
