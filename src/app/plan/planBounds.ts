/** What the plan must show for all of a job to be seen. Pure. */
import type { Assembly } from '#assembly/assembly.ts'
import type { Point2 } from '#model/index.ts'
import { equipmentRing } from './outlines.ts'
import type { PlanBounds } from './planFrame.ts'

/** null when there is nothing yet; the datum counts only when something else is there */
export function planBounds({ job, joists, solids, runs }: Assembly): PlanBounds | null {
  const points: Point2[] = [...job.rooms.flatMap(room => room.outline), ...job.zones.flatMap(zone => zone.outline)]
  for (const { origin, along, lengthMm } of joists) points.push([origin[0], origin[1]], [origin[0] + along[0] * lengthMm, origin[1] + along[1] * lengthMm])
  for (const { run } of runs) for (const { at } of run.waypoints) points.push([at[0], at[1]])
  points.push(...job.equipment.flatMap(equipmentRing))
  for (let i = joists.at(-1)?.endSolid ?? 0; i < solids.count; i++) {
    const b = 6 * i
    points.push([solids.bounds[b], solids.bounds[b + 1]], [solids.bounds[b + 3], solids.bounds[b + 4]])
  }
  return points.length === 0 ? null : boundsOf(points)
}

export function boundsOf(points: readonly Point2[]): PlanBounds {
  let minX = Infinity, minY = Infinity, maxX = -Infinity, maxY = -Infinity
  for (const [x, y] of points) {
    minX = Math.min(minX, x)
    minY = Math.min(minY, y)
    maxX = Math.max(maxX, x)
    maxY = Math.max(maxY, y)
  }
  return [minX, minY, maxX, maxY]
}
