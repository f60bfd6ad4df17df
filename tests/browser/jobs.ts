/** Jobs that the browser tests open: the small void with other runs. */
import type { JobInput } from '#model/schema.ts'
import { smallVoidInput } from '../scene/smallVoid.ts'

type Place = [number, number, number]

/** A second run that turns along the joists where there is too little room for its bends, and goes through webs. */
export function clashing(): JobInput {
  const input = smallVoidInput()
  return { ...input, name: 'Weaver\u2019s loft, second try', runs: [...input.runs, run('R2', 'Run 2', [[975, -60, 2_500], [975, 700, 2_500], [1_600, 700, 2_500], [1_600, 1_800, 2_560]])] }
}

/** So many runs through the same joists that a check of them takes a while. */
export function crowded(count: number): JobInput {
  const runs = Array.from({ length: count }, (_, i) => {
    const x = 300 + i * 7_919 % 3_400, drift = i * 104_729 % 800 - 400
    return run(`R${i}`, `Run ${i}`, [[x, -60, 2_550], [x, 700, 2_540 + i % 20], [x + drift, 1_300, 2_560], [x + drift, 2_160, 2_550]])
  })
  return { ...smallVoidInput(), runs }
}

function run(id: string, name: string, places: readonly Place[]) {
  return { ...smallVoidInput().runs[0], id, name, waypoints: places.map((at) => ({ at })) }
}
