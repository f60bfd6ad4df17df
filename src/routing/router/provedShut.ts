/**
 * Proofs that a run cannot be laid whatever else is moved out of its way, from its outer diameter alone. Both hold for every curve that the
 * job allows: distance to a solid changes by no more than one moves, so what is far enough inside the forbidden clearance at one place is
 * forbidden all round it.
 */
import type { CheckContext } from '#checks/context.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { ANSWER_SIZE, elementDistance } from '#geometry/clearance/index.ts'
import { writeLeg } from '#geometry/curve/build.ts'
import { ELEMENT_STRIDE } from '#geometry/curve/centreline.ts'
import { voidHolds } from '#geometry/envelope/voidEnvelope.ts'
import type { Vec } from '../threadVector.ts'
import type { CourseEnds } from './course.ts'
import type { WayEnd } from './wayPlan.ts'

/** ids of what shuts the way, most in the way first */
export interface Shut { readonly cause: 'spigot-blocked' | 'shut-in', readonly by: readonly string[], readonly at: Vec }

const leg = new Float64Array(ELEMENT_STRIDE), answer = new Float64Array(ANSWER_SIZE)
const found = new IndexList()

/** @returns the proof, or null where there is none (which proves nothing) */
export function provedShut(context: CheckContext, ends: CourseEnds): Shut | null {
  const { sleeves, holes } = context.assembly
  const hosts = new Set([...sleeves, ...holes].flatMap((round) => round.hosts))
  return blockedAt(context, ends.from, ends, hosts) ?? blockedAt(context, ends.to, ends, hosts) ?? shutIn(context, ends.from, ends.to, ends, hosts) ?? shutIn(context, ends.to, ends.from, ends, hosts)
}

/** How far within a solid's forbidden clearance a place lies, mm: above `byMm` for the first such solid, or -1. */
function forbiddingSolid({ assembly: { solids, parts }, clearances, grid, isSound }: CheckContext, x: number, y: number, z: number, radiusMm: number, byMm: number, exempt: (solid: number) => boolean): number {
  writeLeg(leg, 0, x, y, z, x, y, z, 0)
  const reachMm = radiusMm + clearances.mostMm
  grid.near(x - reachMm, y - reachMm, z - reachMm, x + reachMm, y + reachMm, z + reachMm, found)
  for (let i = 0; i < found.count; i++) {
    const solid = found.items[i]
    if (isSound[solid] === 0 || exempt(solid)) continue
    const belowMm = radiusMm + clearances.mm[parts.classCodeOf(solid)] - byMm
    if (belowMm > -1e6 && elementDistance(leg, 0, solids, solid, belowMm, answer) < belowMm) return solid
  }
  return -1
}

/** A duct leaves its spigot along the axis, give or take what the job allows, and strays no faster than its least bend lets it. */
function blockedAt(context: CheckContext, { at, axis, straightMm, exempt }: WayEnd, { radiusMm, bendRadiusMm }: CourseEnds, hosts: ReadonlySet<number>): Shut | null {
  const { offMm, offDeg } = context.assembly.job.settings.connection
  const slope = Math.tan(offDeg * Math.PI / 180)
  for (let s = STEP_MM; s < straightMm + bendRadiusMm / 2; s += STEP_MM) {
    const bent = Math.max(0, s - straightMm), strayMm = offMm + s * slope + bendRadiusMm - Math.sqrt(bendRadiusMm * bendRadiusMm - bent * bent)
    const place: Vec = [at[0] + s * axis[0], at[1] + s * axis[1], at[2] + s * axis[2]]
    const solid = forbiddingSolid(context, ...place, radiusMm, strayMm + 2 * offMm, (one) => exempt.has(one) || hosts.has(one))
    if (solid >= 0) return { cause: 'spigot-blocked', by: [context.assembly.parts.ownerIdOf(solid)], at: place }
  }
  return null
}

const STEP_MM = 5

/**
 * The void in cubes: a cube is shut when its middle is so deep in a forbidden clearance, or so far outside the void, that no place in it
 * is allowed. Where the cubes that are not shut do not join the two ends, no course does. Solids that a run may touch somewhere (its own
 * spigots', hosts of sleeves, joists with holes) never shut a cube.
 */
function shutIn(context: CheckContext, from: WayEnd, to: WayEnd, { radiusMm }: CourseEnds, hosts: ReadonlySet<number>): Shut | null {
  const { assembly, envelope } = context
  if (envelope === null) return null
  const mayTouch = new Set([...from.exempt, ...to.exempt, ...hosts])
  const half = CUBE_MM * Math.sqrt(3) / 2, key = (i: number, j: number, k: number): number => ((i + 65536) * 131072 + j + 65536) * 1024 + k + 512
  const seen = new Map<number, boolean>(), queue: [number, number, number][] = []
  const by = new Map<string, number>()
  const look = (i: number, j: number, k: number): void => {
    const id = key(i, j, k)
    if (seen.has(id)) return
    const x = from.at[0] + i * CUBE_MM, y = from.at[1] + j * CUBE_MM, z = from.at[2] + k * CUBE_MM
    const solid = forbiddingSolid(context, x, y, z, radiusMm, half, (one) => mayTouch.has(one))
    if (solid >= 0) {
      const owner = assembly.parts.ownerIdOf(solid)
      by.set(owner, (by.get(owner) ?? 0) + 1)
    }
    const isOpen = solid < 0 && isNearVoid(x, y, z)
    seen.set(id, isOpen)
    if (isOpen) queue.push([i, j, k])
  }
  // a duct inside the void has its middle further from the void's edge than a cube is wide; near its ends it may be outside
  const isNearVoid = (x: number, y: number, z: number): boolean => {
    if (voidHolds(envelope, x, y, z)) return true
    for (const { at, zoneMm } of [from, to]) if (Math.hypot(x - at[0], y - at[1], z - at[2]) <= zoneMm + half) return true
    for (const { at, sleeve } of assembly.sleeves) if (Math.hypot(x - at[0], y - at[1], z - at[2]) <= sleeve.lengthMm + sleeve.diameterMm + 2 * radiusMm) return true
    return false
  }
  const goal = to.at.map((c, k) => Math.round((c - from.at[k]) / CUBE_MM))
  seen.set(key(0, 0, 0), true)
  queue.push([0, 0, 0])
  for (let head = 0; head < queue.length; head++) {
    if (queue.length > MOST_CUBES) return null
    const [i, j, k] = queue[head]
    if (Math.abs(i - goal[0]) <= 1 && Math.abs(j - goal[1]) <= 1 && Math.abs(k - goal[2]) <= 1) return null
    look(i + 1, j, k)
    look(i - 1, j, k)
    look(i, j + 1, k)
    look(i, j - 1, k)
    look(i, j, k + 1)
    look(i, j, k - 1)
  }
  return { cause: 'shut-in', by: [...by].sort((a, b) => b[1] - a[1] || (a[0] < b[0] ? -1 : 1)).map(([id]) => id), at: from.at }
}

const CUBE_MM = 12, MOST_CUBES = 250_000
