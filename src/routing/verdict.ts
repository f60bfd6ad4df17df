/** The whole answer for one job: findings with moves that were tried, and every run's trial size. */
import { assemble } from '#assembly/assemble.ts'
import type { Assembly } from '#assembly/assembly.ts'
import { checkJob } from '#checks/index.ts'
import { contextFor, type CheckContext } from '#checks/context.ts'
import type { Finding, PartRef, Place, Severity } from '#checks/finding.ts'
import type { Job } from '#model/index.ts'
import { clearingMove } from './clearingMove.ts'
import { trialSize } from './trialSize.ts'

export interface RunVerdict {
  readonly runId: string
  readonly name: string
  readonly lengthMm: number
  readonly bendCount: number
  /** duct plus insulation, mm */
  readonly outerDiameterMm: number
  /** trial size: the largest outer diameter that the centreline still takes before anything is touched, mm; null when nothing is there to touch */
  readonly trialDiameterMm: number | null
  /** what a duct of that size touches first, and where */
  readonly touchesFirst: PartRef | null
  readonly touchesAt: Place | null
  readonly touchesAtStationMm: number | null
  /** worst severity of its findings; 'clear' when it has none but advice */
  readonly state: 'stop' | 'mend' | 'clear'
  readonly findingIds: readonly string[]
}

export interface Verdict {
  readonly findings: readonly Finding[]
  readonly counts: Readonly<Record<Severity, number>>
  readonly runs: readonly RunVerdict[]
}

export interface VerdictOptions {
  /** is told how much of the work is done, 0 to 1; it may throw to give up */
  readonly onProgress?: (doneRatio: number) => void
  /** moves are looked for only for so many of the worst findings; the others have none. All of them when left out. */
  readonly mostMoves?: number
}

export function verdictOf(
  job: Job, assembly: Assembly = assemble(job), context: CheckContext = contextFor(assembly), { onProgress = () => {}, mostMoves = Infinity }: VerdictOptions = {},
): Verdict {
  const found = checkJob(assembly, context)
  const steps = Math.min(found.length, mostMoves) + context.runs.length
  let done = 0
  const step = <T>(value: T): T => {
    onProgress(++done / steps)
    return value
  }
  const findings = found.map((finding, i) => {
    if (i >= mostMoves) return finding
    const move = step(clearingMove(context, finding))
    return move === undefined ? finding : { ...finding, move }
  })
  const counts: Record<Severity, number> = { stop: 0, mend: 0, advice: 0 }
  for (const { severity } of findings) counts[severity]++
  const findingsOf = new Map<string, Finding[]>(context.runs.map(({ placed }) => [placed.run.id, []]))
  for (const finding of findings) for (const id of new Set(finding.parts.map((part) => part.id))) findingsOf.get(id)?.push(finding)
  const runs = context.runs.map(({ placed }, runIndex): RunVerdict => {
    const own = findingsOf.get(placed.run.id) ?? []
    const trial = step(trialSize(context, runIndex))
    return {
      runId: placed.run.id, name: placed.run.name, lengthMm: placed.centreline.lengthMm, bendCount: placed.bends.length,
      outerDiameterMm: 2 * placed.outerRadiusMm, trialDiameterMm: trial.diameterMm,
      touchesFirst: trial.touchesFirst, touchesAt: trial.at, touchesAtStationMm: trial.stationMm,
      state: own.some((f) => f.severity === 'stop') ? 'stop' : own.some((f) => f.severity === 'mend') ? 'mend' : 'clear',
      findingIds: own.map((f) => f.id),
    }
  })
  return { findings, counts, runs }
}
