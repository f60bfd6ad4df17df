/** What the router answers, and the job as it is then. */
import type { Assembly, PlacedRun, PlacedSpigot } from '#assembly/assembly.ts'
import { isSpigot } from '#assembly/runs.ts'
import { withOneMore } from '#checks/context.ts'
import type { Finding } from '#checks/finding.ts'
import { checkRun, contextFor, crossingsOf, type CheckContext } from '#checks/index.ts'
import type { Job } from '#model/index.ts'
import type { Laying, Prices } from './laying.ts'
import { tooNearOutdoors } from './outdoorEnds.ts'
import { withOwnSpigots } from './ownSpigots.ts'
import { planCrossings, type PlanCrossing } from './planCrossings.ts'
import type { CannotRoute } from './whyNot.ts'

/**
 * How it ended. 'routed': every run asked for; 'partly': some, and for the others why not; 'out-of-budget' and 'cancelled': stopped before all were
 * tried for, which says nothing about whether the others can be routed: those that lay well by then are laid; 'nothing-to-route': none was asked for.
 */
export type RouteEnding = 'routed' | 'partly' | 'out-of-budget' | 'cancelled' | 'nothing-to-route'

export interface RunFigures {
  readonly runId: string
  readonly name: string
  readonly isRouted: boolean
  readonly lengthMm: number
  readonly bendCount: number
  readonly openingCount: number
}

export interface Routed {
  readonly ended: RouteEnding
  /** with the runs that were laid; no spigot is used twice that was not before */
  readonly job: Job
  readonly runs: readonly RunFigures[]
  readonly crossings: readonly PlanCrossing[]
  /** each run that was asked for and not laid */
  readonly cannot: readonly CannotRoute[]
  readonly lengthMm: number
  /** work done on laying them, and on why others cannot be laid: the same on every machine */
  readonly steps: number
  readonly whySteps: number
}

/** What was asked. */
export interface Asking {
  readonly job: Job
  readonly assembly: Assembly
  readonly context: CheckContext
  /** some of them at other terminals outdoors than in the job */
  readonly asked: readonly PlacedRun[]
  /** every other run */
  readonly standing: readonly PlacedRun[]
  /** runs whose terminals outdoors stand too near to others, by id */
  readonly tooNear: ReadonlyMap<string, Finding>
  readonly prices: Prices
  /** runs that keep their spigots; 'all' */
  readonly fixedPorts: ReadonlySet<string> | 'all'
}

export function mustBePutRight({ severity }: Finding): boolean {
  return severity !== 'advice'
}

/**
 * The runs that pass the checks together, by id: of those that were laid (where two are at odds the one with more against it is left out),
 * then of the others those that are well where they always lay.
 */
export function cleanOf({ assembly, asked, standing, tooNear }: Asking, candidates: readonly PlacedRun[]): Map<string, PlacedRun> {
  let laid = [...candidates]
  for (;;) {
    const context = contextFor({ ...assembly, runs: [...laid, ...standing] })
    const faults = laid.map((_, i) => checkRun(context, i).filter(mustBePutRight).length)
    const worst = faults.indexOf(Math.max(0, ...faults))
    if (laid.length > 0 && faults[worst] > 0) {
      laid = laid.filter((_, i) => i !== worst)
      continue
    }
    const clean = new Map<string, PlacedRun>(laid.map((placed) => [placed.run.id, placed]))
    let beside = context
    for (const placed of asked) {
      if (clean.has(placed.run.id) || tooNear.has(placed.run.id)) continue
      const tried = withOneMore(beside, placed)
      if (checkRun(tried, tried.runs.length - 1).some(mustBePutRight)) continue
      clean.set(placed.run.id, placed)
      beside = tried
    }
    return clean
  }
}

/**
 * The job with what was laid in it. Where as many runs or more were well before, and it is no cheaper, all stay as they were.
 * @param laid those that are well, by id
 * @param layings to find what spigots were meant for the others
 */
export function routedWith(asking: Asking, ended: RouteEnding, laid: ReadonlyMap<string, PlacedRun>, layings: readonly Laying[], steps: number): Routed {
  const { job, assembly, context, asked, fixedPorts, prices } = asking
  const askedIds = asked.map(({ run }) => run.id), ids = new Set<string>(askedIds)
  const wasTooNear = tooNearOutdoors(context, assembly.runs)
  const wellBefore = new Set<string>(context.runs.flatMap(({ placed: { run } }, i) => ids.has(run.id) && !wasTooNear.has(run.id) && !checkRun(context, i).some(mustBePutRight) ? [run.id] : []))
  const before = told(ended === 'nothing-to-route' ? ended : wellBefore.size === asked.length ? 'routed' : ended, job, context, askedIds, wellBefore, steps)
  if (wellBefore.size > laid.size) return before
  const now = assembly.runs.map((placed) => laid.get(placed.run.id) ?? placed)
  const left = fixedPorts === 'all' ? [] : assembly.runs.filter(({ run }) => ids.has(run.id) && !laid.has(run.id))
  const meant = new Map<string, PlacedSpigot>(layings.flatMap(({ run, start }) => isSpigot(start) ? [[run.id, start] as const] : []))
  const moved = new Map<string, PlacedRun>(left.length === 0 ? [] : withOwnSpigots(assembly.spigots, left, now.filter((placed) => !left.includes(placed)), fixedPorts === 'all' ? new Set() : fixedPorts, meant).map((placed) => [placed.run.id, placed]))
  const runs = now.map((placed) => moved.get(placed.run.id) ?? placed)
  const newJob: Job = { ...job, runs: runs.map(({ run }) => run) }
  const routed = told(laid.size === asked.length ? 'routed' : ended, newJob, contextFor({ ...assembly, job: newJob, runs }), askedIds, laid, steps)
  return wellBefore.size === asked.length && priceOf(routed, prices) >= priceOf(before, prices) ? before : routed
}

/** @param asked ids; @param laid those of them that are well */
export function told(ended: RouteEnding, job: Job, context: CheckContext, asked: readonly string[], laid: { readonly has: (id: string) => boolean }, steps: number): Routed {
  const askedIds = new Set(asked)
  const runs = context.runs.flatMap(({ placed: { run, centreline, bends } }, i): RunFigures[] => askedIds.has(run.id) ? [{
    runId: run.id, name: run.name, isRouted: laid.has(run.id), lengthMm: centreline.lengthMm, bendCount: bends.length,
    openingCount: crossingsOf(context, i).filter(({ opening, hole }) => opening !== null || hole !== null).length,
  }] : [])
  const routed = context.runs.map(({ placed }) => placed).filter(({ run }) => laid.has(run.id))
  const standing = context.runs.map(({ placed }) => placed).filter(({ run }) => !askedIds.has(run.id))
  return {
    ended, job, runs, crossings: planCrossings(routed, standing), cannot: [],
    lengthMm: runs.reduce((sum, { isRouted, lengthMm }) => sum + (isRouted ? lengthMm : 0), 0), steps, whySteps: 0,
  }
}

/** What a job's routed runs are worth: length, and the prices of bends, crossings and openings, mm. */
export function priceOf({ runs, crossings }: Pick<Routed, 'runs' | 'crossings'>, { bendMm, crossingMm, openingMm }: Prices): number {
  return runs.reduce((sum, { lengthMm, bendCount, openingCount }) => sum + lengthMm + bendMm * bendCount + openingMm * openingCount, crossingMm * crossings.length)
}
