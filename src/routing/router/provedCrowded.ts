/**
 * Proofs by a plane through the void. Runs whose two ends lie on different sides of it must each pass it, at a place of it where
 * their middle line is allowed by the solids and the void. Those places are found as squares, so that what is left out is forbidden for
 * certain (forbidden.ts). Where no place is left, none of the runs can be laid: 'shut-in'. Where the squares can be put into
 * k groups, each so small that two middle lines through it come nearer to each other than both radii and the clearance between ducts,
 * then no more than k of the runs can pass (of k + 1 two would be in one group): with more runs than that not all can be laid, 'crowded'.
 *
 * It covers every solid and every curve; windows in walls, lines of joists, and any other cut that is flat. It does not cover cuts that
 * are not: boarding on several sides with a window in it, for one. The void must be closed by ceiling zones, or there is no proof.
 * Solids that any of the runs may touch somewhere (what its ends are on, hosts of sleeves, drilled joists) count as not there.
 */
import type { PlacedRun } from '#assembly/assembly.ts'
import { isSpigot } from '#assembly/runs.ts'
import type { CheckContext } from '#checks/context.ts'
import { DUCT_CODE } from '#checks/requirement.ts'
import { dot, type Vec } from '../threadVector.ts'
import { cutPlanes, type CutPlane } from './cutPlanes.ts'
import { Forbidden, mayTouchOf, waysOut, type WayOut } from './forbidden.ts'
import { mostFirst, type ProvedRun } from './provedShut.ts'

export interface Crowded {
  readonly cause: 'shut-in' | 'crowded'
  /** ids of the solids that bound the ways through, most in the way first */
  readonly by: readonly string[]
  /** a place where ducts could pass, or where the run would have to */
  readonly at: Vec
  /** runs that must pass, and how many of them can at most */
  readonly runIds: readonly string[]
  readonly most: number
}

/**
 * @param runs every run of the job that is to be laid or lies already, the one with this id among them
 * @param mayChangePorts whether runs may change spigots on their manifolds: then all of these count as their ends
 * @returns the proof for one run, the tightest there is, or null (which proves nothing), and how many places were looked at
 */
export function provedCrowded(context: CheckContext, runs: readonly ProvedRun[], runId: string, mayChangePorts: boolean, mostAsked: number): { readonly crowded: Crowded | null, readonly asked: number } {
  let asked = 0, crowded: Crowded | null = null
  const placed = runs.find(({ run }) => run.id === runId)
  if (context.envelope === null || placed === undefined) return { crowded, asked }
  const sides = new Map(runs.map((run) => [run, endPlacesOf(context, run, mayChangePorts)] as const))
  for (const plane of cutPlanes(context, placed)) {
    if (asked > mostAsked) break
    const parted = runs.filter((run) => isParted(plane, sides.get(run)!))
    if (!parted.includes(placed)) continue
    // thick ducts alone may be too many where thick and thin together are not proved to be
    for (const radiusMm of new Set(parted.map(({ outerRadiusMm }) => outerRadiusMm).filter((mm) => mm <= placed.outerRadiusMm).sort((a, b) => b - a))) {
      const group = parted.filter(({ outerRadiusMm }) => outerRadiusMm >= radiusMm)
      const pass = new Pass(context, plane, group)
      const most = pass.mostThrough()
      asked += pass.asked
      if (most === null || most >= group.length) continue
      const found: Crowded = { cause: most === 0 ? 'shut-in' : 'crowded', by: pass.by(), at: pass.middle() ?? onPlane(plane, placed), runIds: group.map(({ run }) => run.id), most }
      if (most === 0) return { crowded: found, asked }
      if (crowded === null || most < crowded.most) crowded = found
    }
  }
  return { crowded, asked }
}

/** Where a run may begin and end, each with how far off it may be. */
interface EndPlaces { readonly from: readonly WayOut[], readonly to: readonly WayOut[] }

function endPlacesOf({ assembly: { job, spigots } }: CheckContext, { from, to }: ProvedRun, mayChangePorts: boolean): EndPlaces {
  const placesOf = (end: PlacedRun['from']): WayOut[] => {
    if (!isSpigot(end)) return [{ at: end.at, reachMm: Math.hypot(end.sleeve.lengthMm, end.sleeve.diameterMm) / 2 + job.settings.connection.offMm }]
    const places = mayChangePorts && end.equipment.kind === 'manifold' ? spigots.filter(({ equipment }) => equipment === end.equipment) : [end]
    return places.map(({ at }) => ({ at, reachMm: job.settings.connection.offMm }))
  }
  return { from: placesOf(from), to: placesOf(to) }
}

function isParted({ normal, offMm }: CutPlane, { from, to }: EndPlaces): boolean {
  const side = ({ at, reachMm }: WayOut): number => {
    const mm = dot(normal, at) - offMm
    return Math.abs(mm) <= reachMm + 0.1 ? 0 : Math.sign(mm)
  }
  const one = side(from[0]), other = side(to[0])
  return one !== 0 && other === -one && from.every((place) => side(place) === one) && to.every((place) => side(place) === other)
}

function onPlane({ normal, offMm }: CutPlane, { from: { at: a }, to: { at: b } }: ProvedRun): Vec {
  const da = dot(normal, a) - offMm, db = dot(normal, b) - offMm, t = da / (da - db)
  return [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])]
}

/** first and least side of the squares, mm */
const FIRST_MM = 32, LEAST_MM = 2
/** more squares than this are not grouped: so much room is no narrow place */
const MOST_SQUARES = 60_000

interface Square { readonly a: number, readonly b: number, readonly half: number }

class Pass {
  readonly #context: CheckContext
  readonly #plane: CutPlane
  readonly #group: readonly ProvedRun[]
  readonly #forbidden: Forbidden
  readonly #bounds: readonly [number, number, number, number]
  /** two middle lines that are nearer than this are too near, mm */
  readonly #apartMm: number
  readonly #shut: (Square & { readonly owner: string })[] = []
  #open: Square[] = []

  constructor(context: CheckContext, plane: CutPlane, group: readonly ProvedRun[]) {
    this.#context = context
    this.#plane = plane
    this.#group = group
    const radii = group.map(({ outerRadiusMm }) => outerRadiusMm).sort((x, y) => x - y), out = waysOut(context, group)
    this.#apartMm = radii[0] + (radii[1] ?? radii[0]) + context.clearances.mm[DUCT_CODE]
    this.#forbidden = new Forbidden(context, radii[0], mayTouchOf(context, group, true), out)
    this.#bounds = boundsOn(context, plane, out)
  }

  get asked(): number {
    return this.#forbidden.asked
  }

  /** What bounds the places that are left, or what shuts all of them, by how much of the plane it shuts there. */
  by(): string[] {
    const by = new Map<string, number>()
    for (const { a, b, half, owner } of this.#shut) {
      if (this.#open.length > 0 && !this.#open.some((one) => Math.hypot(a - one.a, b - one.b) < this.#apartMm + half)) continue
      by.set(owner, (by.get(owner) ?? 0) + 4 * half * half)
    }
    return mostFirst(this.#context, by)
  }

  #at(a: number, b: number): Vec {
    const { normal, offMm, along, up } = this.#plane
    return [offMm * normal[0] + a * along[0] + b * up[0], offMm * normal[1] + a * along[1] + b * up[1], offMm * normal[2] + a * along[2] + b * up[2]]
  }

  /** The middle of what is open; null where nothing is. */
  middle(): Vec | null {
    if (this.#open.length === 0) return null
    const area = this.#open.reduce((sum, { half }) => sum + half * half, 0)
    const a = this.#open.reduce((sum, one) => sum + one.a * one.half ** 2, 0) / area, b = this.#open.reduce((sum, one) => sum + one.b * one.half ** 2, 0) / area
    // of several gaps the middle may be between them: the open place nearest to it
    const nearest = this.#open.reduce((best, one) => Math.hypot(one.a - a, one.b - b) < Math.hypot(best.a - a, best.b - b) ? one : best)
    return this.#at(nearest.a, nearest.b)
  }

  /** How many of the group can pass at most; null where it is not proved to be fewer than all. */
  mostThrough(): number | null {
    const [a0, b0, a1, b1] = this.#bounds, half = FIRST_MM / 2
    if ((a1 - a0) * (b1 - b0) / FIRST_MM ** 2 > MOST_SQUARES) return null
    const passing: Square[] = []
    // places for all of them far enough apart: nothing to be proved here
    for (let a = a0 + half; a < a1 + half; a += FIRST_MM) for (let b = b0 + half; b < b1 + half; b += FIRST_MM) {
      if (passing.some((other) => Math.hypot(a - other.a, b - other.b) < this.#apartMm) || !this.#forbidden.isOpen(...this.#at(a, b), 0)) continue
      passing.push({ a, b, half })
      if (passing.length >= this.#group.length) return null
    }
    let turn: Square[] = []
    for (let a = a0 + half; a < a1 + half; a += FIRST_MM) for (let b = b0 + half; b < b1 + half; b += FIRST_MM) turn.push({ a, b, half })
    for (let side = FIRST_MM; turn.length > 0; side /= 2) {
      const next: Square[] = []
      for (const square of turn) {
        const at = this.#at(square.a, square.b), reachMm = square.half * Math.SQRT2
        if (this.#forbidden.isShut(...at, reachMm)) {
          const owner = this.#forbidden.ownerId
          if (owner !== null) this.#shut.push({ ...square, owner })
        } else if (side <= LEAST_MM || this.#forbidden.isOpen(...at, reachMm)) this.#open.push(square)
        else for (const [sa, sb] of QUARTERS) next.push({ a: square.a + sa * square.half / 2, b: square.b + sb * square.half / 2, half: square.half / 2 })
      }
      if (next.length + this.#open.length > MOST_SQUARES) return null
      turn = next
    }
    return this.#groups()
  }

  /** Into how many groups the open squares can be put, each less than `apartMm` from corner to corner. Any grouping proves as many; fewer prove more. */
  #groups(): number | null {
    let left = [...this.#open].sort((x, y) => x.a - y.a || x.b - y.b), count = 0
    while (left.length > 0) {
      if (++count >= this.#group.length) return null
      const box = [Infinity, Infinity, -Infinity, -Infinity]
      left = left.filter(({ a, b, half }) => {
        const grown = [Math.min(box[0], a - half), Math.min(box[1], b - half), Math.max(box[2], a + half), Math.max(box[3], b + half)]
        if (Math.hypot(grown[2] - grown[0], grown[3] - grown[1]) >= this.#apartMm - 0.01) return true
        for (let k = 0; k < 4; k++) box[k] = grown[k]
        return false
      })
      // one square alone is larger than that
      if (box[0] === Infinity) return null
    }
    return count
  }
}

const QUARTERS = [[-1, -1], [1, -1], [-1, 1], [1, 1]] as const

/** Least and greatest a and b of what a duct may reach in the plane: the void, and where it may leave it. */
function boundsOn({ envelope }: CheckContext, { along, up, normal, offMm }: CutPlane, out: readonly WayOut[]): [number, number, number, number] {
  const bounds: [number, number, number, number] = [Infinity, Infinity, -Infinity, -Infinity]
  const take = (at: Vec, reachMm: number): void => {
    const a = dot(along, at), b = dot(up, at)
    bounds[0] = Math.min(bounds[0], a - reachMm)
    bounds[1] = Math.min(bounds[1], b - reachMm)
    bounds[2] = Math.max(bounds[2], a + reachMm)
    bounds[3] = Math.max(bounds[3], b + reachMm)
  }
  const { bounds: boxes } = envelope!.sheets
  for (let i = 0; i < boxes.length; i += 6) for (let corner = 0; corner < 8; corner++) take([boxes[i + 3 * (corner & 1)], boxes[i + 1 + 3 * ((corner >> 1) & 1)], boxes[i + 2 + 3 * (corner >> 2)]], 0)
  for (const { at, reachMm } of out) if (Math.abs(dot(normal, at) - offMm) <= reachMm) take(at, reachMm)
  return bounds
}
