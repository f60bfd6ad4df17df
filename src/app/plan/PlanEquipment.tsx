import { memo, useMemo } from 'react'
import type { PlacedSpigot } from '#assembly/assembly.ts'
import type { Job, Point2 } from '#model/index.ts'
import { AIR } from '#scene/air.ts'
import { PENCIL, colourOfClass } from '#scene/palette.ts'
import { collarRing, equipmentRing } from './outlines.ts'
import { isPick, type PlanPick } from './planPick.ts'
import { ringsPath } from './svgPath.ts'

/** Bodies with their collars, and at each mouth an arrow the way out. */
export const PlanEquipment = memo(({ job, spigots, pick }: { readonly job: Job, readonly spigots: readonly PlacedSpigot[], readonly pick: PlanPick | null }) => {
  const { equipment } = job
  const drawn = useMemo(() => equipment.map(one => ({
    one, body: ringsPath([equipmentRing(one)]), collars: spigots.filter(spigot => spigot.equipment.id === one.id)
      .map(spigot => ({ key: spigot.spigot.id, collar: ringsPath([collarRing(spigot.at, spigot.axis, spigot.spigot.diameterMm, spigot.spigot.lengthMm)]), arrow: arrowPath(spigot) })),
  })), [equipment, spigots])
  return drawn.map(({ one, body, collars }) => (
    <g key={one.id} data-pick={`equipment:${one.id}`} className={isPick(pick, 'equipment', one.id) ? 'plan-equipment is-picked' : 'plan-equipment'}>
      {collars.map(({ key, collar }) => <path key={key} className="plan-collar" d={collar} />)}
      <path className="plan-body" d={body} fill={colourOfClass(one.kind)} />
      {collars.map(({ key, arrow }) => <path key={key} className="plan-out" d={arrow} fill={one.air === undefined ? PENCIL : AIR[one.air].colour} />)}
    </g>
  ))
})

/** A collar that looks up or down has no way out in plan: it gets a diamond. */
function arrowPath({ at, axis, spigot: { diameterMm } }: PlacedSpigot): string {
  const level = Math.hypot(axis[0], axis[1]), half = diameterMm * 0.36
  const here: Point2 = [at[0], at[1]]
  if (level < 0.2) return ringsPath([[[here[0] - half, here[1]], [here[0], here[1] - half], [here[0] + half, here[1]], [here[0], here[1] + half]]])
  const x = axis[0] / level, y = axis[1] / level
  return ringsPath([[[here[0] - y * half, here[1] + x * half], [here[0] + x * diameterMm * 0.6, here[1] + y * diameterMm * 0.6], [here[0] + y * half, here[1] - x * half]]])
}
