/** Where a body stands in its room, told so that it can be found with a tape: square from two walls that are not in line. */
import type { Job, Room } from '#model/index.ts'
import { compassOf } from '#geometry/compass.ts'
import type { Point } from '../page.ts'

export interface FromWall {
  /** 'west wall', with y to the north as the plan is drawn */
  readonly name: string
  /** square from the wall's face to the nearest side of the body, and to its middle, mm; below 0 it stands in the wall */
  readonly sideMm: number
  readonly middleMm: number
  /** the wall's face, and its foot below the body's nearest corner and middle, in plan */
  readonly wall: readonly [Point, Point]
  readonly sideFoot: Point
  readonly sideAt: Point
  readonly middleFoot: Point
}

export interface Standing {
  /** null when it stands in no room of the job */
  readonly room: Room | null
  /** the nearest wall first; none without a room */
  readonly walls: readonly FromWall[]
}

/** Two walls count as square enough to each other from this angle on (its cosine). */
const SQUARE_ENOUGH = Math.cos(45 * Math.PI / 180)

export function standingOf(job: Job, outline: readonly Point[], middle: Point): Standing {
  const room = job.rooms.find((each) => isInside(each.outline, middle)) ?? null
  if (room === null) return { room, walls: [] }
  const ring = areaOf(room.outline) > 0 ? room.outline : [...room.outline].reverse()
  const found: (FromWall & { readonly way: Point })[] = []
  ring.forEach((a, i) => {
    const b = ring[(i + 1) % ring.length], length = Math.hypot(b[0] - a[0], b[1] - a[1])
    if (length === 0) return
    const way: Point = [(b[0] - a[0]) / length, (b[1] - a[1]) / length], inward: Point = [-way[1], way[0]]
    const off = (p: Point): number => (p[0] - a[0]) * inward[0] + (p[1] - a[1]) * inward[1]
    const along = (p: Point): number => (p[0] - a[0]) * way[0] + (p[1] - a[1]) * way[1]
    const foot = (p: Point): Point => [a[0] + along(p) * way[0], a[1] + along(p) * way[1]]
    // a wall that the body does not stand in front of cannot be measured from
    if (along(middle) < 0 || along(middle) > length || off(middle) < 0) return
    const sideAt = outline.reduce((best, p) => off(p) < off(best) - 1e-6 ? p : best)
    found.push({ name: `${compassOf(-inward[0], -inward[1])} wall`, sideMm: off(sideAt), middleMm: off(middle), wall: [a, b], sideFoot: foot(sideAt), sideAt, middleFoot: foot(middle), way })
  })
  found.sort((p, q) => p.middleMm - q.middleMm)
  const first = found[0], second = found.find(({ way }) => Math.abs(way[0] * first.way[0] + way[1] * first.way[1]) < SQUARE_ENOUGH)
  return { room, walls: [first, second].filter((each) => each !== undefined) }
}

export function isInside(ring: readonly (readonly number[])[], [x, y]: Point): boolean {
  let inside = false
  ring.forEach(([x0, y0], i) => {
    const [x1, y1] = ring[(i + 1) % ring.length]
    if (y0 > y !== y1 > y && x < x0 + (y - y0) * (x1 - x0) / (y1 - y0)) inside = !inside
  })
  return inside
}

function areaOf(ring: readonly (readonly number[])[]): number {
  return ring.reduce((sum, [x, y], i) => sum + x * ring[(i + 1) % ring.length][1] - ring[(i + 1) % ring.length][0] * y, 0) / 2
}
