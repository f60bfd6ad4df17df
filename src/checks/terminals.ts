/** Where terminals stand: plenums in their rooms, in plan; intakes and exhausts outdoors. */
import type { Equipment, Room } from '#model/index.ts'
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'
import type { CheckContext } from './context.ts'
import type { Finding, Place } from './finding.ts'
import { byId } from './refs.ts'

type Point = readonly [number, number]

/** The middle of every plenum that names its room, against that room's walls and doors. */
export function terminalFaults(context: CheckContext): Finding[] {
  const { rooms, equipment, settings: { terminals: { wallMm, doorMm } } } = context.assembly.job
  const roomOf = new Map(rooms.map((room) => [room.id, room]))
  return equipment.flatMap((plenum) => {
    const room = plenum.kind === 'plenum' && plenum.room !== undefined ? roomOf.get(plenum.room) : undefined
    if (room === undefined) return []
    const middle: Point = [plenum.centre[0], plenum.centre[1]]
    const findings: Finding[] = []
    if (wallMm > 0) {
      const near = nearestOf(middle, sidesOf(room))
      if (near.mm < wallMm - ANSWER_ERROR_MM) findings.push(inRoom('terminal-near-wall', plenum, room, near, wallMm, 0))
    }
    if (doorMm > 0) {
      room.doors.forEach((door, i) => {
        const near = nearestOf(middle, [doorway(room, door)])
        if (near.mm < doorMm - ANSWER_ERROR_MM) findings.push(inRoom('terminal-near-door', plenum, room, near, doorMm, i))
      })
    }
    return findings
  })
}

interface Nearest { readonly mm: number, readonly at: Point }

function inRoom(code: 'terminal-near-wall' | 'terminal-near-door', plenum: Equipment, room: Room, { mm, at }: Nearest, required: number, i: number): Finding {
  const onOther: Place = { x: at[0], y: at[1], z: plenum.centre[2] }
  return {
    id: `${code}:${plenum.id}${i === 0 ? '' : `:${i + 1}`}`, code, severity: 'mend',
    parts: [{ id: plenum.id, name: plenum.name }, { id: room.id, name: room.name }],
    at: middleOf(plenum), onOther, mark: onOther, unit: 'mm', measured: mm, required,
    why: `the job's setting for terminals; no published figure`,
  }
}

function sidesOf({ outline }: Room): [Point, Point][] {
  return outline.map((corner, i) => [corner, outline[(i + 1) % outline.length]])
}

/** The door's opening as a line in plan: along the wall nearest to its middle, so wide to each side. */
function doorway(room: Room, { at, widthMm }: Room['doors'][number]): [Point, Point] {
  const sides = sidesOf(room).filter(([a, b]) => Math.hypot(b[0] - a[0], b[1] - a[1]) > 0)
  const [a, b] = sides.reduce((best, side) => nearestOf(at, [side]).mm < nearestOf(at, [best]).mm ? side : best)
  const size = Math.hypot(b[0] - a[0], b[1] - a[1])
  const dx = (b[0] - a[0]) / size * widthMm / 2, dy = (b[1] - a[1]) / size * widthMm / 2
  return [[at[0] - dx, at[1] - dy], [at[0] + dx, at[1] + dy]]
}

function nearestOf(point: Point, sides: readonly (readonly [Point, Point])[]): Nearest {
  let best: Nearest = { mm: Infinity, at: point }
  for (const [a, b] of sides) {
    const dx = b[0] - a[0], dy = b[1] - a[1], square = dx * dx + dy * dy
    const share = square > 0 ? Math.min(1, Math.max(0, ((point[0] - a[0]) * dx + (point[1] - a[1]) * dy) / square)) : 0
    const at: Point = [a[0] + share * dx, a[1] + share * dy]
    const mm = Math.hypot(point[0] - at[0], point[1] - at[1])
    if (mm < best.mm) best = { mm, at }
  }
  return best
}

/**
 * Intake and exhaust terminals outdoors. The opening of each is a round about the middle of its body, of the diameter of its first
 * spigot; when it has none, as wide as its face, the lesser of its two larger sides. What is measured is from edge to edge of those.
 */
export function outdoorFaults(context: CheckContext): Finding[] {
  const { equipment, settings: { outdoor: { leastMm, advisedMm } } } = context.assembly.job
  const outdoor = equipment.filter((terminal) => terminal.kind === 'outdoor-terminal').sort((a, b) => byId(a.id, b.id))
  const exhausts = outdoor.filter((terminal) => terminal.air === 'exhaust')
  return outdoor.filter((terminal) => terminal.air === 'intake').flatMap((intake) => exhausts.flatMap((exhaust): Finding[] => {
    const [dx, dy, dz] = intake.centre.map((c, k) => exhaust.centre[k] - c)
    const middlesMm = Math.hypot(dx, dy, dz)
    const measured = middlesMm - radiusOf(intake) - radiusOf(exhaust)
    const isLess = measured < leastMm - ANSWER_ERROR_MM
    if (!isLess && measured >= advisedMm - ANSWER_ERROR_MM) return []
    const code = isLess ? 'outdoor-too-near' : 'outdoor-nearer-than-advised'
    const onOther = towards(exhaust, intake)
    return [{
      id: `${code}:${intake.id}:${exhaust.id}`, code, severity: isLess ? 'mend' : 'advice',
      parts: [{ id: intake.id, name: intake.name }, { id: exhaust.id, name: exhaust.name }],
      at: towards(intake, exhaust), onOther, mark: onOther, unit: 'mm', measured, required: isLess ? leastMm : advisedMm,
      why: 'the job\'s setting for intake to exhaust: common practice',
    }]
  }))
}

function radiusOf({ spigots, sizeMm }: Equipment): number {
  return (spigots[0]?.diameterMm ?? [...sizeMm].sort((a, b) => a - b)[1]) / 2
}

/** The edge of the first one's opening on the side of the other. */
function towards(from: Equipment, to: Equipment): Place {
  const [dx, dy, dz] = from.centre.map((c, k) => to.centre[k] - c), size = Math.hypot(dx, dy, dz)
  const share = size > 0 ? radiusOf(from) / size : 0
  return { x: from.centre[0] + dx * share, y: from.centre[1] + dy * share, z: from.centre[2] + dz * share }
}

function middleOf({ centre: [x, y, z] }: Equipment): Place {
  return { x, y, z }
}
