/** How the end of a run follows when what it is on moves, or when it is taken to another spigot. */
import type { Point3, Run } from '#model/index.ts'

export interface EndPlace {
  /** middle of a spigot's mouth, or of a sleeve */
  readonly at: Point3
  /** out of the equipment, or along the sleeve; unit */
  readonly axis: Point3
}

/** An end's place nearer than this to the spigot's is on it, and goes exactly where the spigot goes, mm. */
const ON_SPIGOT_MM = 1e-3

/**
 * A run's corners with one end taken from one place to another.
 * @param keepAxis takes the next corner along too, so that the straight at the spigot keeps its length and its line
 */
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

export function plus(a: Point3, b: Point3): Point3 {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

export function minus(a: Point3, b: Point3): Point3 {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

export function scaled(a: Point3, by: number): Point3 {
  return [a[0] * by, a[1] * by, a[2] * by]
}
