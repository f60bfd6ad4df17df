/**
 * The best small moves within linear conditions: a convex quadratic programme, solved by a primal-dual interior point method with Mehrotra's
 * predictor and corrector (Mehrotra 1992; Nocedal & Wright, Numerical Optimization, 16.6). It starts strictly inside and stays there.
 */
import type { Rows } from './settleRows.ts'

/** A part of the second derivatives: `size` variables from `first` on, `size` squared numbers, symmetric. */
export interface Stiffness { readonly first: number, readonly size: number, readonly block: Float64Array }

const MOST_STEPS = 40
/** how much of the way to the nearest wall a step goes */
const SHARE = 0.99
/** what a condition has to spare at the beginning, as a share of the largest move; and the least pull of a wall */
const FIRST_SPARE = 0.3, FIRST_PULL = 0.1

/** Numbers at hand while one programme is solved. */
class Work {
  readonly variables: number
  readonly rows: number
  readonly entries: number
  // of each variable that may move: how far, first derivative, the move so far; how much the walls on both sides pull
  readonly number: Int32Array
  readonly most: Float64Array
  readonly slope: Float64Array
  readonly move: Float64Array
  readonly up: Float64Array
  readonly down: Float64Array
  // and the step
  readonly by: Float64Array
  readonly byUp: Float64Array
  readonly byDown: Float64Array
  readonly right: Float64Array
  // of each row: least and price, what is to spare, what is missing, multiplier; the step of each; its weight in the matrix
  readonly first: Int32Array
  readonly least: Float64Array
  readonly price: Float64Array
  readonly spare: Float64Array
  readonly missing: Float64Array
  readonly held: Float64Array
  readonly bySpare: Float64Array
  readonly byMissing: Float64Array
  readonly byHeld: Float64Array
  readonly weight: Float64Array
  readonly variable: Int32Array
  readonly coefficient: Float64Array
  // lower triangle by rows, each from its first entry that is not 0: where the entry of column 0 would be, and the first column
  readonly at: Int32Array
  readonly from: Int32Array
  readonly stiffness: Float64Array
  readonly matrix: Float64Array

  constructor(variables: number, rows: number, entries: number) {
    this.variables = variables
    this.rows = rows
    this.entries = entries
    const ofVariables = (): Float64Array => new Float64Array(variables), ofRows = (): Float64Array => new Float64Array(rows)
    this.number = new Int32Array(variables)
    this.most = ofVariables()
    this.slope = ofVariables()
    this.move = ofVariables()
    this.up = ofVariables()
    this.down = ofVariables()
    this.by = ofVariables()
    this.byUp = ofVariables()
    this.byDown = ofVariables()
    this.right = ofVariables()
    this.first = new Int32Array(rows + 1)
    this.least = ofRows()
    this.price = ofRows()
    this.spare = ofRows()
    this.missing = ofRows()
    this.held = ofRows()
    this.bySpare = ofRows()
    this.byMissing = ofRows()
    this.byHeld = ofRows()
    this.weight = ofRows()
    this.variable = new Int32Array(entries)
    this.coefficient = new Float64Array(entries)
    this.at = new Int32Array(variables)
    this.from = new Int32Array(variables)
    this.stiffness = new Float64Array(variables * (variables + 1) / 2)
    this.matrix = new Float64Array(variables * (variables + 1) / 2)
  }
}

let kept = new Work(64, 256, 2048)

/**
 * Fills `moves` with those that make gradient * move + move * stiffness * move / 2 least, within the rows and within +-most of nothing; a row
 * that cannot be met is met as far as its price for each millimetre missing allows.
 * @param stiffness of all variables; those of one part are numbered together, part after part
 * @param most of each variable; those with 0 do not move
 * @param error how far from the least worth it may end
 */
export function leastMoves(rows: readonly Rows[], gradient: Float64Array, stiffness: readonly Stiffness[], most: Float64Array, error: number, moves: Float64Array): void {
  moves.fill(0)
  let rowCount = 0, entryCount = 0
  for (const { count, first } of rows) {
    rowCount += count
    entryCount += first[count]
  }
  if (kept.variables < most.length || kept.rows < rowCount || kept.entries < entryCount) {
    kept = new Work(Math.max(kept.variables, 2 * most.length), Math.max(kept.rows, 2 * rowCount), Math.max(kept.entries, 2 * entryCount))
  }
  const work = kept, n = takeVariables(work, gradient, stiffness, most)
  if (n === 0) return
  const m = takeRows(work, rows, most)
  layOut(work, n, m, stiffness)
  begin(work, n, m)
  for (let step = 0; step < MOST_STEPS; step++) {
    const gap = gapAfter(work, n, m, 0)
    if (gap < error || !factor(work, n, m)) break
    direct(work, n, m, 0, false)
    const left = gapAfter(work, n, m, reach(work, n, m)) / gap
    direct(work, n, m, left * left * left * gap / (2 * (n + m)), true)
    take(work, n, m, Math.min(1, SHARE * reach(work, n, m)))
  }
  for (let v = 0; v < most.length; v++) if (work.number[v] >= 0) moves[v] = work.move[work.number[v]]
}

function takeVariables({ number, most: own, slope }: Work, gradient: Float64Array, stiffness: readonly Stiffness[], most: Float64Array): number {
  let n = 0
  for (const { first, size } of stiffness) for (let v = first; v < first + size; v++) {
    number[v] = most[v] > 0 ? n : -1
    if (!(most[v] > 0)) continue
    own[n] = most[v]
    slope[n++] = gradient[v]
  }
  return n
}

/** Those that some move could break. */
function takeRows(work: Work, rows: readonly Rows[], most: Float64Array): number {
  const { number, variable: ownVariable, coefficient: ownCoefficient, first: ownFirst, least: ownLeast, price: ownPrice } = work
  let m = 0, entries = 0
  for (const { count, first, variable, coefficient, least, price } of rows) for (let k = 0; k < count; k++) {
    let worst = -least[k]
    const end = first[k + 1]
    for (let e = first[k]; e < end; e++) worst -= Math.abs(coefficient[e]) * most[variable[e]]
    if (worst >= 0) continue
    ownFirst[m] = entries
    for (let e = first[k]; e < end; e++) {
      const i = number[variable[e]]
      if (i < 0) continue
      ownVariable[entries] = i
      ownCoefficient[entries++] = coefficient[e]
    }
    if (entries === ownFirst[m]) continue
    ownPrice[m] = price
    ownLeast[m++] = least[k]
  }
  ownFirst[m] = entries
  return m
}

/** Where each row of the matrix begins, and the part of it that stays. */
function layOut({ number, first, variable, at, from, stiffness: fixed }: Work, n: number, m: number, stiffness: readonly Stiffness[]): void {
  for (let i = 0; i < n; i++) from[i] = i
  for (const { first: start, size } of stiffness) {
    let least = n
    for (let v = start; v < start + size; v++) {
      if (number[v] < 0) continue
      least = Math.min(least, number[v])
      from[number[v]] = Math.min(from[number[v]], least)
    }
  }
  for (let k = 0; k < m; k++) {
    let least = n
    for (let e = first[k]; e < first[k + 1]; e++) least = Math.min(least, variable[e])
    for (let e = first[k]; e < first[k + 1]; e++) from[variable[e]] = Math.min(from[variable[e]], least)
  }
  let cells = 0
  for (let i = 0; i < n; i++) {
    at[i] = cells - from[i]
    cells += i - from[i] + 1
  }
  fixed.fill(0, 0, cells)
  for (const { first: start, size, block } of stiffness) for (let a = 0; a < size; a++) {
    const i = number[start + a]
    if (i < 0) continue
    for (let b = 0; b <= a; b++) if (number[start + b] >= 0) fixed[at[i] + number[start + b]] += block[a * size + b]
  }
}

/** Strictly inside, with the walls pulling so that all pulls are even. */
function begin({ most, slope, move, up, down, right, first, least, price, spare, missing, held, variable, coefficient }: Work, n: number, m: number): void {
  let largest = 0
  for (let i = 0; i < n; i++) {
    move[i] = 0
    right[i] = -slope[i]
    largest = Math.max(largest, most[i])
  }
  for (let k = 0; k < m; k++) {
    spare[k] = Math.max(0, -least[k]) + FIRST_SPARE * largest
    missing[k] = Math.max(0, least[k]) + FIRST_SPARE * largest
    held[k] = Math.min(price[k] / 2, 0.5 * largest / spare[k])
    for (let e = first[k]; e < first[k + 1]; e++) right[variable[e]] += held[k] * coefficient[e]
  }
  for (let i = 0; i < n; i++) {
    up[i] = Math.max(0, right[i]) + FIRST_PULL
    down[i] = Math.max(0, -right[i]) + FIRST_PULL
  }
}

/** What is left between the worth and its bound from below, after so much of the step. */
function gapAfter({ most, move, up, down, by, byUp, byDown, spare, missing, held, bySpare, byMissing, byHeld, price }: Work, n: number, m: number, share: number): number {
  let sum = 0
  if (share === 0) {
    for (let i = 0; i < n; i++) sum += up[i] * (most[i] - move[i]) + down[i] * (most[i] + move[i])
    for (let k = 0; k < m; k++) sum += held[k] * spare[k] + (price[k] - held[k]) * missing[k]
    return sum
  }
  for (let i = 0; i < n; i++) {
    const moved = move[i] + share * by[i]
    sum += (up[i] + share * byUp[i]) * (most[i] - moved) + (down[i] + share * byDown[i]) * (most[i] + moved)
  }
  for (let k = 0; k < m; k++) {
    const multiplier = held[k] + share * byHeld[k]
    sum += multiplier * (spare[k] + share * bySpare[k]) + (price[k] - multiplier) * (missing[k] + share * byMissing[k])
  }
  return sum
}

/** Cholesky; false where rounding has eaten the matrix. */
function factor({ most, move, up, down, first, price, spare, missing, held, weight, variable, coefficient, at, from, stiffness, matrix }: Work, n: number, m: number): boolean {
  const cells = at[n - 1] + n
  for (let c = 0; c < cells; c++) matrix[c] = stiffness[c]
  for (let i = 0; i < n; i++) matrix[at[i] + i] += up[i] / (most[i] - move[i]) + down[i] / (most[i] + move[i])
  for (let k = 0; k < m; k++) {
    const w = 1 / (spare[k] / held[k] + missing[k] / (price[k] - held[k])), end = first[k + 1]
    weight[k] = w
    for (let e = first[k]; e < end; e++) {
      const i = variable[e], row = at[i], c = w * coefficient[e]
      for (let o = first[k]; o < end; o++) if (variable[o] <= i) matrix[row + variable[o]] += c * coefficient[o]
    }
  }
  for (let i = 0; i < n; i++) {
    const row = at[i], begin = from[i]
    for (let j = begin; j < i; j++) {
      const other = at[j], start = begin > from[j] ? begin : from[j]
      let sum = matrix[row + j]
      for (let k = start; k < j; k++) sum -= matrix[row + k] * matrix[other + k]
      matrix[row + j] = sum / matrix[other + j]
    }
    let sum = matrix[row + i]
    for (let k = begin; k < i; k++) sum -= matrix[row + k] * matrix[row + k]
    if (!(sum > 1e-14)) return false
    matrix[row + i] = Math.sqrt(sum)
  }
  return true
}

/**
 * The step that brings every product of a spare and its pull to `target`.
 * @param isCorrected by what the step before it, still in place, leaves out
 */
function direct(work: Work, n: number, m: number, target: number, isCorrected: boolean): void {
  const { most, move, up, down, by, byUp, byDown, right, first, price, spare, missing, held, bySpare, byMissing, byHeld, weight, variable, coefficient } = work
  for (let i = 0; i < n; i++) {
    // kept in the pulls' own steps until the moves are known
    byUp[i] = (target + (isCorrected ? by[i] * byUp[i] : 0)) / (most[i] - move[i]) - up[i]
    byDown[i] = (target - (isCorrected ? by[i] * byDown[i] : 0)) / (most[i] + move[i]) - down[i]
    right[i] = byDown[i] - byUp[i]
  }
  for (let k = 0; k < m; k++) {
    const fine = price[k] - held[k]
    const first1 = (target - (isCorrected ? bySpare[k] * byHeld[k] : 0)) / held[k] - spare[k], first2 = (target + (isCorrected ? byMissing[k] * byHeld[k] : 0)) / fine - missing[k]
    bySpare[k] = first1
    byMissing[k] = first2
    byHeld[k] = weight[k] * (first1 - first2)
    for (let e = first[k]; e < first[k + 1]; e++) right[variable[e]] += byHeld[k] * coefficient[e]
  }
  // what of the pulls, slopes and multipliers is not even yet is nothing: it was made even at the beginning and steps keep it so
  solveFactored(work, n)
  for (let i = 0; i < n; i++) {
    by[i] = right[i]
    byUp[i] += up[i] * by[i] / (most[i] - move[i])
    byDown[i] -= down[i] * by[i] / (most[i] + move[i])
  }
  for (let k = 0; k < m; k++) {
    let along = 0
    for (let e = first[k]; e < first[k + 1]; e++) along += coefficient[e] * by[variable[e]]
    byHeld[k] -= weight[k] * along
    bySpare[k] -= spare[k] / held[k] * byHeld[k]
    byMissing[k] += missing[k] / (price[k] - held[k]) * byHeld[k]
  }
}

function solveFactored({ right, at, from, matrix }: Work, n: number): void {
  for (let i = 0; i < n; i++) {
    const row = at[i]
    let sum = right[i]
    for (let k = from[i]; k < i; k++) sum -= matrix[row + k] * right[k]
    right[i] = sum / matrix[row + i]
  }
  for (let i = n - 1; i >= 0; i--) {
    const row = at[i], x = right[i] / matrix[row + i]
    right[i] = x
    for (let k = from[i]; k < i; k++) right[k] -= matrix[row + k] * x
  }
}

/** How much of the step may be taken before a wall is met. */
function reach({ most, move, up, down, by, byUp, byDown, spare, missing, held, bySpare, byMissing, byHeld, price }: Work, n: number, m: number): number {
  let most1 = 1
  for (let i = 0; i < n; i++) {
    if (by[i] > 0) most1 = Math.min(most1, (most[i] - move[i]) / by[i])
    else if (by[i] < 0) most1 = Math.min(most1, -(most[i] + move[i]) / by[i])
    if (byUp[i] < 0) most1 = Math.min(most1, -up[i] / byUp[i])
    if (byDown[i] < 0) most1 = Math.min(most1, -down[i] / byDown[i])
  }
  for (let k = 0; k < m; k++) {
    if (bySpare[k] < 0) most1 = Math.min(most1, -spare[k] / bySpare[k])
    if (byMissing[k] < 0) most1 = Math.min(most1, -missing[k] / byMissing[k])
    if (byHeld[k] < 0) most1 = Math.min(most1, -held[k] / byHeld[k])
    else if (byHeld[k] > 0) most1 = Math.min(most1, (price[k] - held[k]) / byHeld[k])
  }
  return most1
}

function take({ move, up, down, by, byUp, byDown, spare, missing, held, bySpare, byMissing, byHeld }: Work, n: number, m: number, share: number): void {
  for (let i = 0; i < n; i++) {
    move[i] += share * by[i]
    up[i] += share * byUp[i]
    down[i] += share * byDown[i]
  }
  for (let k = 0; k < m; k++) {
    spare[k] += share * bySpare[k]
    missing[k] += share * byMissing[k]
    held[k] += share * byHeld[k]
  }
}
