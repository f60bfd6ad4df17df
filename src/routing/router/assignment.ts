/**
 * The cheapest way to give each row a column of its own: the Hungarian method by shortest augmenting paths
 * (Kuhn 1955; Jonker & Volgenant 1987). @param cost rows x columns, no fewer columns than rows; @returns each row's column
 */
export function cheapestAssignment(cost: readonly (readonly number[])[]): number[] {
  const rows = cost.length, columns = cost[0]?.length ?? 0
  if (columns < rows) throw new Error(`cheapestAssignment: ${rows} rows need as many columns, got ${columns}`)
  const rowPrice = new Float64Array(rows + 1), columnPrice = new Float64Array(columns + 1)
  // 0 stands for none: rows and columns count from 1
  const rowOf = new Int32Array(columns + 1), before = new Int32Array(columns + 1)
  for (let row = 1; row <= rows; row++) {
    const least = new Float64Array(columns + 1).fill(Infinity), isUsed = new Uint8Array(columns + 1)
    rowOf[0] = row
    let column = 0
    do {
      isUsed[column] = 1
      let next = 0, delta = Infinity
      for (let j = 1; j <= columns; j++) {
        if (isUsed[j] === 1) continue
        const here = cost[rowOf[column] - 1][j - 1] - rowPrice[rowOf[column]] - columnPrice[j]
        if (here < least[j]) {
          least[j] = here
          before[j] = column
        }
        if (least[j] < delta) {
          delta = least[j]
          next = j
        }
      }
      for (let j = 0; j <= columns; j++) {
        if (isUsed[j] === 1) {
          rowPrice[rowOf[j]] += delta
          columnPrice[j] -= delta
        } else least[j] -= delta
      }
      column = next
    } while (rowOf[column] !== 0)
    for (; column !== 0; column = before[column]) rowOf[column] = rowOf[before[column]]
  }
  const columnOf = new Array<number>(rows).fill(-1)
  for (let j = 1; j <= columns; j++) if (rowOf[j] > 0) columnOf[rowOf[j] - 1] = j - 1
  return columnOf
}
