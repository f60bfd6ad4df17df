/**
 * Units, manifolds and plenums, with their collars, against what else stands there: what a full-size mock-up held up between the joists tells.
 * Touching is no fault. A piece may be let into a ceiling's lining or insulation, and an outdoor terminal stands in its wall by nature.
 * One finding for each piece and each thing in its way, of the deepest place.
 */
import { solidsApart } from '#geometry/apart/solidsApart.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'
import type { SolidClass } from '#model/index.ts'
import type { CheckContext } from './context.ts'
import type { Finding } from './finding.ts'
import { placeOf, solidRef } from './refs.ts'

const STANDING: ReadonlySet<SolidClass> = new Set<SolidClass>(['unit', 'manifold', 'plenum'])
const LET_INTO: ReadonlySet<SolidClass> = new Set<SolidClass>(['lining', 'insulation', 'duct', 'sleeve'])

export function standsInFaults(context: CheckContext): Finding[] {
  const { assembly: { solids, parts, joists }, grid, isSound, joistOfSolid } = context
  const worst = new Map<string, Finding>()
  const { bounds } = solids
  for (let own = joists.at(-1)?.endSolid ?? 0; own < solids.count; own++) {
    if (isSound[own] === 0 || !STANDING.has(parts.classOf(own))) continue
    const b = 6 * own
    grid.near(bounds[b], bounds[b + 1], bounds[b + 2], bounds[b + 3], bounds[b + 4], bounds[b + 5], found)
    for (let k = 0; k < found.count; k++) {
      const other = found.items[k], className = parts.classOf(other)
      if (isSound[other] === 0 || parts.ownerIndexOf(other) === parts.ownerIndexOf(own) || LET_INTO.has(className)) continue
      // two pieces of equipment are one finding, of the first
      if (STANDING.has(className) && other < own) continue
      const apart = solidsApart(solids, own, solids, other)
      if (!(apart.distanceMm < -ANSWER_ERROR_MM)) continue
      const id = `stands-in:${parts.ownerIdOf(own)}:${parts.ownerIdOf(other)}`, there = worst.get(id)
      if (there !== undefined && there.measured <= apart.distanceMm) continue
      worst.set(id, {
        id, code: 'stands-in', severity: 'stop', parts: [solidRef(context.assembly, own), solidRef(context.assembly, other)],
        at: placeOf(apart.onFirst), onOther: placeOf(apart.onSecond), mark: placeOf(apart.onSecond),
        unit: 'mm', measured: apart.distanceMm, required: 0, ...apart.depthIsExact ? {} : { isAtLeast: true as const }, why: joistOfSolid[other] < 0 ? APART : UNCUT,
      })
    }
  }
  return [...worst.values()]
}

const APART = 'Two bodies cannot be in one place: it must stand clear, or that must be moved'
const UNCUT = 'It must stand clear: a joist is cut only as its maker or an engineer allows (NHBC Standards 6.4.18; IRC R502.8)'
const found = new IndexList()
