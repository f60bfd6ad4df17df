/** The pieces of equipment as they stand: outline in plan, heights, and which run goes to which spigot. */
import type { PlacedSpigot } from '#assembly/assembly.ts'
import type { CheckContext } from '#checks/context.ts'
import type { Equipment, Run } from '#model/index.ts'
import type { Point } from '../page.ts'
import { footprint } from './footprint.ts'
import { standingOf, type Standing } from './fromWalls.ts'

export interface Body {
  readonly equipment: Equipment
  readonly outline: readonly Point[]
  readonly bottomMm: number
  readonly topMm: number
  readonly standing: Standing
  readonly spigots: readonly { readonly placed: PlacedSpigot, readonly runs: readonly Run[] }[]
}

export function bodiesOf({ assembly, runEndsAt, runs }: CheckContext): Body[] {
  const { job, solids, parts, spigots } = assembly
  const solidOf = new Map<string, number>()
  for (let i = 0; i < solids.count; i++) if (parts.kindOf(i) === 'body') solidOf.set(parts.ownerIdOf(i), i)
  return job.equipment.map((equipment): Body => {
    const i = solidOf.get(equipment.id)!, outline = footprint(solids, i)
    return {
      equipment, outline, bottomMm: solids.bounds[6 * i + 2], topMm: solids.bounds[6 * i + 5],
      standing: standingOf(job, outline, [equipment.centre[0], equipment.centre[1]]),
      spigots: spigots.filter((spigot) => spigot.equipment === equipment).map((placed) => ({ placed, runs: [...new Set(runEndsAt.get(placed) ?? [])].map((runIndex) => runs[runIndex].placed.run) })),
    }
  })
}

/** 'up', '+x', '30° from x towards y, 12° up' */
export function wayWords([x, y, z]: readonly number[]): string {
  const riseDeg = Math.round(Math.asin(Math.min(1, Math.max(-1, z))) * 180 / Math.PI)
  if (riseDeg >= 90) return 'straight up'
  if (riseDeg <= -90) return 'straight down'
  const planDeg = (Math.round(Math.atan2(y, x) * 180 / Math.PI) + 360) % 360
  const plan = ({ 0: 'towards +x', 90: 'towards +y', 180: 'towards -x', 270: 'towards -y' } as Record<number, string>)[planDeg] ?? `${planDeg}° from x, turning towards y`
  return riseDeg === 0 ? plan : `${plan}, ${Math.abs(riseDeg)}° ${riseDeg > 0 ? 'up' : 'down'}`
}
