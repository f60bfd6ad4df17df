/**
 * A move that clears a finding: the waypoints nearest to it, shifted together in one direction. Every candidate is tried on the job and
 * judged by the same checks; a move is only given when the finding is gone, nothing else of that run has become worse, and
 * nothing new has come. The one that is least trouble to set out wins: the smallest, and rather straight along an axis than askew.
 */
import type { PlacedRun } from '#assembly/assembly.ts'
import { isSpigot, placeRun } from '#assembly/runs.ts'
import { checkRun } from '#checks/index.ts'
import { clashFaults } from '#checks/clash.ts'
import { withRun, type CheckContext } from '#checks/context.ts'
import type { Finding, FindingCode, Move, Place } from '#checks/finding.ts'
import { directionAt } from '#geometry/curve/measure.ts'
import { stationNear } from '#geometry/curve/stationNear.ts'
import { SAME_POINT_MM } from '#geometry/tolerance.ts'
import type { Run } from '#model/index.ts'

/** Findings that moving a run could clear. */
const MOVABLE: ReadonlySet<FindingCode> = new Set<FindingCode>([
  'clash', 'tight', 'cut-member', 'leaves-void', 'opening-too-small', 'sleeve-too-small', 'straight-too-short', 'bend-has-no-room', 'off-spigot', 'off-axis',
])

/** Amounts tried beyond what is missing, as shares of it, then in steps up to the largest. */
const SHARES = [1, 1.25, 1.6, 2, 3, 4.5]
const LARGEST_MOVE_MM = 150
/** moves are given in steps that a person can set out, mm */
const STEP_MM = 0.5

/** @returns the move; null when no single move of those tried clears it; undefined when a move is no answer to such a finding */
export function clearingMove(context: CheckContext, finding: Finding): Move | null | undefined {
  if (!MOVABLE.has(finding.code)) return undefined
  const ids = new Set(finding.parts.map((part) => part.id))
  const runs = [...ids].flatMap((id) => {
    const runIndex = context.runs.findIndex(({ placed }) => placed.run.id === id)
    return runIndex < 0 ? [] : [runIndex]
  })
  let best: Move | null = null
  for (const runIndex of runs) {
    const before = checkRun(context, runIndex)
    for (const candidate of candidatesFor(context, runIndex, finding)) {
      for (const byMm of candidate.amountsMm) {
        const move: Move = { runId: context.runs[runIndex].placed.run.id, waypoints: candidate.waypoints, direction: candidate.direction, byMm, way: wayOf(candidate.direction) }
        if (best !== null && trouble(move) >= trouble(best)) break
        if (!clears(context, runIndex, move, finding, before)) continue
        best = move
        break
      }
    }
  }
  return best
}

/** A move askew is harder to set out than one straight along x, y or z: it must save a third of the way. */
function trouble({ byMm, way }: Move): number {
  return way === null ? byMm * 1.5 : byMm
}

/** The run with the move made. */
export function movedRun(run: Run, { waypoints, direction, byMm }: Move): Run {
  return {
    ...run,
    waypoints: run.waypoints.map((waypoint, i) => waypoints.includes(i)
      ? { ...waypoint, at: [waypoint.at[0] + direction.x * byMm, waypoint.at[1] + direction.y * byMm, waypoint.at[2] + direction.z * byMm] }
      : waypoint),
  }
}

/** A worse figure that is only rounding, mm. */
const NO_WORSE_MM = 1e-3

function clears(context: CheckContext, runIndex: number, move: Move, finding: Finding, before: readonly Finding[]): boolean {
  const { placed } = context.runs[runIndex]
  const tried = withRun(context, runIndex, placeRun(movedRun(placed.run, move), placed.type, placed.from, placed.to))
  const wasThere = new Map(before.map((f) => [sameness(f), f]))
  const isNoWorse = (after: readonly Finding[]): boolean => after.every((f) => {
    const was = wasThere.get(sameness(f))
    return was !== undefined && sameness(f) !== sameness(finding) && shortfall(f) <= shortfall(was) + NO_WORSE_MM
  })
  // most tries fail on the nearest member: look there first
  return isNoWorse(clashFaults(tried, runIndex)) && isNoWorse(checkRun(tried, runIndex))
}

/** The same fault in two states of a job: a clash that has become tight is still that fault. */
function sameness(finding: Finding): string {
  const code = finding.code === 'tight' ? 'clash' : finding.code
  const colon = finding.id.indexOf(':')
  return `${code}${finding.id.slice(colon)}`
}

function shortfall(finding: Finding): number {
  return Math.abs(finding.required - finding.measured)
}

interface Candidate { readonly waypoints: readonly number[], readonly direction: Place, readonly amountsMm: readonly number[] }

function candidatesFor(context: CheckContext, runIndex: number, finding: Finding): Candidate[] {
  const { placed } = context.runs[runIndex]
  if (finding.code === 'off-spigot' || finding.code === 'off-axis') return ontoSpigot(placed, finding)
  const station = stationOn(placed, finding)
  const missing = Math.max(STEP_MM, finding.unit === 'mm' ? Math.abs(finding.required - finding.measured) : 10)
  const amountsMm = [...new Set(SHARES.map((share) => roundedUp(missing * share)).filter((mm) => mm <= LARGEST_MOVE_MM))]
  const directions = directionsFor(placed, finding, station)
  return waypointSets(placed, station).flatMap((waypoints) => directions.map((direction) => ({ waypoints, direction, amountsMm })))
}

/** Where on this run the finding lies: its own station, or for the other run of a pair the nearest to it. */
function stationOn(placed: PlacedRun, finding: Finding): number {
  if (finding.parts[0].id === placed.run.id && finding.stationMm !== undefined) return finding.stationMm
  const { x, y, z } = finding.onOther ?? finding.at
  return stationNear(placed.centreline, x, y, z)
}

/**
 * Corners that may move, nearest to the place first: either end of its leg, both together, the legs before and after it as
 * wholes, and every inner corner. The ends stay on their spigots.
 */
function waypointSets(placed: PlacedRun, stationMm: number): number[][] {
  const last = placed.run.waypoints.length - 1
  const isInner = (i: number): boolean => i > 0 && i < last
  const inner = Array.from({ length: Math.max(0, last - 1) }, (_, i) => i + 1)
  const leg = legAt(placed, stationMm)
  const sets = [[leg], [leg + 1], [leg, leg + 1], [leg + 1, leg + 2], [leg - 1, leg], inner].filter((set) => set.length > 0 && set.every(isInner))
  return [...new Map(sets.map((set) => [set.join(), set])).values()]
}

/** Index of the waypoint that the leg at this station starts from; a bend belongs to the leg before its middle. */
function legAt(placed: PlacedRun, stationMm: number): number {
  let leg = 0
  for (const bend of placed.bends) if (bend.stationMm <= stationMm) leg = Math.max(leg, bend.waypointIndex)
  return leg
}

function directionsFor(placed: PlacedRun, finding: Finding, stationMm: number): Place[] {
  const ahead = [0, 0, 0]
  directionAt(placed.centreline, Math.min(Math.max(stationMm, 0), placed.centreline.lengthMm), ahead)
  const directions: Place[] = []
  const add = (x: number, y: number, z: number): void => {
    const size = Math.hypot(x, y, z)
    if (!(size > SAME_POINT_MM)) return
    const way = straightened(x / size, y / size, z / size)
    if (!directions.some((d) => d.x === way.x && d.y === way.y && d.z === way.z)) directions.push(way)
  }
  add(0, 0, 1)
  add(0, 0, -1)
  // level, to either side of the run
  add(-ahead[1], ahead[0], 0)
  add(ahead[1], -ahead[0], 0)
  if (finding.onOther !== undefined) {
    const { at, onOther } = finding
    const x = at.x - onOther.x, y = at.y - onOther.y, z = at.z - onOther.z
    add(x, y, z)
    add(-x, -y, -z)
  }
  add(1, 0, 0)
  add(-1, 0, 0)
  add(0, 1, 0)
  add(0, -1, 0)
  return directions
}

/** A direction within 6 degrees of straight along x, y or z goes straight along it. */
function straightened(x: number, y: number, z: number): Place {
  const [sx, sy, sz] = [x, y, z].map((c) => (Math.abs(c) > NEARLY_STRAIGHT ? Math.sign(c) : 0))
  return sx !== 0 || sy !== 0 || sz !== 0 ? { x: sx, y: sy, z: sz } : { x, y, z }
}

const NEARLY_STRAIGHT = Math.cos(6 * Math.PI / 180)

/** The end of the run goes to the spigot's mouth; for one off its axis the next corner goes on to the axis. */
function ontoSpigot(placed: PlacedRun, finding: Finding): Candidate[] {
  const { waypoints } = placed.run
  const last = waypoints.length - 1
  const candidates: Candidate[] = []
  for (const end of ['from', 'to'] as const) {
    const spigot = placed[end]
    const ref = finding.parts.find((part) => part.id !== placed.run.id)
    if (!isSpigot(spigot) || ref === undefined || ref.id !== spigot.equipment.id || ref.part !== `spigot-${spigot.spigot.id}`) continue
    const endIndex = end === 'from' ? 0 : last, nextIndex = end === 'from' ? 1 : last - 1
    const add = (moved: number[], from: readonly number[], to: readonly number[]): void => {
      const x = to[0] - from[0], y = to[1] - from[1], z = to[2] - from[2], byMm = Math.hypot(x, y, z)
      if (byMm > SAME_POINT_MM) candidates.push({ waypoints: moved, direction: { x: x / byMm, y: y / byMm, z: z / byMm }, amountsMm: [byMm] })
    }
    const endAt = waypoints[endIndex].at, nextAt = waypoints[nextIndex].at
    if (finding.code === 'off-spigot') {
      add([endIndex], endAt, spigot.at)
      if (last > 2) add([endIndex, nextIndex], endAt, spigot.at)
    } else if (nextIndex !== 0 && nextIndex !== last) {
      const { at, axis } = spigot
      const ahead = (nextAt[0] - at[0]) * axis[0] + (nextAt[1] - at[1]) * axis[1] + (nextAt[2] - at[2]) * axis[2]
      if (ahead > 0) add([nextIndex], nextAt, [at[0] + axis[0] * ahead, at[1] + axis[1] * ahead, at[2] + axis[2] * ahead])
    }
  }
  return candidates
}

function roundedUp(mm: number): number {
  return Math.ceil(mm / STEP_MM - 1e-9) * STEP_MM
}

/** A direction this near to an axis is told by it, as a share. */
const PLAIN = 1 - 1e-9

function wayOf({ x, y, z }: Place): string | null {
  if (z > PLAIN) return 'up'
  if (z < -PLAIN) return 'down'
  if (x > PLAIN) return 'along +x'
  if (x < -PLAIN) return 'along -x'
  if (y > PLAIN) return 'along +y'
  if (y < -PLAIN) return 'along -y'
  return null
}
