/** Why a run could not be laid: a proof where there is one, and the narrowest place of its best attempt. */
import type { Finding, FindingCode } from '#checks/finding.ts'
import type { CheckContext } from '#checks/context.ts'
import type { PlacedRun } from '#assembly/assembly.ts'
import type { Vec } from '../threadVector.ts'
import type { Attempt } from './bestAttempt.ts'
import type { Cure } from './cures.ts'
import { provedCrowded, type Crowded } from './provedCrowded.ts'
import { provedBlocked, provedShutIn, type Shut } from './provedShut.ts'

/**
 * 'ends': its ends are wrong, whatever its course: a spigot of another size, or one that another run has as well. 'spigot-blocked' and 'shut-in' are
 * proved: the first duct out of a spigot, or every way at all, is barred to its outer diameter. 'crowded' is proved: more runs must pass somewhere than can.
 * 'no-fitting': rigid duct for which no course of listed fittings was found. 'no-way': none was found beside the others. These two prove nothing.
 * 'not-tried': the work was stopped before enough was tried.
 */
export type CannotCause = 'ends' | 'spigot-blocked' | 'shut-in' | 'crowded' | 'no-fitting' | 'no-way' | 'not-tried'

export interface CannotRoute {
  readonly runId: string
  readonly name: string
  readonly cause: CannotCause
  readonly isProved: boolean
  /** ids of what stops it, most in the way first */
  readonly by: readonly string[]
  /** where it is barred, or the narrowest place of the best attempt; null where nothing was tried */
  readonly at: Vec | null
  /** the largest duct that would have passed there, outer diameter with insulation, mm; null where nothing was tried, or nothing is near */
  readonly largestMm: number | null
  /** of 'crowded': so many runs must pass a place, and so many can at most */
  readonly counted: { readonly runIds: readonly string[], readonly most: number, readonly at: Vec } | null
  /** the cheapest of the changes tried that frees it: routed and checked; null when none was found */
  readonly cure: Cure | null
  /** runs that are laid again with that change, besides this one */
  readonly curedWith: readonly string[]
  /** whether all changes that come into question were tried, or the work for it ran out before, or nothing was looked into */
  readonly lookedInto: 'all' | 'some' | 'none'
  readonly triedCount: number
  /** what the checks say of the best attempt */
  readonly findings: readonly Finding[]
}

export const OF_THE_ENDS: ReadonlySet<FindingCode> = new Set<FindingCode>(['spigot-size', 'spigot-used-twice', 'outdoor-too-near'])

export interface Why extends Pick<CannotRoute, 'cause' | 'isProved' | 'by' | 'at' | 'largestMm' | 'counted'> {
  /** places looked at for the proofs */
  readonly asked: number
}

/** @param attempt the best there was, beside what stands and is laid; @param runs every run that is to be laid or lies already; @param mostAsked places that may be looked at for proofs by planes */
export function whyNot(context: CheckContext, { placed, findings, narrowest }: Attempt, runs: readonly PlacedRun[], mayChangePorts: boolean, mostAsked: number): Why {
  const { run, type } = placed
  const beside = [...new Set([...narrowest === null ? [] : [narrowest.touches.id], ...findings.flatMap(({ parts }) => parts.map(({ id }) => id))])].filter((id) => id !== run.id)
  const worst = findings.at(0)
  const narrow = { at: narrowest?.at ?? (worst === undefined ? null : [worst.at.x, worst.at.y, worst.at.z] as const), largestMm: narrowest?.largestMm ?? null, counted: null }
  const ofEnds = findings.find(({ code }) => OF_THE_ENDS.has(code))
  if (ofEnds !== undefined) return { ...narrow, cause: 'ends', isProved: true, by: ofEnds.parts.map(({ id }) => id).filter((id) => id !== run.id), at: [ofEnds.at.x, ofEnds.at.y, ofEnds.at.z], asked: 0 }
  const { proof, asked } = proofOf(context, placed, runs, mayChangePorts, mostAsked)
  if (proof === null) return { ...narrow, cause: type.kind === 'rigid' ? 'no-fitting' : 'no-way', isProved: false, by: beside, asked }
  if (proof.cause === 'crowded') {
    const { runIds, most } = proof
    return { ...narrow, cause: 'crowded', isProved: true, by: [...runIds.filter((id) => id !== run.id), ...proof.by], counted: { runIds, most, at: proof.at }, asked }
  }
  return { ...narrow, cause: proof.cause, isProved: true, by: proof.by, at: proof.cause === 'spigot-blocked' ? proof.at : narrow.at ?? proof.at, asked }
}

/** The first proof that there is, and how many places were looked at for it. */
export function proofOf(context: CheckContext, placed: PlacedRun, runs: readonly PlacedRun[], mayChangePorts: boolean, mostAsked: number): { readonly proof: Shut | Crowded | null, readonly asked: number } {
  const blocked = provedBlocked(context, placed)
  if (blocked.shut !== null) return { proof: blocked.shut, asked: blocked.asked }
  const planes = provedCrowded(context, runs, placed.run.id, mayChangePorts, mostAsked), soFar = blocked.asked + planes.asked
  if (planes.crowded !== null) return { proof: planes.crowded, asked: soFar }
  const shutIn = provedShutIn(context, placed)
  return { proof: shutIn.shut, asked: soFar + shutIn.asked }
}
