/** The verdict kept up while a job is being changed: what one run takes part in is judged again at once, the rest stands. */
import type { CheckContext } from '#checks/context.ts'
import { checkJob, checkRun } from '#checks/index.ts'
import { bySeverity, type Finding } from '#checks/finding.ts'
import { putWithOwners, runOutline, runState, runVerdict, type RunVerdict } from '#routing/runVerdict.ts'
import type { Verdict } from '#routing/verdict.ts'

/**
 * The verdict with everything that these runs take part in found anew, which is all that can change when nothing else
 * moved (no check of the job as a whole looks at a run). Moves that would clear a finding are left out of the new ones: they take longer.
 * @param withTrial whether to find their trial sizes anew too; in a large job that takes longer than a frame
 */
export function withRunsJudged(verdict: Verdict, context: CheckContext, touched: readonly number[], withTrial = true): Verdict {
  const ids = new Set<string>(touched.map(runIndex => context.runs[runIndex].placed.run.id))
  const kept: Finding[] = [], gone: Finding[] = []
  for (const finding of verdict.findings) (finding.parts.some(({ id }) => ids.has(id)) ? gone : kept).push(finding)
  const made = new Map<string, Finding>()
  for (const runIndex of touched) for (const finding of checkRun(context, runIndex)) made.set(finding.id, finding)
  const found = [...made.values()].sort(bySeverity)

  const counts = { ...verdict.counts }
  for (const { severity } of gone) counts[severity]--
  for (const { severity } of found) counts[severity]++
  const findings = merged(kept, found)
  // runs that lost or gained a finding by it
  const concerned = new Map<string, Finding[]>([...ids].map(id => [id, []]))
  for (const list of [gone, found]) for (const { parts } of list) for (const { id } of parts) concerned.set(id, [])
  for (const finding of findings) putWithOwners(finding, concerned)
  const runs = verdict.runs.map((run, runIndex) => {
    const own = concerned.get(run.runId)
    if (own === undefined) return run
    if (!ids.has(run.runId)) return { ...run, ...runState(own) }
    return withTrial ? runVerdict(context, runIndex, own) : { ...run, ...runOutline(context, runIndex), ...runState(own) }
  })
  return { findings, counts, runs }
}

/** Everything found anew, without moves; runs that were in the verdict before keep the trial size that they had there. */
export function withAllJudged(verdict: Verdict | null, context: CheckContext): Verdict {
  const findings = checkJob(context.assembly, context)
  const counts = { stop: 0, mend: 0, advice: 0 }
  const own = new Map<string, Finding[]>(context.runs.map(({ placed }) => [placed.run.id, []]))
  for (const finding of findings) {
    counts[finding.severity]++
    putWithOwners(finding, own)
  }
  const before = new Map(verdict?.runs.map(run => [run.runId, run]))
  const runs = context.runs.map(({ placed }, runIndex): RunVerdict => {
    const was = before.get(placed.run.id), ofIt = own.get(placed.run.id)!
    return was === undefined ? runVerdict(context, runIndex, ofIt) : { ...was, ...runOutline(context, runIndex), ...runState(ofIt) }
  })
  return { findings, counts, runs }
}

/** Two lists in order, as one. */
function merged(a: readonly Finding[], b: readonly Finding[]): Finding[] {
  const all: Finding[] = []
  let i = 0
  for (const finding of b) {
    while (i < a.length && bySeverity(a[i], finding) <= 0) all.push(a[i++])
    all.push(finding)
  }
  while (i < a.length) all.push(a[i++])
  return all
}
