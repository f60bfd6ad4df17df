/** Things that are no proper bodies: named, and left out of every other check. */
import { whyDegenerate } from '#geometry/solid/degenerate.ts'
import { SAME_POINT_MM } from '#geometry/tolerance.ts'
import type { CheckContext } from './context.ts'
import type { Finding, PartRef, Place } from './finding.ts'
import { runRef, solidRef } from './refs.ts'

export function unsoundSolids(context: CheckContext): Finding[] {
  const { assembly, unsound, runs } = context
  const findings: Finding[] = []
  for (const [solidIndex, why] of unsound) findings.push(unsoundFinding(solidRef(assembly, solidIndex), why, middleOf(assembly.solids.bounds, solidIndex)))
  for (let i = 0; i < assembly.zones.count; i++) {
    const why = whyDegenerate(assembly.zones, i), { id, name } = assembly.job.zones[i]
    if (why !== null) findings.push(unsoundFinding({ id, name }, why, middleOf(assembly.zones.bounds, i)))
  }
  for (const { placed } of runs) {
    if (placed.centreline.lengthMm > SAME_POINT_MM) continue
    const [x, y, z] = placed.run.waypoints[0].at
    findings.push(unsoundFinding(runRef(placed), 'has no length: all its points are one', { x, y, z }))
  }
  return findings
}

function unsoundFinding(ref: PartRef, why: string, at: Place): Finding {
  return {
    id: `degenerate-solid:${ref.id}${ref.part === undefined ? '' : `/${ref.part}`}`, code: 'degenerate-solid', severity: 'stop',
    parts: [ref], at, mark: at, unit: 'count', measured: 1, required: 0, why,
  }
}

/** 0 where the body has no middle that is a number. */
function middleOf(bounds: Float64Array, solidIndex: number): Place {
  const middle = (k: number): number => {
    const value = (bounds[6 * solidIndex + k] + bounds[6 * solidIndex + 3 + k]) / 2
    return Number.isFinite(value) ? value : 0
  }
  return { x: middle(0), y: middle(1), z: middle(2) }
}
