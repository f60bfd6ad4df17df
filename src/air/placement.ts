/** Where terminals are, beyond what the checks hold them to: room for the meter's hood, far from the door, height, and what is near the intake. */
import type { Assembly } from '#assembly/assembly.ts'
import { ANSWER_SIZE, curveDistance } from '#geometry/clearance/index.ts'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import type { AirSettings, Equipment, Room } from '#model/index.ts'
import { remark, type Remark } from './remark.ts'
import { sourceWords, type Source } from './sources.ts'

type Point = readonly [number, number]

const AD_F = { document: 'Approved Document F volume 1: Dwellings (England)', edition: '2021', mark: 'read' } as const

/** A supply terminal nearer the door than this share of the farthest that the room allows is pointed out: common practice, no figure is published. */
const FAR_SHARE = 0.5
/** Approved Document F volume 1, 2021, 1.20 */
const EXTRACT_BELOW_CEILING_MM = 400
/** International Residential Code M1504.3, outlets from mechanical intakes, 10 ft (from memory); Approved Document F names no distance */
const INTAKE_APART_MM = 3_048
const INTAKE_WHY = `${sourceWords({ document: 'International Residential Code', at: 'M1504.3, 10 ft', mark: 'from memory' })}; Approved Document F names no distance`
/** Engineering reference, outdoor air intakes (read); the job knows no ground, so its lowest floor stands for it */
const INTAKE_ABOVE_GROUND_MM = 150
const INTAKE_LOW_WHY = 'engineering reference, outdoor air intakes: 0.15 m above the ground, 5 m where there is traffic; the lowest floor of the job is taken for the ground'
/** Steps over a room's width and depth when its farthest place is looked for. */
const LOOKS = 48

/** What is asked of places that no figure of a job can show: for the eye on site, each with where it is written. */
export const PLACE_RULES: readonly { readonly text: string, readonly source: Source }[] = [
  { text: 'Supply: placed and pointed so that nobody sits in a draught; no distance is given.', source: { ...AD_F, at: '1.68' } },
  { text: 'Supply: no jet of air along a wall beside it; room all round for the meter’s hood.', source: { document: 'fitters’ habit', mark: 'common practice' } },
  { text: 'Extract: as high as it can go, at most 400 mm below the ceiling.', source: { ...AD_F, at: '1.20' } },
  { text: 'A cooker hood: 650 to 750 mm above the hob where its maker does not say.', source: { ...AD_F, at: '1.21' } },
  { text: 'Intake: away from local pollution; by a busy road high up and on the cleaner side; not in a courtyard where fumes are let out. No distance in metres is given.', source: { ...AD_F, at: '2.2 to 2.6' } },
  { text: 'Exhaust: where the wind does not carry it back in; not into a courtyard, an enclosure or behind a screen.', source: { ...AD_F, at: '2.7 to 2.9' } },
  { text: 'Intake and exhaust: at least 300 mm apart, 2 m advised; the job’s own requirement is checked in the void.', source: { document: 'fitters’ habit', mark: 'common practice' } },
]

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
    if (plenum.air === 'supply' && air.cornerMm > 0) {
      const cornerMm = fromCornerMm(middle, room)
      if (cornerMm < air.cornerMm) {
        remarks.push(remark('in-corner', 'advice', [plenum, room], 'the job’s own limit; not in a corner is common practice, without a published figure', { unit: 'mm', measured: cornerMm, required: air.cornerMm }))
      }
    }
    const belowMm = room.ceilingMm - (plenum.centre[2] - plenum.sizeMm[2] / 2)
    if (plenum.air === 'extract' && belowMm > EXTRACT_BELOW_CEILING_MM) {
      remarks.push(remark('extract-too-low', 'mend', [plenum, room], 'Approved Document F volume 1, 2021, 1.20', { unit: 'mm', measured: belowMm, required: EXTRACT_BELOW_CEILING_MM }))
    }
  }
  const groundMm = Math.min(...rooms.map(({ floorMm }) => floorMm))
  for (const intake of equipment) {
    if (intake.kind !== 'outdoor-terminal' || intake.air !== 'intake') continue
    remarks.push(...nearIntake(assembly, intake))
    const aboveMm = intake.centre[2] - intake.sizeMm[2] / 2 - groundMm
    if (rooms.length > 0 && aboveMm < INTAKE_ABOVE_GROUND_MM) remarks.push(remark('intake-low', 'advice', [intake], INTAKE_LOW_WHY, { unit: 'mm', measured: aboveMm, required: INTAKE_ABOVE_GROUND_MM }))
  }
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

/** The least, over the room's corners that point outwards, of the distance to the farther of the two walls that meet there. */
function fromCornerMm(point: Point, { outline }: Room): number {
  const count = outline.length
  const turn = ([ax, ay]: Point, [bx, by]: Point, [cx, cy]: Point): number => (bx - ax) * (cy - by) - (by - ay) * (cx - bx)
  const way = Math.sign(outline.reduce((sum, [x, y], i) => sum + x * outline[(i + 1) % count][1] - outline[(i + 1) % count][0] * y, 0))
  return Math.min(...outline.map((corner, i) => {
    const before = outline[(i + count - 1) % count], after = outline[(i + 1) % count]
    return turn(before, corner, after) * way > 0 ? Math.max(toSegmentMm(point, before, corner), toSegmentMm(point, corner, after)) : Infinity
  }))
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
