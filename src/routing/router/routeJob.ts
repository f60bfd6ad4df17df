/**
 * The router's door: a job in, the same job with its open runs laid out. The router never marks its own homework: every run that it
 * calls routed has passed the checks that `joistway check` makes, in the company of all the others.
 *
 * The same input gives the same result, to the last digit and on every machine: nothing is drawn at random, so there is no seed, no
 * clock is asked, work is counted in steps, and of equals the first in the job's order is taken.
 */
import { assemble } from '#assembly/assemble.ts'
import type { Assembly, PlacedRun } from '#assembly/assembly.ts'
import { checkRun, contextFor, type CheckContext } from '#checks/index.ts'
import { placeRuns } from '#assembly/runs.ts'
import { usualPrices, type Job } from '#model/index.ts'
import { withChosenPorts } from './choosePorts.ts'
import { explained } from './explained.ts'
import { isBlocked, isFull, isHopeless, withOneEach } from './hopeless.ts'
import { Laying, RouteSpace } from './laying.ts'
import { Work, type Scene } from './negotiate.ts'
import { cannotOnSite, inOwnFrame, laidOnSite, ownFrameOf, type OwnFrame } from './ownFrame.ts'
import { Progress, type RouteProgress } from './progress.ts'
import { layAll } from './layAll.ts'
import { tooNearOutdoors, withTerminalsApart } from './outdoorEnds.ts'
import { layRigid } from './rigidRuns.ts'
import { cleanOf, mustBePutRight, routedWith, told, type Asking, type Routed } from './routed.ts'

export type { RouteProgress, RouteStage } from './progress.ts'
export { priceOf } from './routed.ts'
export type { Routed, RouteEnding, RunFigures } from './routed.ts'
export type { CannotRoute, CannotCause } from './whyNot.ts'

export interface RouteOptions {
  /** ids; 'open': those with something to put right; 'all': every one that is not locked */
  readonly runs?: readonly string[] | 'open' | 'all'
  /** ids of runs that stay as they are, besides the locked ones */
  readonly kept?: readonly string[]
  /** 'chosen': runs may change spigots of their size on their manifold, so that they fan out; 'kept': each stays on its own */
  readonly ports?: 'chosen' | 'kept'
  /** ids of runs that keep their spigots all the same */
  readonly fixedPorts?: readonly string[]
  /** false: runs that could not be laid are named, and nothing more is found out about them */
  readonly isExplained?: boolean
  /** most steps of work to lay the runs: the same on every machine */
  readonly budget?: number
  /** most steps of work to find out why runs could not be laid, and what would free them */
  readonly whyBudget?: number
  /** @param soFar the job with the runs in it that lie well by now; takes as long as checking them does */
  readonly onProgress?: (progress: RouteProgress, soFar: () => Routed) => void
  /** asked between steps: what lies well by then is laid, and no run is called impossible for it */
  readonly isCancelled?: () => boolean
}

export const USUAL_BUDGET = 3_000_000

/** Lays the job in its own frame, so that it makes no odds where on site and how turned it is drawn. */
export function routeJob(job: Job, options: RouteOptions = {}): Routed {
  const { runs = 'open', kept = [], onProgress = () => {} } = options
  const assembly = assemble(job), context = contextFor(assembly)
  const asked = askedFor(context, runs, new Set(kept)).map(({ run }) => run.id)
  if (asked.length === 0) return told('nothing-to-route', job, context, [], new Set(), 0)
  const frame = ownFrameOf(job), own = inOwnFrame(job, frame), ids = { ...options, runs: asked }
  const nothingYet = (): Routed => told('cancelled', job, context, asked, new Set(), 0)
  let soFar = nothingYet
  const progress = new Progress((now) => { onProgress(now, () => soFar()) })
  const inFrame = layAsDrawn(own, ids, progress, (laidNow) => { soFar = () => onSite(assembly, own, laidNow(), asked, frame) ?? nothingYet() })
  // places are rounded in the own frame: should that have hidden a miss, it is laid as it is drawn
  const routed = onSite(assembly, own, inFrame, asked, frame) ?? layAsDrawn(job, ids, progress, (laidNow) => { soFar = laidNow })
  progress.end()
  return routed
}

/** What was laid in the own frame told on site; null where a run that is called routed there does not pass the checks here. */
function onSite(assembly: Assembly, own: Job, laid: Routed, asked: readonly string[], frame: OwnFrame): Routed | null {
  const job = laidOnSite(assembly, own, laid.job, frame), isRouted = new Set(laid.runs.flatMap((run) => run.isRouted ? [run.runId] : []))
  const context = contextFor({ ...assembly, job, runs: placeRuns(job, assembly.spigots, assembly.sleeves) })
  // runs that were asked for and not laid lie through anything
  const beside = contextFor({ ...context.assembly, runs: context.assembly.runs.filter(({ run }) => isRouted.has(run.id) || !asked.includes(run.id)) })
  const isMissed = beside.runs.some(({ placed: { run } }, i) => isRouted.has(run.id) && checkRun(beside, i).some(mustBePutRight))
  return isMissed ? null : { ...told(laid.ended, job, context, asked, isRouted, laid.steps), cannot: cannotOnSite(laid.cannot, frame), whySteps: laid.whySteps }
}

/** @param offer is given what tells how the runs lie at any time from then on */
function layAsDrawn(job: Job, options: RouteOptions, progress: Progress, offer: (laidNow: () => Routed) => void): Routed {
  const { runs = 'open', kept = [], ports = 'chosen', fixedPorts = [], budget = USUAL_BUDGET, whyBudget, isExplained = true, isCancelled = () => false } = options
  const assembly = assemble(job), context = contextFor(assembly)
  const present = askedFor(context, runs, new Set(kept)), portsFixed = new Set(fixedPorts), prices = job.settings.routing ?? usualPrices
  const asked = withTerminalsApart(context, present, ({ run }) => ports === 'chosen' && !portsFixed.has(run.id)), askedIds = new Set<string>(asked.map(({ run }) => run.id))
  const standing = assembly.runs.filter(({ run }) => !askedIds.has(run.id)), tooNear = tooNearOutdoors(context, [...standing, ...asked])
  const asking: Asking = { job, assembly, context, asked, standing, tooNear, prices, fixedPorts: ports === 'kept' ? 'all' : portsFixed }
  const layable = asked.filter(({ run }) => !tooNear.has(run.id)), work = new Work(budget, isCancelled, progress)
  let rigid: PlacedRun[] = [], layings: Laying[] = []
  const laidNow = (): Map<string, PlacedRun> => cleanOf(asking, [...layings.flatMap((laying) => laying.course === null ? [] : [laying.placed()]), ...rigid])
  offer(() => routedWith(asking, 'cancelled', laidNow(), layings, work.done))
  rigid = layRigid(assembly, layable, standing, prices, work)
  const still = [...standing, ...rigid], space = new RouteSpace(contextFor({ ...assembly, runs: still }), prices)
  const scene: Scene = { space, fixed: still.map(({ centreline, outerRadiusMm }) => ({ curve: centreline, radiusMm: outerRadiusMm })), work }
  const given = layable.flatMap(({ run, type, from, to }) => type.kind === 'semi-rigid' ? [new Laying(space, run, type, from, to)] : [])
  const mayChangePorts = ({ run }: Laying): boolean => ports === 'chosen' && !portsFixed.has(run.id), shared = ports === 'chosen' ? withChosenPorts(space, given, portsFixed) : given
  layings = withOneEach(shared).filter((laying) => !isBlocked(space.context, laying, mayChangePorts(laying)))
  layAll(scene, layings, mayChangePorts, {
    isHopeless: (laying) => isHopeless(space.context, laying, mayChangePorts(laying)), isFull: (all, lacks) => isFull(space.context, still, all, lacks, ports === 'chosen'),
  })
  const laid = laidNow()
  const routed = routedWith(asking, isCancelled() ? 'cancelled' : work.isOver ? 'out-of-budget' : 'partly', laid, layings, work.done)
  const route = (changed: Job, ask: RouteOptions): Routed => layAsDrawn(changed, ask, new Progress(() => {}), () => {})
  return explained(asking, routed, layings, { isLookedInto: isExplained && routed.ended === 'partly', whyBudget, isCancelled, progress, route })
}

function askedFor(context: CheckContext, runs: NonNullable<RouteOptions['runs']>, kept: ReadonlySet<string>): PlacedRun[] {
  const ids = typeof runs === 'string' ? null : new Set(runs), tooNear = tooNearOutdoors(context, context.assembly.runs)
  return context.runs.flatMap(({ placed }, i) => {
    const { run } = placed
    if (run.locked === true || kept.has(run.id) || ids !== null && !ids.has(run.id)) return []
    return runs === 'open' && !tooNear.has(run.id) && !checkRun(context, i).some(mustBePutRight) ? [] : [placed]
  })
}
