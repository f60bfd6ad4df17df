/**
 * A small dense linear programme: maximise c.x over A x <= b, x free, from the feasible start x = 0 (so b >= 0).
 * Primal simplex on the condensed tableau (Jordan exchange; Chvatal, Linear Programming, 1983, chapters 2 and 3): free
 * unknowns enter first and never leave; the steepest entry leads, and Bland's rule takes over when it stalls, so it ends.
 * No allocation after the first call of a size.
 */

const RATE = 1e-11
const PIVOT = 1e-9
const STALLED = 60
const MOST_PIVOTS = 2000

let basic = new Int32Array(64)
let nonbasic = new Int32Array(64)
let rates = new Float64Array(64)

/**
 * `rows`: `rowCount` rows of `unknowns` coefficients and the right side (a right side below 0 counts as 0); destroyed.
 * Writes the best x to `out` and returns true; false, with `out` the best point met, when it is unbounded or gives up.
 */
export function maximise(rows: Float64Array, rowCount: number, unknowns: number, objective: Float64Array, out: Float64Array): boolean {
  const stride = unknowns + 1
  if (basic.length < rowCount) basic = new Int32Array(2 * rowCount)
  if (nonbasic.length < unknowns) { nonbasic = new Int32Array(2 * unknowns); rates = new Float64Array(2 * unknowns) }
  // a variable's name: unknowns 0 .. unknowns - 1, then the rows' slacks
  for (let i = 0; i < rowCount; i++) {
    basic[i] = unknowns + i
    if (!(rows[i * stride + unknowns] > 0)) rows[i * stride + unknowns] = 0
  }
  for (let j = 0; j < unknowns; j++) { nonbasic[j] = j; rates[j] = objective[j] }

  let stalled = 0, solved = false
  for (let pivots = 0; pivots < MOST_PIVOTS; pivots++) {
    const enter = entering(unknowns, stalled > STALLED)
    if (enter < 0) { solved = true; break }
    const up = rates[enter] > 0 ? 1 : -1
    const leave = leaving(rows, rowCount, unknowns, enter, up, stalled > STALLED)
    if (leave < 0) break
    stalled = rows[leave * stride + unknowns] > 1e-12 ? 0 : stalled + 1
    exchange(rows, rowCount, unknowns, leave, enter)
  }
  for (let j = 0; j < unknowns; j++) out[j] = 0
  for (let i = 0; i < rowCount; i++) if (basic[i] < unknowns) out[basic[i]] = rows[i * stride + unknowns]
  return solved
}

function entering(unknowns: number, byName: boolean): number {
  let best = -1, most = RATE
  for (let j = 0; j < unknowns; j++) {
    const free = nonbasic[j] < unknowns
    const rate = free ? Math.abs(rates[j]) * 1e6 : rates[j]
    if (byName) {
      if (rate > RATE && (best < 0 || nonbasic[j] < nonbasic[best])) best = j
    } else if (rate > most) { most = rate; best = j }
  }
  return best
}

function leaving(rows: Float64Array, rowCount: number, unknowns: number, enter: number, up: number, byName: boolean): number {
  const stride = unknowns + 1
  let best = -1, least = Infinity, size = 0
  for (let i = 0; i < rowCount; i++) {
    if (basic[i] < unknowns) continue
    const pivot = up * rows[i * stride + enter]
    if (pivot < PIVOT) continue
    const ratio = rows[i * stride + unknowns] / pivot
    const tie = Math.abs(ratio - least) <= 1e-12
    if (tie ? (byName ? basic[i] < basic[best] : pivot > size) : ratio < least) {
      best = i
      least = Math.min(least, ratio)
      size = pivot
    }
  }
  return best
}

function exchange(rows: Float64Array, rowCount: number, unknowns: number, leave: number, enter: number): void {
  const stride = unknowns + 1, at = leave * stride
  const inverse = 1 / rows[at + enter]
  for (let k = 0; k <= unknowns; k++) rows[at + k] *= inverse
  rows[at + enter] = inverse
  for (let i = 0; i < rowCount; i++) {
    if (i === leave) continue
    const to = i * stride, factor = rows[to + enter]
    if (factor === 0) continue
    for (let k = 0; k <= unknowns; k++) rows[to + k] -= factor * rows[at + k]
    rows[to + enter] = -factor * inverse
    // rounding must not make a slack negative
    if (basic[i] >= unknowns && rows[to + unknowns] < 0) rows[to + unknowns] = 0
  }
  const rate = rates[enter]
  for (let k = 0; k < unknowns; k++) rates[k] -= rate * rows[at + k]
  rates[enter] = -rate * inverse
  const name = basic[leave]
  basic[leave] = nonbasic[enter]
  nonbasic[enter] = name
}
