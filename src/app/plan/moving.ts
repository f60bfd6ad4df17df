/** What is picked out in plan, moved or taken away: which command that is. Pure. */
import type { Command } from '#commands/index.ts'
import type { Job, Point2, Point3 } from '#model/index.ts'
import type { PlanCorner, PlanPick } from './planPick.ts'

type Ring = readonly Point2[]

/** @param by mm in plan @returns null for what is not moved here: joists stand where they were measured, runs follow their points */
export function moveBy(job: Job, { kind, id }: PlanPick, by: Point2): Command | null {
  switch (kind) {
    case 'room': {
      const room = job.rooms.find(one => one.id === id)
      return room === undefined ? null : { do: 'edit-room', id, set: { outline: ringMoved(room.outline, by), doors: room.doors.map(door => ({ ...door, at: moved2(door.at, by) })) } }
    }
    case 'zone': {
      const zone = job.zones.find(one => one.id === id)
      return zone === undefined ? null : { do: 'edit-zone', id, set: { outline: ringMoved(zone.outline, by), holes: zone.holes.map(hole => ringMoved(hole, by)) } }
    }
    case 'field': {
      const field = job.joistFields.find(one => one.id === id)
      return field === undefined ? null : { do: 'edit-joist-field', id, set: { origin: moved3(field.origin, by) } }
    }
    case 'solid': return { do: 'move-solid', id, by: [by[0], by[1], 0] }
    case 'sleeve': {
      const sleeve = job.sleeves.find(one => one.id === id)
      return sleeve === undefined ? null : { do: 'move-sleeve', id, to: moved3(sleeve.at, by) }
    }
    case 'equipment': {
      const equipment = job.equipment.find(one => one.id === id)
      return equipment === undefined ? null : { do: 'move-equipment', id, to: moved3(equipment.centre, by), keepAxis: true }
    }
    case 'joist': case 'run': case 'finding': return null
  }
}

export function removalOf({ kind, id }: PlanPick): Command | null {
  switch (kind) {
    case 'room': return { do: 'remove-room', id }
    case 'zone': return { do: 'remove-zone', id }
    case 'field': return { do: 'remove-joist-field', id }
    case 'joist': return { do: 'remove-joist', id }
    case 'solid': return { do: 'remove-solid', id }
    case 'sleeve': return { do: 'remove-sleeve', id }
    case 'equipment': return { do: 'remove-equipment', id }
    case 'run': return { do: 'remove-run', id }
    case 'finding': return null
  }
}

/** The corners that can be taken hold of while a thing is picked out. */
export function cornersOf(job: Job, of: PlanPick | null): readonly (PlanCorner & { readonly at: Point2 })[] {
  if (of === null) return []
  return ringsOf(job, of).flatMap((points, ring) => points.map((at, corner) => ({ of, ring, corner, at })))
}

export function moveCorner({ of, ring, corner }: PlanCorner, at: Point2): Command {
  return { do: 'move-corner', of: of.id, ring, corner, at }
}

/** Arrow keys: how far, in plan; 10 mm, or 1 mm with Alt held. Null for other keys. */
export function nudgeOf(key: string, isFine: boolean): Point2 | null {
  const step = isFine ? 1 : 10
  switch (key) {
    case 'ArrowRight': return [step, 0]
    case 'ArrowLeft': return [-step, 0]
    case 'ArrowUp': return [0, step]
    case 'ArrowDown': return [0, -step]
    default: return null
  }
}

function ringsOf(job: Job, { kind, id }: PlanPick): readonly Ring[] {
  if (kind === 'room') return job.rooms.filter(room => room.id === id).map(room => room.outline)
  if (kind === 'zone') return job.zones.filter(zone => zone.id === id).flatMap(zone => [zone.outline, ...zone.holes])
  const shape = kind === 'solid' ? job.solids.find(solid => solid.id === id)?.shape : undefined
  // a prism that is moved or turned has its corners in a frame of its own
  const isInPlace = shape?.kind === 'prism' && [...shape.origin, ...shape.rotationDeg].every(value => value === 0)
  return isInPlace ? [shape.outline, ...shape.holes] : []
}

function ringMoved(ring: Ring, by: Point2): Point2[] {
  return ring.map(at => moved2(at, by))
}

function moved2([x, y]: Point2, by: Point2): Point2 {
  return [x + by[0], y + by[1]]
}

function moved3([x, y, z]: Point3, by: Point2): Point3 {
  return [x + by[0], y + by[1], z]
}
