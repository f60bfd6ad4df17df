/** Ends of runs as the router takes them, and the heights it tries in a group of bays. */
import type { PlacedRun } from '#assembly/assembly.ts'
import { isSpigot } from '#assembly/runs.ts'
import type { CheckContext } from '#checks/context.ts'
import type { DuctType } from '#model/index.ts'
import type { Vec } from '../threadVector.ts'
import type { WayEnd } from './wayPlan.ts'
import type { BayGroup } from './routeSpace.ts'

/** A little more straight than is asked, so that rounding of a coordinate does not eat it. */
const STRAIGHT_SPARE_MM = 0.1

export function outerRadiusMm(type: DuctType): number {
  return type.outerDiameterMm / 2 + type.insulationMm
}

/** @param towards where the run goes: of a sleeve's two ways out the one that leads there */
export function wayEnd({ assembly, clearances }: CheckContext, type: DuctType, end: PlacedRun['from'], towards: Vec): WayEnd {
  const radiusMm = outerRadiusMm(type)
  if (isSpigot(end)) {
    const { unitDiameters, otherDiameters } = assembly.job.settings.straightAtSpigot
    const diameters = end.equipment.kind === 'unit' ? unitDiameters : otherDiameters
    return {
      at: end.at, axis: end.axis, straightMm: diameters * type.outerDiameterMm + STRAIGHT_SPARE_MM,
      zoneMm: radiusMm + clearances.mm[assembly.parts.classCodeOf(end.bodySolid)] + end.spigot.lengthMm,
      exempt: new Set(end.collarSolid < 0 ? [end.bodySolid] : [end.bodySolid, end.collarSolid]),
    }
  }
  const { at, axis, hosts, sleeve } = end
  const isBehind = (towards[0] - at[0]) * axis[0] + (towards[1] - at[1]) * axis[1] + (towards[2] - at[2]) * axis[2] < 0
  const straightMm = sleeve.lengthMm / 2 + STRAIGHT_SPARE_MM
  return { at, axis: isBehind ? [-axis[0], -axis[1], -axis[2]] : axis, straightMm, zoneMm: straightMm + radiusMm + clearances.mostMm, exempt: new Set(hosts) }
}

/** Heights where corners are tried: spread over the joists' depth, and below and above it where the void goes on. */
export function levelsFor({ assembly }: CheckContext, group: BayGroup, radiusMm: number): number[] {
  let low = Infinity, high = -Infinity
  for (const { undersideMm, topMm } of assembly.job.zones) {
    low = Math.min(low, undersideMm)
    high = Math.max(high, topMm)
  }
  const joists = group.lines.flatMap((line) => line.joists)
  const joistLow = joists.length === 0 ? low : Math.min(...joists.map(({ lowZ }) => lowZ)), joistHigh = joists.length === 0 ? high : Math.max(...joists.map(({ highZ }) => highZ))
  if (low === Infinity) [low, high] = [joistLow, joistHigh]
  const from = joistLow + radiusMm + HAIR_MM, to = joistHigh - radiusMm - HAIR_MM
  // over the lower chord and under the upper one most passes; between them what passes by either
  const through = joists.length === 0 ? [from, to] : [joistLow + joists[0].openLowMm + radiusMm, joistLow + joists[0].openHighMm - radiusMm]
  const levels = [from, ...(through[0] < through[1] ? [through[0], (through[0] + through[1]) / 2, through[1]] : []), to]
  for (let z = joistLow - radiusMm - 2 * HAIR_MM, k = 0; z > low + radiusMm && k < MOST_BEYOND; z -= BEYOND_STEP_MM, k++) levels.unshift(z)
  for (let z = joistHigh + radiusMm + 2 * HAIR_MM, k = 0; z < high - radiusMm && k < MOST_BEYOND; z += BEYOND_STEP_MM, k++) levels.push(z)
  return levels.filter((z) => z >= low + radiusMm && z <= high - radiusMm)
}

/** room for the ceiling's own clearance, mm */
const HAIR_MM = 3
const MOST_BEYOND = 2, BEYOND_STEP_MM = 120
