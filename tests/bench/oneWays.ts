/**
 * One way at a time, each run alone on its floor, as its search is steered: by the field of costs (costField.ts), and as the crow flies,
 * which is what is left of it without the field: A* over the same corners with the straight line to go. And a house that a plainer
 * program had laid before: a lattice of points, one run after another, with ripping up (fixtures/generate/threadAll.ts).
 */
import { readFileSync } from 'node:fs'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/index.ts'
import { DUCT_CODE } from '#checks/requirement.ts'
import { parseJob, usualPrices } from '#model/index.ts'
import { findWay } from '#routing/router/findWay.ts'
import { Laying, RouteSpace } from '#routing/router/laying.ts'
import { OtherDucts } from '#routing/router/otherDucts.ts'
import { planCrossings } from '#routing/router/planCrossings.ts'
import { routeJob } from '#routing/router/routeJob.ts'
import { WEB_FAMILIES, routerFloor } from '../../fixtures/generate/routerFloors.ts'
import { summary } from './measure.ts'
import type { Cell, Table } from './table.ts'

/** haste and steps of the first two tries of a usual search */
const HASTE = 1.12, MOST_STEPS = 3_000, SLACK_MM = 3

export function oneWays(firstSeed: number, floors: number): Table {
  const rows = WEB_FAMILIES.map((family): Cell[] => {
    const tries = { field: { found: 0, ms: [] as number[], steps: [] as number[] }, crow: { found: 0, ms: [] as number[], steps: [] as number[] } }, ratios: number[] = []
    let asked = 0
    for (let k = 0; k < floors; k++) {
      const assembly = assemble(routerFloor({ family, runs: 19, seed: firstSeed + k })), locked = assembly.runs.filter(({ run }) => run.locked === true)
      const context = contextFor({ ...assembly, runs: locked }), space = new RouteSpace(context, usualPrices)
      for (const { run, type, from, to } of assembly.runs) {
        if (run.locked === true || type.kind !== 'semi-rigid') continue
        asked++
        const { plans: [plan] } = new Laying(space, run, type, from, to), others = new OtherDucts(context.clearances.mm[DUCT_CODE])
        for (const one of locked) others.add(one.centreline, one.outerRadiusMm, 30)
        const [field, crow] = (['field', 'crow'] as const).map((by) => {
          const start = performance.now(), found = findWay(by === 'field' ? plan : { ...plan, field: null }, { others, throughMm: 3000, mostSteps: MOST_STEPS, haste: HASTE, slackMm: SLACK_MM })
          tries[by].ms.push(performance.now() - start)
          tries[by].steps.push(found.steps)
          if (found.kind === 'found') tries[by].found++
          return found.kind === 'found' ? found.way.cost : NaN
        })
        if (field > 0 && crow > 0) ratios.push(field / crow)
      }
    }
    const told = (by: 'field' | 'crow'): Cell[] => [tries[by].found / asked, summary(tries[by].steps).medianMs, summary(tries[by].ms).medianMs, summary(tries[by].ms).mostMs]
    return [family, asked, ...told('field'), ...told('crow'), summary(ratios).medianMs]
  })
  return {
    title: `One way alone, at most ${MOST_STEPS} steps: steered by the field, and as the crow flies`,
    head: ['webs', 'runs', 'field: found', 'steps', 'ms', 'most ms', 'crow: found', 'steps', 'ms', 'most ms', 'cost over crow'], rows, notes: [houseNote()],
  }
}

function houseNote(): string {
  const read = parseJob(readFileSync(new URL('../../fixtures/good/canal-house.json', import.meta.url), 'utf8'))
  if (!read.ok) throw new Error('canal-house.json cannot be read')
  const job = read.job, before = assemble(job).runs.filter(({ type }) => type.kind === 'semi-rigid'), ids = before.map(({ run }) => run.id as string)
  const bare = { ...job, runs: job.runs.map((run) => ids.includes(run.id) ? { ...run, waypoints: [run.waypoints[0], run.waypoints.at(-1)!] } : run) }
  const start = process.cpuUsage(), routed = routeJob(bare, { runs: ids, ports: 'kept', isExplained: false }), { user, system } = process.cpuUsage(start)
  const mm = before.reduce((sum, { centreline }) => sum + centreline.lengthMm, 0), bends = before.reduce((sum, one) => sum + one.bends.length, 0)
  const now = routed.runs.reduce((sum, { bendCount }) => sum + bendCount, 0)
  return `the canal house, ${ids.length} runs on the same spigots, ${routed.ended} in ${((user + system) / 1e6).toFixed(1)} s of the processor: length ${(routed.lengthMm / mm).toFixed(3)} of the lattice threader's, bends ${now} for ${bends}, crossings ${routed.crossings.length} for ${planCrossings(before, assemble(job).runs.filter(({ run }) => !ids.includes(run.id))).length}`
}
