/** A linear programme the obvious way: meet the rows in every combination, keep the feasible point with the most. */

/** Most of c.x over rows a.x <= b (each row: coefficients then b), or null when no corner is feasible. */
export function mostByCorners(rows: readonly (readonly number[])[], objective: readonly number[]): { value: number, x: number[] } | null {
  const d = objective.length
  let best: { value: number, x: number[] } | null = null
  const pick: number[] = []
  const visit = (from: number): void => {
    if (pick.length === d) {
      const x = solve(pick.map((i) => [...rows[i]]))
      if (x === null) return
      const value = objective.reduce((sum, c, k) => sum + c * x[k], 0)
      if (best !== null && value <= best.value) return
      const feasible = rows.every((row) => row.slice(0, d).reduce((sum, a, k) => sum + a * x[k], 0) <= row[d] + 1e-9)
      if (feasible) best = { value, x }
      return
    }
    for (let i = from; i <= rows.length - (d - pick.length); i++) {
      pick.push(i)
      visit(i + 1)
      pick.pop()
    }
  }
  visit(0)
  return best
}

/** Gauss-Jordan with the largest pivot; null when singular. */
function solve(m: number[][]): number[] | null {
  const d = m.length
  for (let c = 0; c < d; c++) {
    let p = c
    for (let i = c + 1; i < d; i++) if (Math.abs(m[i][c]) > Math.abs(m[p][c])) p = i
    if (Math.abs(m[p][c]) < 1e-10) return null
    const swapped = m[p]
    m[p] = m[c]
    m[c] = swapped
    for (let i = 0; i < d; i++) {
      if (i === c) continue
      const f = m[i][c] / m[c][c]
      for (let k = c; k <= d; k++) m[i][k] -= f * m[c][k]
    }
  }
  return m.map((row, i) => row[d] / row[i])
}
