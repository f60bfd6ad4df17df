import { describe, expect, test } from 'vitest'
import { leastMoves } from '#routing/router/leastMoves.ts'
import { Rows } from '#routing/router/settleRows.ts'
import { seeded } from '../../../fixtures/generate/seeded.ts'

const PRICE = 12

interface Programme { readonly gradient: Float64Array, readonly block: Float64Array, readonly most: Float64Array, readonly rows: readonly { readonly coefficients: readonly number[], readonly least: number }[] }

function worthOf({ gradient, block, rows }: Programme, moves: ArrayLike<number>): number {
  const n = gradient.length
  let worth = 0
  for (let i = 0; i < n; i++) {
    worth += gradient[i] * moves[i]
    for (let j = 0; j < n; j++) worth += moves[i] * block[i * n + j] * moves[j] / 2
  }
  return rows.reduce((sum, { coefficients, least }) => sum + PRICE * Math.max(0, least - coefficients.reduce((along, c, i) => along + c * moves[i], 0)), worth)
}

function solved({ gradient, block, most, rows }: Programme): Float64Array {
  const n = gradient.length, list = new Rows(PRICE), moves = new Float64Array(n)
  for (const { coefficients, least } of rows) {
    coefficients.forEach((c, i) => list.put(i, c))
    list.close(least)
  }
  leastMoves([list], gradient, [{ first: 0, size: n, block }], most, 1e-6, moves)
  return moves
}

describe('the best small moves', () => {
  test('no place on a fine grid of moves is worth less', () => {
    const seed = 77, random = seeded(seed), between = random.between
    for (let k = 0; k < 40; k++) {
      const n = 3, root = Array.from({ length: n * n }, () => between(-0.3, 0.3)), block = new Float64Array(n * n)
      for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) for (let m = 0; m < n; m++) block[i * n + j] += root[i * n + m] * root[j * n + m]
      const programme: Programme = {
        gradient: Float64Array.from({ length: n }, () => between(-2, 2)), block, most: Float64Array.of(5, 8, k % 4 === 0 ? 0 : 3),
        // some cannot be met within the moves: they are met as far as the price allows
        rows: Array.from({ length: random.whole(0, 7) }, () => ({ coefficients: Array.from({ length: n }, () => between(-1, 1)), least: between(-4, 6) })),
      }
      const moves = solved(programme), own = worthOf(programme, moves)
      moves.forEach((move, i) => expect(Math.abs(move), `seed ${seed}, case ${k}`).toBeLessThanOrEqual(programme.most[i]))
      let least = Infinity
      const at = [0, 0, 0]
      for (let a = -20; a <= 20; a++) for (let b = -20; b <= 20; b++) for (let c = -20; c <= 20; c++) {
        at[0] = programme.most[0] * a / 20
        at[1] = programme.most[1] * b / 20
        at[2] = programme.most[2] * c / 20
        least = Math.min(least, worthOf(programme, at))
      }
      expect(own, `seed ${seed}, case ${k}`).toBeLessThanOrEqual(least + 1e-5)
    }
  })

  test('with nothing in the way it goes to where the slope ends, or as far as it may', () => {
    const moves = solved({ gradient: Float64Array.of(-1, -1), block: Float64Array.of(0.5, 0, 0, 0.01), most: Float64Array.of(10, 10), rows: [] })
    // 1 / 0.5 = 2; 1 / 0.01 = 100 is out of reach
    expect(moves[0]).toBeCloseTo(2, 3)
    expect(moves[1]).toBeCloseTo(10, 3)
  })
})
