/** What a verdict says of one run, from the findings that name it. */
import type { CheckContext } from '#checks/context.ts'
import type { Finding, PartRef, Place } from '#checks/finding.ts'
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

/** All of it, its trial size worked out anew. @param own the findings that name it, in the verdict's order */
export function runVerdict(context: CheckContext, runIndex: number, own: readonly Finding[]): RunVerdict {
  const trial = trialSize(context, runIndex)
  return {
    ...runOutline(context, runIndex), ...runState(own),
    trialDiameterMm: trial.diameterMm, touchesFirst: trial.touchesFirst, touchesAt: trial.at, touchesAtStationMm: trial.stationMm,
  }
}

export function runOutline(context: CheckContext, runIndex: number): Pick<RunVerdict, 'runId' | 'name' | 'lengthMm' | 'bendCount' | 'outerDiameterMm'> {
  const { run, centreline, bends, outerRadiusMm } = context.runs[runIndex].placed
  return { runId: run.id, name: run.name, lengthMm: centreline.lengthMm, bendCount: bends.length, outerDiameterMm: 2 * outerRadiusMm }
}

export function runState(own: readonly Finding[]): Pick<RunVerdict, 'state' | 'findingIds'> {
  const state = own.some(({ severity }) => severity === 'stop') ? 'stop' : own.some(({ severity }) => severity === 'mend') ? 'mend' : 'clear'
  return { state, findingIds: own.map(({ id }) => id) }
}

/** Puts a finding with each thing that it is about, once even where it names two parts of one; what is not asked for in `own` is passed over. */
export function putWithOwners(finding: Finding, own: ReadonlyMap<string, Finding[]>): void {
  for (const { id } of finding.parts) {
    const there = own.get(id)
    if (there !== undefined && there.at(-1) !== finding) there.push(finding)
  }
}
