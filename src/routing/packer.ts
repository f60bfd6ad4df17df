/** How high a terminal must be packed up so that its spigot sits at the middle of the opening that its run passes first. */
import type { CheckContext } from '#checks/context.ts'
import { crossingsOf } from '#checks/crossings.ts'
import { mm } from '#checks/wording.ts'
import { largestStraight } from '#geometry/fit/largestDuct.ts'
import type { Equipment } from '#model/index.ts'
import { axesOfRotation } from '#geometry/solid/rotation.ts'
import type { Vec } from './threadVector.ts'
import { inJoist } from './threadGates.ts'

export interface Packer {
  readonly equipmentId: string
  /** height of the packer, from the base to the underside of the terminal's body; negative: it would have to be let in by so much */
  readonly heightMm: number
  /** what it stands on, and its level on site */
  readonly from: string
  readonly fromMm: number
  /** level of the middle that the spigot is to sit at, and whose it is */
  readonly to: string
  readonly toMm: number
  readonly spigotId: string
  /** how the terminal moves from where it is now: up or down only */
  readonly by: Vec
  readonly words: string
}

/**
 * The base is the upper side of the ceiling zone that the terminal stands in (nearest below its spigot), or else the undersides of the joists.
 * Of several runs on it, the first in the job's order that passes an opening counts.
 * @returns the packer, or why there is none
 */
export function packerFor(context: CheckContext, equipmentId: string): Packer | { readonly why: string } {
  const equipment = context.assembly.job.equipment.find(({ id }) => id === equipmentId)
  if (equipment === undefined) return { why: `The job has no equipment ${equipmentId}.` }
  return packersFor(context, equipment)[0] ?? { why: `No run on ${equipment.name} passes an opening.` }
}

/** The same for every run on it that passes an opening, in the job's order: one terminal can stand on one of them only. */
export function packersFor(context: CheckContext, equipment: Equipment): Packer[] {
  const { assembly } = context, equipmentId = equipment.id, found: Packer[] = []
  for (const [runIndex, { placed }] of context.runs.entries()) {
    const end = 'spigot' in placed.from && placed.from.equipment.id === equipmentId ? placed.from : 'spigot' in placed.to && placed.to.equipment.id === equipmentId ? placed.to : null
    if (end === null) continue
    const crossings = crossingsOf(context, runIndex).filter(({ opening, hole }) => opening !== null || hole !== null)
    const crossing = end === placed.from ? crossings[0] : crossings[crossings.length - 1]
    if (crossing === undefined) continue
    const joist = assembly.joists[crossing.joistIndex]
    const middle = crossing.opening === null ? inJoist(joist, assembly.holes.find(({ id }) => id === crossing.hole)!.at)[1] : middleHeight(joist, crossing.opening)
    const toMm = joist.origin[2] + middle, to = `the middle of ${crossing.opening === null ? `hole ${crossing.hole} in ${joist.name}` : `${joist.name}, opening ${crossing.opening}`}`
    const base = baseOf(context, equipment, end.at[2], joist.origin[2], joist.name)
    const bottomMm = equipment.centre[2] - halfHeightMm(equipment)
    const upMm = toMm - end.at[2], heightMm = bottomMm + upMm - base.mm
    const words = heightMm >= 0
      ? `${equipment.name} on packers of ${mm(heightMm)} above ${base.name}: ${end.name} then sits at ${to}.`
      : `${equipment.name} would have to be let in by ${mm(-heightMm)} below ${base.name} for ${end.name} to sit at ${to}.`
    found.push({ equipmentId, heightMm, from: base.name, fromMm: base.mm, to, toMm, spigotId: end.spigot.id, by: [0, 0, upMm], words })
  }
  return found
}

const fit = new Float64Array(3)

function middleHeight(joist: CheckContext['assembly']['joists'][number], number: number): number {
  largestStraight(joist.openings.find((opening) => opening.number === number)!.opening, fit)
  return fit[2]
}

/** Half the height of the turned body. */
export function halfHeightMm({ sizeMm, rotationDeg }: Equipment): number {
  const axes = axesOfRotation(...rotationDeg)
  return (sizeMm[0] * Math.abs(axes[2]) + sizeMm[1] * Math.abs(axes[5]) + sizeMm[2] * Math.abs(axes[8])) / 2
}

/** What a terminal's packer stands on, and its level; null where no ceiling zone lies below it. */
export function zoneBelow({ assembly: { job } }: CheckContext, { centre: [x, y] }: Equipment, levelMm: number): { name: string, mm: number } | null {
  const zones = job.zones.filter(({ outline, holes, undersideMm }) => undersideMm <= levelMm && holdsPlan(outline, x, y) && !holes.some((hole) => holdsPlan(hole, x, y)))
  const zone = zones.sort((a, b) => b.undersideMm - a.undersideMm)[0]
  return zone === undefined ? null : { name: `the ceiling of ${zone.name}`, mm: zone.undersideMm }
}

function baseOf(context: CheckContext, equipment: Equipment, spigotMm: number, joistMm: number, joistName: string): { name: string, mm: number } {
  return zoneBelow(context, equipment, spigotMm) ?? { name: `the underside of ${joistName}`, mm: joistMm }
}

function holdsPlan(ring: readonly (readonly [number, number])[], x: number, y: number): boolean {
  let inside = false
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length]
    if (ay > y !== by > y && x < ax + (y - ay) / (by - ay) * (bx - ax)) inside = !inside
  })
  return inside
}
