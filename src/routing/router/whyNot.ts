/** Why a run could not be laid: a proof where there is one, the narrowest place, and a change that was tried and frees it. */
import type { PlacedRun } from '#assembly/assembly.ts'
import type { CheckContext } from '#checks/context.ts'
import type { Finding, FindingCode } from '#checks/finding.ts'
import { largestStraight } from '#geometry/fit/largestDuct.ts'
import type { Job } from '#model/index.ts'
import type { Vec } from '../threadVector.ts'
import { curesFor, type Cure } from './cures.ts'
import { provedShut } from './provedShut.ts'
import { outerRadiusMm, wayEnd } from './wayEnds.ts'

/**
 * 'ends': its ends are wrong, whatever its course. 'spigot-blocked' and 'shut-in' are proved: the first duct out of a spigot, or every way at all, is barred
 * to its outer diameter. 'no-fitting': rigid duct for which no course of listed fittings was found. 'no-way': none was found beside the others. These two prove nothing.
 * 'not-tried': the work was stopped before enough was tried.
 */
export type CannotCause = 'ends' | 'spigot-blocked' | 'shut-in' | 'no-fitting' | 'no-way' | 'not-tried'

export interface CannotRoute {
  readonly runId: string
  readonly name: string
  readonly cause: CannotCause
  readonly isProved: boolean
  /** ids of what stops it, most in the way first */
  readonly by: readonly string[]
  /** where it is stopped, or the narrowest place of the best attempt */
  readonly at: Vec | null
  /** the largest duct that would pass what stops it, mm; null where that is not told by an opening */
  readonly largestMm: number | null
  /** the first of the changes tried, cheapest first, that frees it: routed and checked; null when none of them does or none was tried */
  readonly cure: Cure | null
  /** what the checks say of the best attempt */
  readonly findings: readonly Finding[]
}

/** changes tried for one run */
const MOST_CURES = 40

const OF_THE_ENDS: ReadonlySet<FindingCode> = new Set<FindingCode>(['spigot-size', 'spigot-used-twice', 'outdoor-too-near'])

/**
 * @param context what stands, with the runs that were laid
 * @param attempt the run as it was tried last, in the context of the others
 * @param isFreed routes the run alone in a changed job and says whether it passes the checks
 */
export function whyNot(context: CheckContext, job: Job, placed: PlacedRun, attempt: readonly Finding[], isFreed: (job: Job) => boolean): CannotRoute {
  const { run, type, from, to } = placed
  const common = { runId: run.id, name: run.name, findings: attempt }
  if (attempt.some(({ code }) => OF_THE_ENDS.has(code))) return { ...common, cause: 'ends', isProved: true, by: [], at: null, largestMm: null, cure: null }
  const bendRadiusMm = type.kind === 'semi-rigid' ? type.minBendRadiusMm : Math.min(...type.fittings.map(({ radiusMm }) => radiusMm))
  const ends = { from: wayEnd(context, type, from, to.at), to: wayEnd(context, type, to, from.at), radiusMm: outerRadiusMm(type), bendRadiusMm }
  const shut = provedShut(context, ends)
  const beside = [...new Set(attempt.flatMap(({ parts }) => parts.map(({ id }) => id)))].filter((id) => id !== run.id)
  const rivals = beside.filter((id) => job.runs.some((one) => one.id === id))
  const cure = curesFor(context, job, placed, rivals).slice(0, MOST_CURES).find(({ job: changed }) => isFreed(changed))?.cure ?? null
  const worst = attempt.find(({ severity }) => severity !== 'advice')
  if (shut !== null) return { ...common, cause: shut.cause, isProved: true, by: shut.by, at: shut.at, largestMm: largestThrough(context, shut.by), cure }
  return {
    ...common, cause: type.kind === 'rigid' ? 'no-fitting' : 'no-way', isProved: false,
    by: beside,
    at: worst === undefined ? null : [worst.at.x, worst.at.y, worst.at.z],
    largestMm: largestAt(worst, outerRadiusMm(type)), cure,
  }
}

/** Where a clearance is missing the duct would have to be so much thinner, on both sides. */
function largestAt(worst: Finding | undefined, radiusMm: number): number | null {
  if (worst === undefined || worst.code !== 'clash' && worst.code !== 'tight') return null
  const mm = 2 * (radiusMm - (worst.required - worst.measured))
  return mm > 0 ? mm : null
}

/** The largest duct, straight on, that passes an opening of the joists that shut the way: of the one that lets least by. */
function largestThrough({ assembly: { joists } }: CheckContext, by: readonly string[]): number | null {
  const fit = new Float64Array(3)
  const largest = joists.filter(({ id, openings }) => by.includes(id) && openings.length > 0).map(({ openings }) => openings.reduce((most, { opening }) => {
    largestStraight(opening, fit)
    return Math.max(most, fit[0])
  }, 0))
  return largest.length === 0 ? null : Math.min(...largest)
}
