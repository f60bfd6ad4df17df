/**
 * The best attempt at a run that could not be laid: of the courses that were come by, the one that the largest duct would have passed. One of
 * them is laid for it here, with a thinner duct of the same bend radius: the way that is there for want of which it failed.
 */
import type { PlacedRun } from '#assembly/assembly.ts'
import { placeRun } from '#assembly/runs.ts'
import { withOneMore } from '#checks/context.ts'
import type { Finding, FindingCode } from '#checks/finding.ts'
import { checkRun, type CheckContext } from '#checks/index.ts'
import type { DuctType, Job } from '#model/index.ts'
import { narrowestOf, type Narrowest } from './narrowest.ts'
import { mustBePutRight } from './routed.ts'

export interface Attempt {
  /** what stands and is laid, and the attempt as the last run */
  readonly context: CheckContext
  readonly placed: PlacedRun
  readonly findings: readonly Finding[]
  /** null where nothing is near it */
  readonly narrowest: Narrowest | null
}

/** Faults of a duct that is too thick for its course. */
const OF_WIDTH: ReadonlySet<FindingCode> = new Set<FindingCode>(['clash', 'tight', 'cut-member', 'opening-too-small', 'leaves-void', 'sleeve-too-small', 'spigot-size', 'spigot-used-twice'])

/** @param beside what stands and is laid; @param courses one or more for the same run, none of which is clean */
export function bestAttempt(beside: CheckContext, courses: readonly PlacedRun[]): Attempt {
  const attempts = courses.map((placed): Attempt & { others: number, mm: number } => {
    const context = withOneMore(beside, placed), last = context.runs.length - 1
    const findings = checkRun(context, last).filter(mustBePutRight), narrowest = narrowestOf(context, last)
    return { context, placed, findings, narrowest, others: findings.filter(({ code }) => !OF_WIDTH.has(code)).length, mm: narrowest?.largestMm ?? Infinity }
  })
  return attempts.reduce((best, one) => one.others < best.others || one.others === best.others && one.mm > best.mm ? one : best)
}

/** Shares of the duct's size that are tried in turn. */
const THINNER = [0.9, 0.75, 0.5, 0.25]

/** @param lay routes one run in a job that was changed for it; null when it finds no clean way */
export function thinnerCourse(job: Job, { run, type, from, to, outerRadiusMm }: PlacedRun, lay: (job: Job, runId: string) => PlacedRun | null): PlacedRun | null {
  for (const share of THINNER) {
    const laid = lay(thinner(job, run.id, type, 2 * outerRadiusMm * share), run.id)
    if (laid !== null) return placeRun({ ...run, waypoints: laid.run.waypoints }, type, from, to)
  }
  return null
}

/** The job with one run, and the spigots that it is on, so much thinner; its bends and its straights at spigots no shorter in words of the type. */
function thinner(job: Job, runId: string, type: DuctType, diameterMm: number): Job {
  const thin: DuctType = { ...type, id: `${type.id}/thinner` as DuctType['id'], outerDiameterMm: diameterMm, innerDiameterMm: Math.min(type.innerDiameterMm, diameterMm / 2), insulationMm: 0 }
  const run = job.runs.find(({ id }) => id === runId)!
  const ends = new Set([run.from, run.to].flatMap((end) => 'sleeve' in end ? [] : [`${end.equipment}/${end.spigot}`]))
  return {
    ...job, ductTypes: [...job.ductTypes, thin],
    runs: job.runs.map((one) => one.id === runId ? { ...one, type: thin.id } : one),
    equipment: job.equipment.map((one) => ({ ...one, spigots: one.spigots.map((spigot) => ends.has(`${one.id}/${spigot.id}`) ? { ...spigot, diameterMm } : spigot) })),
  }
}
