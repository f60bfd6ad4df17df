/** A course of legs and listed fittings from end to end: its elements, its length and whether its legs hold what the fittings take. */
import { writeLeg } from '#geometry/curve/build.ts'
import { ELEMENT_STRIDE, LENGTH } from '#geometry/curve/centreline.ts'
import type { Run } from '#model/index.ts'
import { apart, minus, unit, type Vec } from '../threadVector.ts'
import { writeBend } from './ductRoom.ts'
import { LEG_SPARE_MM } from './rigidClosing.ts'
import type { RigidRoom } from './rigidRoom.ts'
import type { Elbow } from './rigidWays.ts'
import type { WayEnd } from './wayPlan.ts'

export interface RigidCourse {
  /** both ends and the corners between them */
  readonly points: readonly Vec[]
  /** one for each corner */
  readonly elbows: readonly Elbow[]
}

export function lengthOf({ points, elbows }: RigidCourse): number {
  return points.reduce((sum, point, i) => i === 0 ? 0 : sum + apart(point, points[i - 1]), 0) - elbows.reduce((sum, { savedMm }) => sum + savedMm, 0)
}

/** How long each leg must be for its fittings' bends and insertions, and at the ends for the straights asked for, mm. */
export function leastLegsMm({ points, elbows }: RigidCourse, from: WayEnd, to: WayEnd): number[] {
  const last = points.length - 2
  return points.slice(1).map((_, i) => {
    if (elbows.length === 0) return 0
    if (i === 0) return elbows[0].tangentMm + Math.max(from.straightMm, elbows[0].insertionMm)
    return i === last ? elbows[i - 1].tangentMm + Math.max(to.straightMm, elbows[i - 1].insertionMm) : elbows[i - 1].takesMm + elbows[i].takesMm + LEG_SPARE_MM
  })
}

export function holdsFittings(course: RigidCourse, from: WayEnd, to: WayEnd): boolean {
  return leastLegsMm(course, from, to).every((leastMm, i) => apart(course.points[i + 1], course.points[i]) >= leastMm - 1e-6)
}

const element = new Float64Array(ELEMENT_STRIDE)

/** What the course has over all clearances, at most `mostMm`; below 0 where something is missing. Looked at from its end, where a search knows least. */
export function spareOf({ points, elbows }: RigidCourse, room: RigidRoom, mostMm: number): number {
  const count = points.length, wholeMm = lengthOf({ points, elbows })
  const ways = points.slice(1).map((point, i) => unit(minus(point, points[i])))
  let leastMm = mostMm, afterMm = 0
  for (let i = count - 2; i >= 0; i--) {
    const a = i === 0 ? 0 : elbows[i - 1].tangentMm, b = i === count - 2 ? 0 : elbows[i].tangentMm
    const [p, q, w] = [points[i], points[i + 1], ways[i]]
    if (i < count - 2) {
      writeBend(element, 0, ...q, ...w, ...ways[i + 1], elbows[i].radiusMm, b)
      leastMm = Math.min(leastMm, room.spareMm(element, wholeMm - afterMm - element[LENGTH], afterMm, leastMm))
      if (leastMm < 0) return leastMm
      afterMm += element[LENGTH]
    }
    writeLeg(element, 0, p[0] + a * w[0], p[1] + a * w[1], p[2] + a * w[2], q[0] - b * w[0], q[1] - b * w[1], q[2] - b * w[2], 0)
    leastMm = Math.min(leastMm, room.spareMm(element, wholeMm - afterMm - element[LENGTH], afterMm, leastMm))
    if (leastMm < 0) return leastMm
    afterMm += element[LENGTH]
  }
  return leastMm
}

/** As the project file holds it: a corner says its radius only where the usual fitting of its angle is not the one. */
export function waypointsOf({ points, elbows }: RigidCourse): Run['waypoints'] {
  return points.map(([x, y, z], i) => {
    const elbow = elbows[i - 1]
    return { at: [x, y, z] as [number, number, number], ...elbow?.isTold ? { radiusMm: elbow.radiusMm } : {} }
  })
}
