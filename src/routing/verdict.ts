/** The whole answer for one job: findings with moves that were tried, and every run's trial size. */
import { assemble } from '#assembly/assemble.ts'
import type { Assembly } from '#assembly/assembly.ts'
import { checkJob } from '#checks/index.ts'
import { contextFor, type CheckContext } from '#checks/context.ts'
import type { Finding, Severity } from '#checks/finding.ts'
import type { Job } from '#model/index.ts'
import { clearingMove } from './clearingMove.ts'
import { putWithOwners, runVerdict, type RunVerdict } from './runVerdict.ts'

export type { RunVerdict } from './runVerdict.ts'

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
  const own = new Map<string, Finding[]>(context.runs.map(({ placed }) => [placed.run.id, []]))
  for (const finding of findings) putWithOwners(finding, own)
  const runs = context.runs.map(({ placed }, runIndex) => step(runVerdict(context, runIndex, own.get(placed.run.id)!)))
  return { findings, counts, runs }
}
