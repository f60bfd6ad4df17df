/** Straight duct between a spigot and the first bend. Only settings ask for it; three diameters at the unit is common practice. */
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'
import { isSpigot } from '#assembly/runs.ts'
import type { PlacedRun } from '#assembly/assembly.ts'
import { endOf, startOf } from './bends.ts'
import type { CheckContext } from './context.ts'
import type { Finding } from './finding.ts'
import { placeOf, runRef, spigotRef } from './refs.ts'
import { pointAt } from '#geometry/curve/measure.ts'

export function straightFaults(context: CheckContext, runIndex: number): Finding[] {
  const { placed } = context.runs[runIndex]
  const { bends, centreline: { lengthMm } } = placed
  const firstMm = bends.length === 0 ? lengthMm : Math.max(0, startOf(bends[0]))
  const lastMm = bends.length === 0 ? lengthMm : Math.max(0, lengthMm - endOf(bends[bends.length - 1]))
  return [...straightAt(context, placed, 'from', firstMm), ...straightAt(context, placed, 'to', lastMm)]
}

function straightAt(context: CheckContext, placed: PlacedRun, end: 'from' | 'to', straightMm: number): Finding[] {
  const spigot = placed[end]
  if (!isSpigot(spigot) || placed.bends.length === 0) return []
  const { unitDiameters, otherDiameters } = context.assembly.job.settings.straightAtSpigot
  const diameters = spigot.equipment.kind === 'unit' ? unitDiameters : otherDiameters
  const required = diameters * placed.type.outerDiameterMm
  if (straightMm >= required - ANSWER_ERROR_MM) return []
  // where the straight ends: the bend that comes too early
  const stationMm = end === 'from' ? straightMm : placed.centreline.lengthMm - straightMm
  const point = [0, 0, 0]
  pointAt(placed.centreline, stationMm, point)
  const at = placeOf(point)
  return [{
    id: `straight-too-short:${placed.run.id}:${end}`, code: 'straight-too-short', severity: 'mend',
    parts: [runRef(placed), spigotRef(spigot)], at, mark: at, stationMm, unit: 'mm', measured: straightMm, required,
    why: `${diameters} duct diameters before a bend at ${spigot.equipment.kind === 'unit' ? 'the unit' : 'a spigot'}: common practice`,
  }]
}
