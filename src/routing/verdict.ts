/** The whole answer for one job: findings with moves that were tried, and every run's trial size. */
import type { Finding, PartRef, Place, Severity } from '#checks/finding.ts'

export interface RunVerdict {
  readonly runId: string
  readonly name: string
  readonly lengthMm: number
  readonly bendCount: number
  /** duct plus insulation, mm */
  readonly outerDiameterMm: number
  /** trial size: the largest outer diameter that the centreline still takes before anything is touched, mm */
  readonly trialDiameterMm: number
  /** what a duct of that size touches first, and where; null when nothing is near */
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
