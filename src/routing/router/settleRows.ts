/** Linear conditions on small moves: row k asks that the sum of coefficient times move is at least `least[k]`. */
export class Rows {
  count = 0
  least = new Float64Array(512)
  first = new Int32Array(513)
  #entries = 0
  variable = new Int32Array(4096)
  coefficient = new Float64Array(4096)

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
  close(least: number): void {
    if (this.count + 1 >= this.least.length) {
      this.least = doubled(this.least)
      this.first = doubled(this.first)
    }
    this.least[this.count++] = least
    this.first[this.count] = this.#entries
  }

  get entryCount(): number {
    return this.#entries
  }
}

function doubled<T extends Float64Array | Int32Array>(old: T): T {
  const made = new (old.constructor as new (size: number) => T)(2 * old.length)
  made.set(old)
  return made
}

const SWEEPS = 120

/**
 * The moves that make gradient * move + stiffness / 2 * move^2 least, within the rows and within +-most of nothing; a row that cannot be met
 * is met as far as `price` for each millimetre missing allows. Hildreth's method (Hildreth 1957; Lent & Censor 1980): one row's multiplier at a time.
 * @param moves is filled
 */
export function leastMoves(rows: Rows, gradient: Float64Array, stiffness: Float64Array, most: Float64Array, price: number, moves: Float64Array): void {
  const n = gradient.length, free = new Float64Array(n)
  for (let i = 0; i < n; i++) {
    free[i] = -gradient[i] / stiffness[i]
    moves[i] = Math.min(most[i], Math.max(-most[i], free[i]))
  }
  const { count, first, variable, coefficient, least } = rows
  const multiplier = new Float64Array(count), perStep = new Float64Array(count)
  for (let k = 0; k < count; k++) {
    let sum = 0
    for (let e = first[k]; e < first[k + 1]; e++) sum += coefficient[e] * coefficient[e] / stiffness[variable[e]]
    perStep[k] = sum
  }
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    let change = 0
    for (let k = 0; k < count; k++) {
      if (!(perStep[k] > 0)) continue
      let missing = least[k]
      for (let e = first[k]; e < first[k + 1]; e++) missing -= coefficient[e] * moves[variable[e]]
      const before = multiplier[k], after = Math.min(price, Math.max(0, before + missing / perStep[k]))
      if (after === before) continue
      multiplier[k] = after
      const by = after - before
      for (let e = first[k]; e < first[k + 1]; e++) {
        const i = variable[e]
        free[i] += coefficient[e] * by / stiffness[i]
        moves[i] = Math.min(most[i], Math.max(-most[i], free[i]))
      }
      change = Math.max(change, Math.abs(by) * perStep[k])
    }
    if (change < 1e-3) return
  }
}
