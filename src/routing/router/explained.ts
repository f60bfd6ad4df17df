/**
 * What stops the runs that could not be laid, and the cheapest change found that frees each: within so many steps of work, shared
 * evenly. Where they run out before all changes that come into question were tried, that is said.
 */
import { assemble } from '#assembly/assemble.ts'
import type { PlacedRun } from '#assembly/assembly.ts'
import type { Finding } from '#checks/finding.ts'
import { checkJob, contextFor, type CheckContext } from '#checks/index.ts'
import type { Job } from '#model/index.ts'
import { bestAttempt, thinnerCourse, type Attempt } from './bestAttempt.ts'
import { curesFor, shorterMove, type CureTry } from './cures.ts'
import type { Laying } from './laying.ts'
import type { Progress } from './progress.ts'
import type { RouteOptions } from './routeJob.ts'
import { mustBePutRight, type Asking, type Routed } from './routed.ts'
import { OF_THE_ENDS, proofOf, whyNot, type CannotRoute, type Why } from './whyNot.ts'

/** steps of work, of which a job that is looked at anew, found clear or not, counts for so many at least */
export const USUAL_WHY_BUDGET = 500_000
const STEPS_PER_TRY = 250
/** one step for so many places that a proof looks at */
const PLACES_PER_STEP = 8
/** steps for each run that is laid again with a change, and for a thinner duct */
const CURE_BUDGET = 1_500, THINNER_BUDGET = 1_000
/** changes tried for one run, and places looked at for its proof by planes */
const MOST_CURES = 60, MOST_PLACES = 200_000
/** a move that frees the run is tried shorter, by these shares of the way from the next shorter one, which did not */
const SHORTER = [0.25, 0.5, 0.75]

interface Help {
  /** false: the runs are named, and that is all */
  readonly isLookedInto: boolean
  readonly whyBudget: number | undefined
  readonly isCancelled: () => boolean
  readonly progress: Progress
  readonly route: (job: Job, options: RouteOptions) => Routed
}

export function explained(asking: Asking, routed: Routed, layings: readonly Laying[], help: Help): Routed {
  const left = new Set<string>(routed.runs.filter(({ isRouted }) => !isRouted).map(({ runId }) => runId))
  if (left.size === 0) return routed
  if (!help.isLookedInto) return { ...routed, cannot: asking.asked.filter(({ run }) => left.has(run.id)).map((placed) => untold(asking, placed, routed.ended === 'partly' ? 'no-way' : 'not-tried')) }
  const looking = new Looking(asking, routed.job, left, help)
  const placed = looking.left
  help.progress.begin('why', placed.length)
  const reasons = placed.map((one, i) => {
    help.progress.reached(i, placed.length, one.run.name, i / placed.length / 4)
    return looking.reasonOf(one, layings.find(({ run }) => run.id === one.run.id))
  })
  const cannot = reasons.map(({ attempt, why: { asked: _, ...why } }, i): CannotRoute => {
    const { run } = placed[i]
    const tell = (triedCount: number, share: number): void => { help.progress.reached(i, placed.length, run.name, 1 / 4 + (i + share) / placed.length * 3 / 4, triedCount) }
    tell(0, 0)
    const { cure, ...tried } = looking.cureOf(placed[i], attempt, why, placed.length - i, tell)
    return { runId: run.id, name: run.name, ...why, findings: attempt.findings, ...tried, cure: cure?.cure ?? null, curedWith: cure?.laysAgain.slice(1) ?? [] }
  })
  return { ...routed, cannot, whySteps: looking.steps }
}

function untold({ tooNear }: Asking, { run: { id, name } }: PlacedRun, cause: CannotRoute['cause']): CannotRoute {
  const fault = tooNear.get(id)
  return {
    runId: id, name, cause: fault === undefined ? cause : 'ends', isProved: fault !== undefined, by: fault?.parts.map((part) => part.id) ?? [], at: fault === undefined ? null : [fault.at.x, fault.at.y, fault.at.z],
    largestMm: null, counted: null, cure: null, curedWith: [], lookedInto: 'none', triedCount: 0, findings: fault === undefined ? [] : [fault],
  }
}

class Looking {
  readonly #asking: Asking
  readonly #job: Job
  readonly #help: Help
  readonly #budget: number
  /** what stands and what is laid */
  readonly #others: readonly PlacedRun[]
  readonly #context: CheckContext
  /** those that could not be laid */
  readonly left: readonly PlacedRun[]
  steps = 0

  constructor(asking: Asking, job: Job, left: ReadonlySet<string>, help: Help) {
    this.#asking = asking
    this.#job = job
    this.#help = help
    this.#budget = help.whyBudget ?? USUAL_WHY_BUDGET
    const assembly = assemble(job)
    this.left = assembly.runs.filter(({ run }) => left.has(run.id))
    this.#others = assembly.runs.filter(({ run }) => !left.has(run.id))
    this.#context = contextFor({ ...assembly, runs: this.#others })
  }

  reasonOf(placed: PlacedRun, laying: Laying | undefined): { readonly attempt: Attempt, readonly why: Why } {
    const courses = [placed]
    // the course that it was given last counts where it has the same ends
    if (laying !== undefined && laying.course !== null && laying.from.at.every((c, k) => c === placed.from.at[k]) && laying.to.at.every((c, k) => c === placed.to.at[k])) courses.push({ ...laying.placed(), from: placed.from, to: placed.to })
    const thinner = this.isOver ? null : thinnerCourse(this.#alone(placed.run.id), placed, (job, runId) => this.#lay(job, [runId], THINNER_BUDGET)?.find(({ run }) => run.id === runId) ?? null)
    if (thinner !== null) courses.push(thinner)
    const tried = bestAttempt(this.#context, courses), fault = this.#asking.tooNear.get(placed.run.id)
    const attempt = fault === undefined ? tried : { ...tried, findings: [fault, ...tried.findings] }
    const why = whyNot(this.#context, attempt, [...this.#others, ...this.left], this.#asking.fixedPorts !== 'all', MOST_PLACES)
    this.steps += Math.ceil(why.asked / PLACES_PER_STEP)
    return { attempt, why }
  }

  get isOver(): boolean {
    return this.steps >= this.#budget || this.#help.isCancelled()
  }

  /** @param leftCount runs that are still to be looked into, this one among them: it may take its share of what is left of the work */
  cureOf(placed: PlacedRun, attempt: Attempt, why: Pick<Why, 'by' | 'isProved'>, leftCount: number, tell: (triedCount: number, share: number) => void): { readonly cure: CureTry | null, readonly lookedInto: CannotRoute['lookedInto'], readonly triedCount: number } {
    const end = this.steps + (this.#budget - this.steps) / leftCount
    const job = this.#alone(placed.run.id)
    const inTheWay = [...new Set([...why.by, ...attempt.findings.flatMap(({ parts }) => parts.map(({ id }) => id))])]
    const rivals = inTheWay.filter((id) => id !== placed.run.id && this.#others.some(({ run }) => run.id === id && run.locked !== true))
    const joistIds = new Set<string>(this.#context.assembly.joists.map(({ id }) => id))
    const tries = curesFor(this.#context, job, placed, rivals, inTheWay.filter((id) => joistIds.has(id))).filter((one) => mayCure(one, attempt.findings)), few = tries.slice(0, MOST_CURES)
    const before = faultsOf(job), fault = this.#asking.tooNear.get(placed.run.id)
    if (fault !== undefined) before.delete(fault.id)
    const frees = ({ job: changed, laysAgain }: CureTry): boolean => {
      // what is proved still needs no trying
      if (why.isProved && this.#isProved(changed, placed.run.id)) return false
      const runs = this.#lay(changed, laysAgain, CURE_BUDGET * laysAgain.length)
      // a change that frees the run and puts something else wrong or makes it worse, a plenum into a joist say, is no cure
      return runs !== null && [...faultsOf({ ...changed, runs: runs.map(({ run }) => run) })].every(([id, offBy]) => offBy <= (before.get(id) ?? -Infinity) + SAME_OFF)
    }
    let triedCount = 0
    for (const one of few) {
      if (this.steps >= end || this.isOver) return { cure: null, lookedInto: triedCount === 0 ? 'none' : 'some', triedCount }
      triedCount++
      tell(triedCount, triedCount / few.length)
      if (frees(one)) return { cure: this.#shortest(job, one, frees), lookedInto: 'all', triedCount }
    }
    return { cure: null, lookedInto: few.length === tries.length ? 'all' : 'some', triedCount }
  }

  #isProved(job: Job, runId: string): boolean {
    const assembly = assemble(job), placed = assembly.runs.find(({ run }) => run.id === runId)!
    const context = contextFor({ ...assembly, runs: assembly.runs.filter((one) => one !== placed) })
    const { proof, asked } = proofOf(context, placed, assembly.runs, false, MOST_PLACES)
    this.steps += Math.ceil(asked / PLACES_PER_STEP)
    return proof !== null
  }

  /** A move no further than it must be, by a few more tries. */
  #shortest(job: Job, found: CureTry, frees: (one: CureTry) => boolean): CureTry {
    for (const share of SHORTER) {
      const shorter = this.isOver ? null : shorterMove(job, found, share)
      if (shorter !== null && frees(shorter)) return shorter
    }
    return found
  }

  /** The job without the others that could not be laid, which are not there to be in the way. */
  #alone(runId: string): Job {
    const left = new Set<string>(this.left.map(({ run }) => run.id))
    return { ...this.#job, runs: this.#job.runs.filter(({ id }) => id === runId || !left.has(id)) }
  }

  /** All runs of the job when these of it were laid clean; null when not. */
  #lay(job: Job, runIds: readonly string[], budget: number): readonly PlacedRun[] | null {
    const routed = this.#help.route(job, { runs: runIds, ports: 'kept', budget, isExplained: false, isCancelled: this.#help.isCancelled })
    this.steps += STEPS_PER_TRY + routed.steps
    return routed.ended === 'routed' ? assemble(routed.job).runs : null
  }
}

/** Where the ends are wrong only what changes them is tried. */
function mayCure({ cure: { kind } }: CureTry, findings: readonly Finding[]): boolean {
  const fault = findings.find(({ code }) => OF_THE_ENDS.has(code))
  switch (fault?.code) {
    case 'spigot-used-twice': return kind === 'next-spigot' || kind === 'without'
    case 'spigot-size': return kind === 'next-spigot' || kind === 'spigot-of-size' || kind === 'smaller-type'
    case 'outdoor-too-near': return kind === 'move' || kind === 'next-spigot'
    default: return true
  }
}

/** What must be put right in a job, by id, and by how much each is off. */
function faultsOf(job: Job): Map<string, number> {
  return new Map(checkJob(assemble(job)).filter(mustBePutRight).map(({ id, required, measured }) => [id, Math.abs(required - measured)]))
}

/** rounding of what is measured twice */
const SAME_OFF = 1e-6
