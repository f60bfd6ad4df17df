/** Where runs end, and how the ends of runs follow when a piece of equipment or a sleeve moves. */
import { placed, turned, unitOf } from '#assembly/place.ts'
import { axesOfRotation } from '#geometry/solid/rotation.ts'
import type { Job, JobInput, Point3, Run, RunEnd } from '#model/index.ts'
import type { Draft } from './outcome.ts'
import { type PartInput, listed } from './parts.ts'

export interface EndPlace {
  /** middle of a spigot's mouth, or of a sleeve */
  readonly at: Point3
  /** out of the equipment, or along the sleeve; unit */
  readonly axis: Point3
}

/** An end's place nearer than this to the spigot's is on it, and goes exactly where the spigot goes, mm. */
const ON_SPIGOT_MM = 1e-3

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

/** A run's corners with one end taken from one place to another. */
export function followed(waypoints: Run['waypoints'], end: 'from' | 'to', was: EndPlace, now: EndPlace, keepAxis: boolean): Run['waypoints'] {
  const index = end === 'from' ? 0 : waypoints.length - 1
  const nextIndex = end === 'from' ? 1 : waypoints.length - 2
  const endAt = waypoints[index].at, by = minus(now.at, was.at)
  const newEnd = Math.hypot(...minus(endAt, was.at)) <= ON_SPIGOT_MM ? now.at : plus(endAt, by)
  const next = waypoints.with(index, { ...waypoints[index], at: newEnd })
  // the other end stays on its own spigot
  if (!keepAxis || waypoints.length < 3) return next
  const corner = waypoints[nextIndex].at, out = minus(corner, endAt)
  const aheadMm = out[0] * was.axis[0] + out[1] * was.axis[1] + out[2] * was.axis[2]
  const aside = minus(out, scaled(was.axis, aheadMm))
  return next.with(nextIndex, { ...waypoints[nextIndex], at: plus(plus(newEnd, scaled(now.axis, aheadMm)), aside) })
}

function isSamePlace(a: EndPlace, b: EndPlace): boolean {
  return a.at.every((value, axis) => value === b.at[axis]) && a.axis.every((value, axis) => value === b.axis[axis])
}

export function plus(a: Point3, b: Point3): Point3 {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

export function minus(a: Point3, b: Point3): Point3 {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

export function scaled(a: Point3, by: number): Point3 {
  return [a[0] * by, a[1] * by, a[2] * by]
}
