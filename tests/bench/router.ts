/**
 * Whole floors routed from nothing (fixtures/generate/routerFloors.ts), per family of webs: share clean by the checks, length over the
 * least free length of each run (oracle/leastLength.ts) and over the same runs routed alone, bends, crossings, time. Seeds from 1001 on
 * are for this table only: nothing is tuned on them.
 */
import { assemble } from '#assembly/assemble.ts'
import { checkJob } from '#checks/index.ts'
import { routeJob } from '#routing/router/routeJob.ts'
import { WEB_FAMILIES, openRuns, routerFloor, type WebFamily } from '../../fixtures/generate/routerFloors.ts'
import { leastLengthOf } from '../oracle/leastLength.ts'
import type { Bench } from './bench.ts'
import type { Cell } from './table.ts'

const FIRST_SEED = 1001

export const router: Bench = {
  name: 'router',
  run({ isQuick }) {
    const sizes: readonly (readonly [runs: number, floors: number])[] = isQuick ? [[5, 2], [19, 2]] : [[5, 10], [19, 20], [40, 5], [80, 2]]
    const rows: Cell[][] = []
    for (const family of WEB_FAMILIES) for (const [runs, floors] of sizes) rows.push(rowOf(family, runs, floors))
    return [{
      title: `Floors routed, seeds from ${FIRST_SEED}`,
      head: ['webs', 'runs', 'floors', 'clean', 'runs laid', 'over least free', 'over alone, median', 'over alone, worst', 'bends a run', 'most bends', 'over four', 'crossings a run', 'median s', 'worst s', 'one again s'], rows,
    }]
  },
}

function rowOf(family: WebFamily, runs: number, floors: number): Cell[] {
  const seconds: number[] = [], again: number[] = [], overFree: number[] = [], overAlone: number[] = [], bends: number[] = []
  let clean = 0, laid = 0, asked = 0, crossings = 0
  for (let k = 0; k < floors; k++) {
    const job = routerFloor({ family, runs, seed: FIRST_SEED + k }), ids = openRuns(job)
    const start = performance.now()
    const routed = routeJob(job, { runs: 'all', isExplained: false })
    seconds.push((performance.now() - start) / 1000)
    const isClean = routed.ended === 'routed' && checkJob(assemble(routed.job)).every(({ severity }) => severity === 'advice')
    if (isClean) clean++
    asked += ids.length
    crossings += routed.crossings.length
    const placed = new Map(assemble(routed.job).runs.map((one) => [one.run.id as string, one]))
    for (const one of routed.runs) {
      if (!one.isRouted) continue
      laid++
      bends.push(one.bendCount)
      overFree.push(one.lengthMm / leastLengthOf(placed.get(one.runId)!).freeMm)
    }
    if (!isClean) continue
    if (runs <= 19) {
      // each alone between the same ends, and each again beside the rest
      const bare = { ...routed.job, runs: routed.job.runs.map((run) => ids.includes(run.id) ? { ...run, waypoints: [run.waypoints[0], run.waypoints.at(-1)!] } : run) }
      let aloneMm = 0
      for (const id of ids) {
        const alone = { ...bare, runs: bare.runs.filter((run) => run.id === id || !ids.includes(run.id)) }
        aloneMm += routeJob(alone, { runs: [id], ports: 'kept', isExplained: false }).lengthMm
      }
      overAlone.push(routed.lengthMm / aloneMm)
    }
    const one = ids[k % ids.length], taken = { ...routed.job, runs: routed.job.runs.map((run) => run.id === one ? { ...run, waypoints: [run.waypoints[0], run.waypoints.at(-1)!] } : run) }
    const from = performance.now()
    routeJob(taken, { runs: [one], isExplained: false })
    again.push((performance.now() - from) / 1000)
  }
  const median = (list: readonly number[]): number => [...list].sort((a, b) => a - b)[list.length >> 1] ?? NaN
  return [
    family, runs, floors, clean / floors, laid / asked, median(overFree), median(overAlone), Math.max(...overAlone), bends.reduce((a, b) => a + b, 0) / bends.length, Math.max(...bends),
    bends.filter((n) => n > 4).length / bends.length, crossings / asked, median(seconds), Math.max(...seconds), median(again),
  ]
}
