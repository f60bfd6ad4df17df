/**
 * The router's door: a job in, the same job with its open runs laid out. The router never marks its own homework: every run that it
 * calls routed has passed the checks that `joistway check` makes, in the company of all the others.
 */
import { assemble } from '#assembly/assemble.ts'
import type { Assembly, PlacedRun } from '#assembly/assembly.ts'
import { checkJob, checkRun, contextFor, crossingsOf, type CheckContext } from '#checks/index.ts'
import type { Finding } from '#checks/finding.ts'
import { placeRuns } from '#assembly/runs.ts'
import { usualPrices, type Job } from '#model/index.ts'
import { withChosenPorts } from './choosePorts.ts'
import { Laying, RouteSpace } from './laying.ts'
import { Work, negotiate, settleTogether, type Scene } from './negotiate.ts'
import { cannotOnSite, inOwnFrame, laidOnSite, ownFrameOf, type OwnFrame } from './ownFrame.ts'
import { planCrossings, type PlanCrossing } from './planCrossings.ts'
import { withFewerBends } from './fewerBends.ts'
import { repair } from './repair.ts'
import { cannotForItsEnds, tooNearOutdoors, withTerminalsApart } from './outdoorEnds.ts'
import { layRigid } from './rigidRuns.ts'
import { whyNot, type CannotRoute } from './whyNot.ts'

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
  /** false: why a run could not be laid is told without looking for a change that frees it */
  readonly isExplained?: boolean
  /** most steps of work: the same on every machine */
  readonly budget?: number
  readonly onProgress?: (doneRatio: number) => void
  readonly isCancelled?: () => boolean
}

/**
 * How it ended. 'routed': every run asked for; 'partly': some, and for the others why not; 'out-of-budget' and 'cancelled': stopped before all were
 * tried for, which says nothing about whether they can be routed; 'nothing-to-route': none was asked for.
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
  readonly job: Job
  readonly runs: readonly RunFigures[]
  readonly crossings: readonly PlanCrossing[]
  readonly cannot: readonly CannotRoute[]
  readonly lengthMm: number
  readonly steps: number
}

export const USUAL_BUDGET = 3_000_000
const SETTLE_ROUNDS = 50, REPAIRS_PER_RUN = 1.5

/** Lays the job in its own frame, so that it makes no odds where on site and how turned it is drawn. */
export function routeJob(job: Job, options: RouteOptions = {}): Routed {
  const { runs = 'open', kept = [] } = options
  const assembly = assemble(job), context = contextFor(assembly)
  const asked = askedFor(context, runs, new Set(kept)).map(({ run }) => run.id)
  if (asked.length === 0) return told('nothing-to-route', job, context, [], [], 0)
  const frame = ownFrameOf(job), own = inOwnFrame(job, frame), ids = { ...options, runs: asked }
  // places are rounded in the own frame: should that have hidden a miss, it is laid as it is drawn
  return onSite(assembly, own, layAsDrawn(own, ids), asked, frame) ?? layAsDrawn(job, ids)
}

/** What was laid in the own frame told on site; null where a run that is called routed there does not pass the checks here. */
function onSite(assembly: Assembly, own: Job, laid: Routed, asked: readonly string[], frame: OwnFrame): Routed | null {
  const job = laidOnSite(assembly, own, laid.job, frame), isRouted = new Set(laid.runs.flatMap((run) => run.isRouted ? [run.runId] : []))
  const context = contextFor({ ...assembly, job, runs: placeRuns(job, assembly.spigots, assembly.sleeves) })
  const isMissed = context.runs.some(({ placed: { run } }, i) => isRouted.has(run.id) && checkRun(context, i).some(mustBePutRight))
  return isMissed ? null : told(laid.ended, job, context, asked, cannotOnSite(laid.cannot, frame), laid.steps, isRouted)
}

function layAsDrawn(job: Job, options: RouteOptions): Routed {
  const { runs = 'open', kept = [], ports = 'chosen', fixedPorts = [], budget = USUAL_BUDGET, onProgress = () => {}, isCancelled = () => false, isExplained = true } = options
  const assembly = assemble(job), context = contextFor(assembly)
  const present = askedFor(context, runs, new Set(kept)), portsFixed = new Set(fixedPorts)
  if (present.length === 0) return told('nothing-to-route', job, context, [], [], 0)
  const asked = withTerminalsApart(context, present, ({ run }) => ports === 'chosen' && !portsFixed.has(run.id)), askedIds = new Set(asked.map(({ run }) => run.id))
  const tooNear = tooNearOutdoors(context, [...context.assembly.runs.filter(({ run }) => !askedIds.has(run.id)), ...asked]), layable = asked.filter(({ run }) => !tooNear.has(run.id))
  const work = new Work(budget, isCancelled, onProgress), prices = job.settings.routing ?? usualPrices
  const rigid = layRigid(assembly, layable, assembly.runs.filter(({ run }) => !askedIds.has(run.id)), prices, work)
  const standing = [...assembly.runs.filter(({ run }) => !askedIds.has(run.id)), ...rigid]
  const space = new RouteSpace(contextFor({ ...assembly, runs: standing }), prices)
  const scene: Scene = { space, fixed: standing.map(({ centreline, outerRadiusMm }) => ({ curve: centreline, radiusMm: outerRadiusMm })), work }
  const given = layable.flatMap(({ run, type, from, to }) => type.kind === 'semi-rigid' ? [new Laying(space, run, type, from, to)] : [])
  const layings = ports === 'chosen' ? withChosenPorts(space, given, portsFixed) : given
  layAll(scene, layings, ({ run }) => ports === 'chosen' && !portsFixed.has(run.id))
  const laid = new Map([...cleanOf(assembly, standing, layings), ...rigid.map((placed) => [placed.run.id, placed] as const)])
  const ending: RouteEnding = laid.size === asked.length ? 'routed' : isCancelled() ? 'cancelled' : work.isOver ? 'out-of-budget' : 'partly'
  const newJob: Job = { ...job, runs: job.runs.map((run) => laid.get(run.id)?.run ?? run) }
  const newContext = contextFor({ ...assembly, job: newJob, runs: assembly.runs.map((placed) => laid.get(placed.run.id) ?? placed) })
  const cannot = asked.filter(({ run }) => !laid.has(run.id)).map((placed, i) => tooNear.has(placed.run.id) ? cannotForItsEnds(placed, tooNear.get(placed.run.id)!) : isExplained && ending === 'partly' && i < MOST_EXPLAINED
    ? explained(assembly, newJob, placed, layings.find(({ run }) => run.id === placed.run.id), laid, askedIds) : unexplained(placed, ending === 'partly' ? 'no-way' : 'not-tried'))
  return keepBetter(told(ending, newJob, newContext, asked.map(({ run }) => run.id), cannot, work.done, new Set(laid.keys())), job, context, asked, space.prices)
}

/** Of so many it is looked into why: it takes long. */
const MOST_EXPLAINED = 4

function unexplained({ run: { id, name } }: PlacedRun, cause: CannotRoute['cause']): CannotRoute {
  return { runId: id, name, cause, isProved: false, by: [], at: null, largestMm: null, cure: null, findings: [] }
}

function mustBePutRightIn(job: Job): string[] {
  return checkJob(assemble(job)).filter((finding) => mustBePutRight(finding)).map(({ id }) => id)
}

/** Steps for each change that is tried to free a run. */
const CURE_BUDGET = 1_500

function explained(assembly: Assembly, job: Job, placed: PlacedRun, laying: Laying | undefined, laid: ReadonlyMap<string, PlacedRun>, askedIds: ReadonlySet<string>): CannotRoute {
  const attempt = laying === undefined || laying.course === null ? placed : laying.placed()
  const others = assembly.runs.flatMap((one) => one.run.id === placed.run.id ? [] : laid.has(one.run.id) ? [laid.get(one.run.id)!] : askedIds.has(one.run.id) ? [] : [one])
  const context = contextFor({ ...assembly, runs: [...others, attempt] })
  const findings = checkRun(context, others.length).filter((finding) => mustBePutRight(finding))
  // the others that were not laid are not there to be in the way
  const alone: Job = { ...job, runs: job.runs.filter(({ id }) => id === placed.run.id || !askedIds.has(id) || laid.has(id)) }
  const before = new Set(mustBePutRightIn(alone))
  // a change that frees the run and puts something else wrong, a plenum into a joist say, is no cure
  const isFreed = (changed: Job): boolean => {
    const { ended, job: freed } = layAsDrawn(changed, { runs: [placed.run.id], ports: 'kept', budget: CURE_BUDGET, isExplained: false })
    return ended === 'routed' && mustBePutRightIn(freed).every((id) => before.has(id))
  }
  return whyNot(contextFor({ ...assembly, runs: others }), alone, attempt, findings, isFreed)
}

/** @param layings is changed: a run may have another spigot afterwards */
function layAll(scene: Scene, layings: Laying[], mayChangePorts: (laying: Laying) => boolean): void {
  negotiate(scene, layings)
  const missing = layings.map(() => Infinity)
  const laid = layings.map((_, i) => i).filter((i) => layings[i].course !== null)
  settleTogether(scene, laid.map((i) => layings[i]), [], SETTLE_ROUNDS).forEach((mm, n) => { missing[laid[n]] = mm })
  repair(scene, layings, missing, REPAIRS_PER_RUN * layings.length, mayChangePorts)
  withFewerBends(scene, layings, missing)
}

function askedFor(context: CheckContext, runs: NonNullable<RouteOptions['runs']>, kept: ReadonlySet<string>): PlacedRun[] {
  const ids = typeof runs === 'string' ? null : new Set(runs), tooNear = tooNearOutdoors(context, context.assembly.runs)
  return context.runs.flatMap(({ placed }, i) => {
    const { run } = placed
    if (run.locked === true || kept.has(run.id) || ids !== null && !ids.has(run.id)) return []
    return runs === 'open' && !tooNear.has(run.id) && !checkRun(context, i).some(mustBePutRight) ? [] : [placed]
  })
}

function mustBePutRight({ severity }: Finding): boolean {
  return severity !== 'advice'
}

/** The laid runs that pass the checks together, by id: where two are at odds the one with more against it is left out. */
function cleanOf(assembly: Assembly, standing: readonly PlacedRun[], layings: readonly Laying[]): Map<string, PlacedRun> {
  let laid = layings.flatMap((laying) => laying.course === null ? [] : [laying.placed()])
  for (;;) {
    const context = contextFor({ ...assembly, runs: [...laid, ...standing] })
    const faults = laid.map((_, i) => checkRun(context, i).filter((finding) => mustBePutRight(finding)).length)
    const worst = faults.indexOf(Math.max(0, ...faults))
    if (laid.length === 0 || faults[worst] === 0) return new Map(laid.map((placed) => [placed.run.id, placed]))
    laid = laid.filter((_, i) => i !== worst)
  }
}

function told(ended: RouteEnding, job: Job, context: CheckContext, asked: readonly string[], cannot: readonly CannotRoute[], steps: number, laid: ReadonlySet<string> = new Set()): Routed {
  const askedIds = new Set(asked)
  const runs = context.runs.flatMap(({ placed: { run, centreline, bends } }, i): RunFigures[] => askedIds.has(run.id) ? [{
    runId: run.id, name: run.name, isRouted: laid.has(run.id), lengthMm: centreline.lengthMm, bendCount: bends.length,
    openingCount: crossingsOf(context, i).filter(({ opening, hole }) => opening !== null || hole !== null).length,
  }] : [])
  const routed = context.runs.map(({ placed }) => placed).filter(({ run }) => laid.has(run.id))
  const standing = context.runs.map(({ placed }) => placed).filter(({ run }) => !askedIds.has(run.id))
  return {
    ended, job, runs, crossings: planCrossings(routed, standing), cannot,
    lengthMm: runs.reduce((sum, { isRouted, lengthMm }) => sum + (isRouted ? lengthMm : 0), 0), steps,
  }
}

/** Where the runs were all well before, and no dearer, they stay. */
function keepBetter(routed: Routed, job: Job, context: CheckContext, asked: readonly PlacedRun[], prices: RouteSpace['prices']): Routed {
  const ids = new Set(asked.map(({ run }) => run.id))
  const tooNear = tooNearOutdoors(context, context.assembly.runs)
  if (context.runs.some(({ placed }, i) => ids.has(placed.run.id) && (tooNear.has(placed.run.id) || checkRun(context, i).some(mustBePutRight)))) return routed
  const before = told('routed', job, context, [...ids], [], routed.steps, ids)
  return routed.ended === 'routed' && priceOf(routed, prices) < priceOf(before, prices) ? routed : before
}

/** What a job's routed runs are worth: length, and the prices of bends, crossings and openings, mm. */
export function priceOf({ runs, crossings }: Routed, { bendMm, crossingMm, openingMm }: RouteSpace['prices']): number {
  return runs.reduce((sum, { lengthMm, bendCount, openingCount }) => sum + lengthMm + bendMm * bendCount + openingMm * openingCount, crossingMm * crossings.length)
}
