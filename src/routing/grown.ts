/** The whole job with every duct a little larger or smaller: what would touch? Nothing in the job changes. */
import { checkJob } from '#checks/index.ts'
import { contextFor, type CheckContext } from '#checks/context.ts'
import type { Finding, FindingCode } from '#checks/finding.ts'

/** Findings about room, which change with the size of a duct. */
const ABOUT_ROOM: ReadonlySet<FindingCode> = new Set<FindingCode>(['clash', 'tight', 'cut-member', 'opening-too-small', 'leaves-void', 'sleeve-too-small'])

export interface Touched {
  readonly finding: Finding
  /** the job as it stands has a finding between the same parts, perhaps a milder one */
  readonly isThereNow: boolean
}

/** @param growMm added to every outer diameter; a duct that would have none left keeps a thread of 0.1 mm */
export function touchedWhenGrown(context: CheckContext, growMm: number): Touched[] {
  const { assembly } = context
  const runs = assembly.runs.map((placed) => ({ ...placed, outerRadiusMm: Math.max(LEAST_RADIUS_MM, placed.outerRadiusMm + growMm / 2) }))
  const grown = { ...assembly, runs }
  const now = new Set(checkJob(assembly, context).filter(isAboutRoom).map(partsOf))
  return checkJob(grown, contextFor(grown)).filter(isAboutRoom).map((finding) => ({ finding, isThereNow: now.has(partsOf(finding)) }))
}

const LEAST_RADIUS_MM = 0.05

function isAboutRoom(finding: Finding): boolean {
  return ABOUT_ROOM.has(finding.code)
}

function partsOf({ parts }: Finding): string {
  return parts.map((part) => `${part.id}/${part.part ?? ''}`).join(' ')
}
