/**
 * Proofs that a run cannot be laid whatever else is moved out of its way, from its outer diameter alone. Both hold for every curve that the
 * job allows: distance to a solid changes by no more than one moves, so what is far enough inside the forbidden clearance at one place is
 * forbidden all round it (forbidden.ts). A third, by planes, is in provedCrowded.ts.
 */
import type { PlacedRun } from '#assembly/assembly.ts'
import type { CheckContext } from '#checks/context.ts'
import type { Vec } from '../threadVector.ts'
import { Forbidden, mayTouchOf, waysOut } from './forbidden.ts'
import { wayEnd } from './wayEnds.ts'
import { WayHeap } from './wayHeap.ts'
import type { WayEnd } from './wayPlan.ts'

/** ids of what shuts the way, most in the way first */
export interface Shut { readonly cause: 'spigot-blocked' | 'shut-in', readonly by: readonly string[], readonly at: Vec }

/** A proof, or null where there is none (which proves nothing), and how many places were looked at. */
interface Proof { readonly shut: Shut | null, readonly asked: number }

/** What of a run a proof needs: nothing of its course. */
export type ProvedRun = Pick<PlacedRun, 'run' | 'type' | 'from' | 'to' | 'outerRadiusMm'>

/** Whether either end is barred to the first of the duct that leaves it. @param which ends are looked at */
export function provedBlocked(context: CheckContext, placed: ProvedRun, which: readonly ('from' | 'to')[] = ['from', 'to']): Proof {
  const { type } = placed, forbidden = forbiddenTo(context, placed)
  const bendRadiusMm = type.kind === 'semi-rigid' ? type.minBendRadiusMm : Math.min(...type.fittings.map(({ radiusMm }) => radiusMm))
  let shut: Shut | null = null
  for (const [i, end] of endsOf(context, placed).entries()) if (which.includes(i === 0 ? 'from' : 'to')) shut ??= blockedAt(context, forbidden, end, bendRadiusMm)
  return { shut, asked: forbidden.asked }
}

/** Whether one of the ends is shut in. */
export function provedShutIn(context: CheckContext, placed: ProvedRun): Proof {
  const forbidden = forbiddenTo(context, placed), [from, to] = endsOf(context, placed)
  let shut: Shut | null = null
  // large cubes see the whole of a side sooner, small ones through narrower places
  for (const cubeMm of CUBES_MM) shut ??= shutIn(context, forbidden, from, to, cubeMm)
  return { shut, asked: forbidden.asked }
}

function forbiddenTo(context: CheckContext, placed: ProvedRun): Forbidden {
  return new Forbidden(context, placed.outerRadiusMm, mayTouchOf(context, [placed], false), waysOut(context, [placed]))
}

function endsOf(context: CheckContext, { type, from, to }: ProvedRun): [WayEnd, WayEnd] {
  return [wayEnd(context, type, from, to.at), wayEnd(context, type, to, from.at)]
}

/**
 * A duct leaves its spigot along the axis, give or take what the job allows, and strays no faster than its least bend lets it: the curve that is
 * farthest off the axis where it passes a plane square to it begins as far off and as askew as it may, runs straight as long as it must and then bends as
 * tight as it may to the same side. So it passes each such plane within a known distance of the axis, until it may have turned square to it.
 */
function blockedAt(context: CheckContext, forbidden: Forbidden, { at, axis, straightMm }: WayEnd, bendRadiusMm: number): Shut | null {
  const { offMm, offDeg } = context.assembly.job.settings.connection, askew = offDeg * Math.PI / 180
  const straight = Math.max(0, straightMm - STRAIGHT_HAIR_MM), straightOnMm = straight * Math.cos(askew)
  for (let s = STEP_MM; ; s += STEP_MM) {
    // it may begin so much behind the mouth
    const onMm = s + offMm, bentMm = onMm - straightOnMm, sine = bentMm / bendRadiusMm + Math.sin(askew)
    if (sine > MOST_SINE) return null
    const strayMm = bentMm <= 0 ? offMm + onMm * Math.tan(askew) : offMm + straight * Math.sin(askew) + bendRadiusMm * (Math.cos(askew) - Math.sqrt(1 - sine * sine))
    const place: Vec = [at[0] + s * axis[0], at[1] + s * axis[1], at[2] + s * axis[2]]
    if (!forbidden.isShut(...place, strayMm + 1e-6)) continue
    const by = forbidden.ownerId
    return { cause: 'spigot-blocked', by: by === null ? [] : [by], at: place }
  }
}

/** what is asked of a straight is not missed by less, mm */
const STRAIGHT_HAIR_MM = 0.2
/** sine of how far it may have turned: well before square */
const MOST_SINE = 0.9
const STEP_MM = 5

/** What has been looked at from one end. */
class Front {
  readonly #heap = new WayHeap()
  readonly #goal: readonly number[]
  readonly cubes: [number, number, number][] = []
  /** how often each thing shut a cube */
  readonly by = new Map<string, number>()

  constructor(goal: readonly number[]) {
    this.#goal = goal
  }

  add(i: number, j: number, k: number): void {
    this.#heap.push(Math.hypot(i - this.#goal[0], j - this.#goal[1], k - this.#goal[2]), this.cubes.length)
    this.cubes.push([i, j, k])
  }

  next(): [number, number, number] | null {
    const item = this.#heap.pop()
    return item < 0 ? null : this.cubes[item]
  }
}

/**
 * The void in cubes: a cube is shut when its middle is so deep in a forbidden clearance, or so far outside the void, that no place in it
 * is allowed. Where the cubes that are not shut do not join the two ends, no course does. Solids that a run may touch somewhere (its own
 * spigots', hosts of sleeves, joists with holes) never shut a cube. It is looked from both ends by turns, cubes nearest to the other end
 * first: where there is a way it is soon found, and where there is none the smaller side has soon been seen.
 */
function shutIn(context: CheckContext, forbidden: Forbidden, from: WayEnd, to: WayEnd, cubeMm: number): Shut | null {
  if (context.envelope === null) return null
  const ends = [from, to], halfMm = cubeMm * Math.sqrt(3) / 2, far = to.at.map((c, k) => (c - from.at[k]) / cubeMm)
  const fronts = [new Front(far), new Front([0, 0, 0])]
  /** which front has seen a cube; shut ones are seen by both */
  const seen = new Map<number, number>()
  // the ends themselves may be off their spigots by so much
  const off = Math.ceil(context.assembly.job.settings.connection.offMm / cubeMm)
  if (Math.max(Math.abs(far[0]), Math.abs(far[1])) > MOST_AWAY - BESIDE || Math.abs(far[2]) > MOST_UP - BESIDE || off > BESIDE / 2) return null
  for (const [side, at] of [[0, 0, 0], far.map(Math.round)].entries()) {
    // the middle of the far end lies somewhere in its cube
    const wide = off + side
    for (let i = -wide; i <= wide; i++) for (let j = -wide; j <= wide; j++) for (let k = -wide; k <= wide; k++) {
      const id = keyOf(at[0] + i, at[1] + j, at[2] + k)
      if (seen.has(id)) return null
      seen.set(id, side)
      fronts[side].add(at[0] + i, at[1] + j, at[2] + k)
    }
  }
  for (let side = 0; ; side = 1 - side) {
    const front = fronts[side], cube = front.next()
    if (cube === null) return { cause: 'shut-in', by: mostFirst(context, front.by), at: ends[side].at }
    if (front.cubes.length > MOST_CUBES) return null
    for (const [di, dj, dk] of NEXT) {
      const i = cube[0] + di, j = cube[1] + dj, k = cube[2] + dk, id = keyOf(i, j, k), there = seen.get(id)
      if (Math.max(Math.abs(i), Math.abs(j)) >= MOST_AWAY || Math.abs(k) >= MOST_UP) return null
      if (there === 1 - side) return null
      if (there === side) continue
      if (there === undefined && !forbidden.isShut(from.at[0] + i * cubeMm, from.at[1] + j * cubeMm, from.at[2] + k * cubeMm, halfMm)) {
        seen.set(id, side)
        front.add(i, j, k)
        continue
      }
      if (there === undefined) {
        const owner = forbidden.ownerId
        if (owner !== null) front.by.set(owner, (front.by.get(owner) ?? 0) + 1)
      }
      seen.set(id, SHUT)
    }
  }
}

const SHUT = 2
/** cubes from the first end, in plan and up or down, that have a number of their own */
const MOST_AWAY = 65_536, MOST_UP = 4_096
/** the ends themselves are so many cubes wide at most */
const BESIDE = 20
const NEXT = [[1, 0, 0], [-1, 0, 0], [0, 1, 0], [0, -1, 0], [0, 0, 1], [0, 0, -1]] as const

function keyOf(i: number, j: number, k: number): number {
  return ((i + MOST_AWAY) * 2 * MOST_AWAY + j + MOST_AWAY) * 2 * MOST_UP + k + MOST_UP
}

/** sides of the cubes that are tried */
const CUBES_MM = [24, 12]
const MOST_CUBES = 150_000

/** Most in the way first, the edges of the void last: they are where it ends. */
export function mostFirst({ assembly: { job } }: CheckContext, by: ReadonlyMap<string, number>): string[] {
  const zones = new Set<string>(job.zones.map(({ id }) => id)), rank = (id: string): number => zones.has(id) ? 1 : 0
  return [...by].sort((a, b) => rank(a[0]) - rank(b[0]) || b[1] - a[1] || (a[0] < b[0] ? -1 : 1)).map(([id]) => id)
}
