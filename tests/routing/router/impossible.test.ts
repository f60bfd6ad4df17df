/** Runs that cannot be laid, on floors where the cause is known: each is told with its cause, proved, or with a change that frees it, made here once more by hand. */
import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { checkJob } from '#checks/index.ts'
import type { Cure } from '#routing/router/cures.ts'
import { routeJob, type CannotRoute } from '#routing/router/routeJob.ts'
import type { Job } from '#model/index.ts'
import { impossibleFloor, type ImpossibleCause } from '../../../fixtures/generate/impossibleFloors.ts'
import { faultsOf } from './floors.ts'

type Told = Partial<Omit<CannotRoute, 'by' | 'cure'>> & { readonly by: readonly string[], readonly cure: Cure['kind'] | null, readonly isUnknown?: true }

/** What must be said of the first run that is not laid. `by`: ids that must be named, the first of them first. */
const TOLD: Partial<Record<ImpossibleCause, Told>> = {
  'duct-over-every-opening': { cause: 'shut-in', isProved: true, by: ['J2'], cure: 'smaller-type' },
  'terminal-walled-in': { cause: 'shut-in', isProved: true, by: ['boarding'], cure: null },
  'spigot-blocked': { cause: 'spigot-blocked', isProved: true, by: ['post'], cure: 'move' },
  'one-duct-opening': { cause: 'crowded', isProved: true, by: ['R1', 'board-west', 'board-east', 'board-low', 'board-high'], cure: 'without' },
  'no-fitting': { cause: 'no-fitting', isProved: false, by: [], cure: 'move' },
  'no-free-spigot': { cause: 'ends', isProved: true, by: ['manifold'], cure: 'without' },
  'wrong-spigot': { cause: 'ends', isProved: true, by: ['terminal'], cure: 'spigot-of-size' },
  'low-void': { cause: 'no-way', isProved: false, by: ['R2'], cure: 'swap-spigots' },
  'board-without-window': { cause: 'shut-in', isProved: true, by: ['board'], cure: null },
  'end-in-a-post': { cause: 'spigot-blocked', isProved: true, by: ['post'], cure: 'move' },
  'spigot-facing-wall': { cause: 'spigot-blocked', isProved: true, by: ['wall-east'], cure: 'move' },
  'bay-closed': { cause: 'shut-in', isProved: true, by: ['J3', 'J4', 'bridging-west'], cure: 'smaller-type' },
  'post-before-manifold': { cause: 'spigot-blocked', isProved: true, by: ['stub'], cure: 'move', curedWith: ['R2'] },
  'web-before-spigot': { cause: 'spigot-blocked', isProved: true, by: ['J2'], cure: 'shift-webs' },
}
const portsOf = (cause: ImpossibleCause) => cause === 'low-void' || cause === 'post-before-manifold' ? 'kept' as const : 'chosen' as const

describe('a run that cannot be laid, by the proof of the floor it is on', () => {
  test.each(Object.entries(TOLD))('%s: its cause, and what frees it', (name, { by, cure: kind, ...rest }) => {
    const cause = name as ImpossibleCause, { job } = impossibleFloor(cause)
    // where nothing is found to free it, not all is tried
    const { ended, job: laid, runs, cannot } = routeJob(job, { runs: 'all', ports: portsOf(cause), ...kind === null ? { whyBudget: 25_000 } : {} })
    expect(ended).toBe('partly')
    expect(cannot.map(({ runId }) => runId)).toEqual(runs.flatMap((run) => run.isRouted ? [] : [run.runId]))
    const [why] = cannot
    expect(why).toMatchObject({ ...rest, lookedInto: kind === null ? 'some' : 'all' })
    expect(by.length === 0 || why.by[0] === by[0], why.by.join()).toBe(true)
    expect(why.by).toEqual(expect.arrayContaining([...by]))
    expect(why.cure?.kind ?? null).toBe(kind)
    expect(why.isProved || why.cure !== null).toBe(true)
    // an attempt was made: its narrowest place has a place and a size
    expect(why.at).not.toBeNull()
    expect(why.largestMm).not.toBeNull()
    if (why.cure === null) return
    const alone = { ...laid, runs: laid.runs.filter(({ id }) => id === why.runId || runs.every((run) => run.runId !== id || run.isRouted)) }
    const changed = withCure(alone, why.runId, why.cure), freed = routeJob(changed, { runs: [why.runId, ...why.curedWith], ports: 'kept' })
    expect(freed.ended).toBe('routed')
    expect(faultsOf(freed.job)).toEqual([])
  })

  test.each(Object.keys(TOLD) as ImpossibleCause[])('%s: with the cause taken away it is laid', (cause) => {
    const routed = routeJob(impossibleFloor(cause).cured, { runs: 'all' })
    expect(routed.ended).toBe('routed')
    expect(faultsOf(routed.job)).toEqual([])
  })

  test('a run left lying through those that were laid is no reason to lay them once more', () => {
    const stages: string[] = []
    routeJob(impossibleFloor('one-duct-opening').job, { runs: 'all', whyBudget: 0, onProgress: ({ stage }) => { if (stage !== stages.at(-1)) stages.push(stage) } })
    expect(stages.filter((stage) => stage === 'why')).toHaveLength(1)
    expect(stages.at(-1)).toBe('why')
  })

  test('a duct over every opening is told the largest that passes them, by the incircle of the triangle', () => {
    const { job, largestMm } = impossibleFloor('duct-over-every-opening')
    expect(routeJob(job, { runs: 'all', whyBudget: 30_000 }).cannot[0].largestMm).toBeCloseTo(largestMm!, 6)
  })

  test('where two spigots were mixed up, no spigot is used twice in the job that is given back', () => {
    const { job } = impossibleFloor('one-duct-opening')
    // R1 and R2 the other way about: one of them is laid from the spigot of the other
    const crossed: Job = { ...job, runs: job.runs.map((run, i) => ({ ...run, from: job.runs[1 - i].from, waypoints: [job.runs[1 - i].waypoints[0], run.waypoints[1]] })) }
    for (const one of [job, crossed]) {
      const { job: laid } = routeJob(one, { runs: 'all', isExplained: false })
      expect(new Set(laid.runs.map(({ from }) => JSON.stringify(from))).size).toBe(2)
      expect(checkJob(assemble(laid)).filter(({ code }) => code === 'spigot-used-twice' || code === 'off-spigot')).toEqual([])
    }
  })

  test('out of work or stopped, no run is called impossible', () => {
    const { job } = impossibleFloor('board-without-window')
    for (const stopped of [routeJob(job, { runs: 'all', budget: 500 }), routeJob(job, { runs: 'all', isCancelled: () => true })]) {
      expect(['out-of-budget', 'cancelled']).toContain(stopped.ended)
      expect(stopped.cannot).toMatchObject([{ cause: 'not-tried', isProved: false, lookedInto: 'none', cure: null }])
    }
  })

  test('with no work allowed for looking for changes, that is said, and the proof stands', () => {
    const { cannot: [why] } = routeJob(impossibleFloor('spigot-blocked').job, { runs: 'all', whyBudget: 0 })
    expect(why).toMatchObject({ cause: 'spigot-blocked', isProved: true, lookedInto: 'none', triedCount: 0, cure: null })
  })
})

/** The change made by hand, apart from the router's own way of making it. */
function withCure(job: Job, runId: string, cure: Cure): Job {
  const size = (diameterMm: number, ends: readonly string[]): Job['equipment'] => job.equipment.map((one) => ({ ...one, spigots: one.spigots.map((spigot) => ends.includes(`${one.id}/${spigot.id}`) ? { ...spigot, diameterMm } : spigot) }))
  const run = job.runs.find(({ id }) => id === runId)!, ends = [run.from, run.to].map((end) => 'sleeve' in end ? '' : `${end.equipment}/${end.spigot}`)
  switch (cure.kind) {
    case 'move': {
      const by = (at: readonly number[]) => at.map((value, k) => value + cure.byMm[k]) as [number, number, number]
      return {
        ...job, equipment: job.equipment.map((one) => one.id === cure.equipmentId ? { ...one, centre: by(one.centre) } : one),
        runs: job.runs.map((one) => ({ ...one, waypoints: one.waypoints.map((point, i) => i === 0 && 'equipment' in one.from && one.from.equipment === cure.equipmentId || i === one.waypoints.length - 1 && 'equipment' in one.to && one.to.equipment === cure.equipmentId ? { ...point, at: by(point.at) } : point) })),
      }
    }
    case 'smaller-type': {
      const type = job.ductTypes.find(({ id }) => id === cure.typeId)!
      return { ...job, equipment: size(type.outerDiameterMm, ends), runs: job.runs.map((one) => one === run ? { ...one, type: type.id } : one) }
    }
    case 'spigot-of-size': return { ...job, equipment: size(cure.diameterMm, [`${cure.equipmentId}/${cure.spigotId}`]) }
    case 'shift-webs': return { ...job, joistFields: job.joistFields.map((field) => ({ ...field, joists: field.joists.map((joist) => joist.id === cure.joistId ? { ...joist, firstNodeMm: (joist.firstNodeMm ?? field.firstNodeMm) + cure.byMm } : joist) })) }
    case 'without': return { ...job, runs: job.runs.filter(({ id }) => !cure.runIds.includes(id)) }
    case 'swap-spigots': {
      const other = job.runs.find(({ id }) => id === cure.withRunId)!
      const swapped = (one: typeof run, two: typeof run) => ({ ...one, from: two.from, waypoints: [two.waypoints[0], one.waypoints.at(-1)!] })
      return { ...job, runs: job.runs.map((one) => one === run ? swapped(run, other) : one === other ? swapped(other, run) : one) }
    }
    default: throw new Error(`${cure.kind} is not made here`)
  }
}
