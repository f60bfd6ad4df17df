/** Where terminals are, beyond what the checks hold them to: room for the meter's hood, far from the door, height, and what is near the intake. */
import type { Assembly } from '#assembly/assembly.ts'
import { ANSWER_SIZE, curveDistance } from '#geometry/clearance/index.ts'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import type { AirSettings, Equipment, Room } from '#model/index.ts'
import { remark, type Remark } from './remark.ts'
import { sourceWords } from './sources.ts'

type Point = readonly [number, number]

/** A supply terminal nearer the door than this share of the farthest that the room allows is pointed out: common practice, no figure is published. */
const FAR_SHARE = 0.5
/** Approved Document F volume 1, 2021, 1.20 */
const EXTRACT_BELOW_CEILING_MM = 400
/** International Residential Code M1504.3, outlets from mechanical intakes, 10 ft (from memory); Approved Document F names no distance */
const INTAKE_APART_MM = 3_048
const INTAKE_WHY = `${sourceWords({ document: 'International Residential Code', at: 'M1504.3, 10 ft', mark: 'from memory' })}; Approved Document F names no distance`
/** Steps over a room's width and depth when its farthest place is looked for. */
const LOOKS = 48

const answer = new Float64Array(ANSWER_SIZE)

export function placementOf(assembly: Assembly, air: AirSettings): Remark[] {
  const { rooms, equipment } = assembly.job
  const roomOf = new Map(rooms.map((room) => [room.id, room]))
  const remarks: Remark[] = []
  for (const plenum of equipment) {
    const room = plenum.kind === 'plenum' && plenum.room !== undefined ? roomOf.get(plenum.room) : undefined
    if (room === undefined) continue
    const middle: Point = [plenum.centre[0], plenum.centre[1]]
    const wallMm = nearestSideMm(middle, room)
    // a square hood turns to stand along the wall, so half its side is what it needs
    if (air.hoodMm > 0 && wallMm < air.hoodMm / 2) {
      remarks.push(remark('hood-no-room', 'mend', [plenum, room], 'half the side of the job’s meter hood', { unit: 'mm', measured: wallMm, required: air.hoodMm / 2 }))
    }
    if (plenum.air === 'supply' && room.doors.length > 0) {
      const doorMm = doorDistanceMm(middle, room), farthestMm = farthestFromDoorMm(room, air.hoodMm / 2)
      if (doorMm < FAR_SHARE * farthestMm) {
        remarks.push(remark('near-the-door', 'advice', [plenum, room], 'as far from the door as the room allows: common practice', { unit: 'mm', measured: doorMm, required: farthestMm }))
      }
    }
    const belowMm = room.ceilingMm - (plenum.centre[2] - plenum.sizeMm[2] / 2)
    if (plenum.air === 'extract' && belowMm > EXTRACT_BELOW_CEILING_MM) {
      remarks.push(remark('extract-too-low', 'mend', [plenum, room], 'Approved Document F volume 1, 2021, 1.20', { unit: 'mm', measured: belowMm, required: EXTRACT_BELOW_CEILING_MM }))
    }
  }
  for (const intake of equipment) if (intake.kind === 'outdoor-terminal' && intake.air === 'intake') remarks.push(...nearIntake(assembly, intake))
  return remarks
}

/** Flues and soil stacks whose outlets may blow into the intake; distances from its middle to their surfaces, exact. */
function nearIntake({ job, solids, parts }: Assembly, intake: Equipment): Remark[] {
  const here = centrelineThrough(intake.centre, [0]).centreline
  const remarks: Remark[] = []
  for (let solid = 0; solid < solids.count; solid++) {
    const kind = parts.classOf(solid)
    if (kind !== 'flue' && kind !== 'soil-stack') continue
    const apartMm = curveDistance(here, solids, solid, INTAKE_APART_MM, answer)
    const source = job.solids.find(({ id }) => id === parts.ownerIdOf(solid))
    if (apartMm < INTAKE_APART_MM && source !== undefined) {
      remarks.push(remark('intake-near', 'advice', [intake, source], INTAKE_WHY, { unit: 'mm', measured: apartMm, required: INTAKE_APART_MM }))
    }
  }
  return remarks
}

function nearestSideMm(point: Point, { outline }: Room): number {
  return Math.min(...outline.map((corner, i) => toSegmentMm(point, corner, outline[(i + 1) % outline.length])))
}

function doorDistanceMm([x, y]: Point, { doors }: Room): number {
  return Math.min(...doors.map(({ at }) => Math.hypot(at[0] - x, at[1] - y)))
}

/** The most that any place of the room, so far from its walls, is from its nearest door; looked for on a grid, so never more than there is and less by one step at most. */
export function farthestFromDoorMm(room: Room, fromWallMm: number): number {
  const xs = room.outline.map(([x]) => x), ys = room.outline.map(([, y]) => y)
  const minX = Math.min(...xs), minY = Math.min(...ys)
  const stepX = (Math.max(...xs) - minX) / LOOKS, stepY = (Math.max(...ys) - minY) / LOOKS
  let farthestMm = 0
  for (let i = 0; i <= LOOKS; i++) {
    for (let j = 0; j <= LOOKS; j++) {
      const point: Point = [minX + i * stepX, minY + j * stepY]
      if (isInside(point, room.outline) && nearestSideMm(point, room) >= fromWallMm) farthestMm = Math.max(farthestMm, doorDistanceMm(point, room))
    }
  }
  return farthestMm
}

function isInside([x, y]: Point, outline: readonly Point[]): boolean {
  let inside = false
  outline.forEach(([ax, ay], i) => {
    const [bx, by] = outline[(i + 1) % outline.length]
    if ((ay > y) !== (by > y) && x < ax + (bx - ax) * (y - ay) / (by - ay)) inside = !inside
  })
  return inside
}

function toSegmentMm([x, y]: Point, [ax, ay]: Point, [bx, by]: Point): number {
  const dx = bx - ax, dy = by - ay, square = dx * dx + dy * dy
  const share = square > 0 ? Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / square)) : 0
  return Math.hypot(x - ax - share * dx, y - ay - share * dy)
}
