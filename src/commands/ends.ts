/** Where runs end, and how the ends of runs follow when a piece of equipment or a sleeve moves. */
import { followed, type EndPlace } from '#assembly/followed.ts'
import { placed, turned, unitOf } from '#assembly/place.ts'
import { axesOfRotation } from '#geometry/solid/rotation.ts'
import type { Job, JobInput, Run, RunEnd } from '#model/index.ts'
import type { Draft } from './outcome.ts'
import { type PartInput, listed } from './parts.ts'

/** Undefined when there is no such spigot or sleeve. */
export function endPlace(job: JobInput, end: PartInput<'runs'>['from']): EndPlace | undefined {
  if ('sleeve' in end) {
    const sleeve = job.sleeves?.find(({ id }) => id === end.sleeve)
    return sleeve && Math.hypot(...sleeve.axis) > 0 ? { at: sleeve.at, axis: unitOf(sleeve.axis) } : undefined
  }
  const equipment = job.equipment?.find(({ id }) => id === end.equipment)
  const spigot = equipment?.spigots?.find(({ id }) => id === end.spigot)
  if (equipment === undefined || spigot === undefined || !(Math.hypot(...spigot.axis) > 0)) return undefined
  const axes = axesOfRotation(...(equipment.rotationDeg ?? [0, 0, 0]))
  return { at: placed(equipment.centre, axes, ...spigot.at), axis: unitOf(turned(axes, ...spigot.axis)) }
}

export function endsOn(run: Run, id: string): boolean {
  return isOn(run.from, id) || isOn(run.to, id)
}

function isOn(end: RunEnd, id: string): boolean {
  return 'sleeve' in end ? end.sleeve === id : end.equipment === id
}

/**
 * The draft with the ends of runs taken along by a piece of equipment or a sleeve that has moved in it.
 * @param id of what has moved
 * @param keepAxis takes the next corner along too, so that the straight at the spigot keeps its length and its line
 */
export function withEndsFollowing(job: Job, draft: JobInput, id: string, keepAxis = false): Draft {
  const locked: string[] = []
  const runs = job.runs.map((run) => {
    let waypoints = run.waypoints
    for (const end of ['from', 'to'] as const) {
      if (!isOn(run[end], id)) continue
      const was = endPlace(job, run[end]), now = endPlace(draft, run[end])
      if (was === undefined || now === undefined || isSamePlace(was, now)) continue
      waypoints = followed(waypoints, end, was, now, keepAxis)
    }
    if (waypoints === run.waypoints) return run
    if (run.locked) locked.push(run.name)
    return { ...run, waypoints }
  })
  if (locked.length > 0) return `${listed(locked)} ${locked.length === 1 ? 'ends on it and is' : 'end on it and are'} locked: unlock first`
  return { ...draft, runs }
}

function isSamePlace(a: EndPlace, b: EndPlace): boolean {
  return a.at.every((value, axis) => value === b.at[axis]) && a.axis.every((value, axis) => value === b.axis[axis])
}
