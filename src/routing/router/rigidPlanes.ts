/**
 * Where a rigid run may have its corners: planes square to the three axes of a group of bays, through both ends, the middles of bays,
 * the heights that joists let by, what stands about at the duct's clearance, and openings of the joists beside a bay.
 */
import type { CheckContext } from '#checks/context.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { curveBounds } from '#geometry/curve/measure.ts'
import { DUCT_CODE } from '#checks/requirement.ts'
import { dot, type Vec } from '../threadVector.ts'
import type { StandingDuct } from './rigidRoom.ts'
import type { Elbow } from './rigidWays.ts'
import { bayAt, bayMiddleMm, baySideMm, passesLine, type BayGroup } from './routeSpace.ts'
import { levelsFor } from './wayEnds.ts'
import type { WayEnd } from './wayPlan.ts'

export interface PlaneAsk {
  readonly context: CheckContext
  readonly group: BayGroup
  readonly from: WayEnd
  readonly to: WayEnd
  readonly radiusMm: number
  readonly elbows: readonly Elbow[]
  readonly ducts: readonly StandingDuct[]
}

/** so far beyond both ends what stands about is looked at, mm */
const ABOUT_MM = 1500
/** planes that say the same, mm */
const SAME_MM = 0.5
const MOST_EDGES = 40
const HAIR_MM = 0.01
const SCAN_MM = 12

const found = new IndexList()

export class RigidPlanes {
  /** along the joists, across them, up */
  readonly axes: readonly [Vec, Vec, Vec]
  /** by axis: coordinates of what the run is about, and with those the edges of what stands there */
  readonly key: readonly (readonly number[])[]
  readonly all: readonly (readonly number[])[]
  readonly #ask: PlaneAsk
  readonly #levels: readonly number[]
  readonly #low: readonly number[]
  readonly #high: readonly number[]
  readonly #openings = new Map<number, readonly number[]>()
  readonly #slanted = new Map<string, readonly number[]>()
  readonly #beside = new Map<number, readonly number[]>()

  constructor(ask: PlaneAsk) {
    const { context, group, from, to, radiusMm, elbows } = ask
    this.#ask = ask
    this.axes = [group.along, group.across, [0, 0, 1]]
    const a = this.axes.map((axis) => dot(from.at, axis)), b = this.axes.map((axis) => dot(to.at, axis))
    this.#low = a.map((value, k) => Math.min(value, b[k]) - ABOUT_MM)
    this.#high = a.map((value, k) => Math.max(value, b[k]) + ABOUT_MM)
    this.#levels = levelsFor(context, group, radiusMm)
    const key = this.axes.map((_, k) => [a[k], b[k]]), all: number[][] = [[], [], []]
    for (const end of [from, to]) for (const { tangentMm, insertionMm } of elbows) {
      const straightMm = tangentMm + Math.max(end.straightMm, insertionMm)
      this.axes.forEach((axis, k) => key[k].push(dot(end.at, axis) + straightMm * dot(end.axis, axis)))
    }
    // as far beside an end's line as two fittings need
    for (const { takesMm, turnRad } of elbows) for (const value of [a, b]) this.axes.forEach((_, k) => {
      const asideMm = (2 * takesMm + HAIR_MM) * Math.sin(turnRad)
      all[k].push(value[k] - asideMm, value[k] + asideMm)
    })
    key[2].push(...this.#levels)
    const acrossMm = dot(group.origin, group.across)
    for (let bay = 0; bay <= group.lines.length; bay++) {
      const middle = acrossMm + bayMiddleMm(group, bay)
      if (group.lines.length === 0 || middle < this.#low[1] || middle > this.#high[1]) continue
      key[1].push(middle)
      const sideMm = baySideMm(group, bay) - radiusMm - 3
      if (sideMm > 1) all[1].push(middle - sideMm, middle + sideMm)
    }
    const edges = this.#edges()
    this.key = key.map((list) => sorted(list))
    this.all = key.map((list, k) => sorted([...list, ...all[k], ...edges[k]]))
  }

  /** Coordinates along the joists, of the openings that the duct passes square on beside a place, and of both ends of each. */
  openingsBeside(at: Vec): readonly number[] {
    const { group } = this.#ask
    if (group.lines.length === 0) return []
    const bay = bayAt(group, dot(at, group.across) - dot(group.origin, group.across))
    let beside = this.#beside.get(bay)
    if (beside === undefined) this.#beside.set(bay, beside = [bay - 1, bay].flatMap((line) => line < 0 || line >= group.lines.length ? [] : this.#openingsOf(line)))
    return beside
  }

  /** Coordinates along the joists from which a level leg at a slant passes the middle of an opening beside a bay. */
  slantedInto(at: Vec, way: Vec): readonly number[] {
    const { group, radiusMm } = this.#ask, across = dot(way, group.across), slant = dot(way, group.along) / across
    if (group.lines.length === 0 || Math.abs(way[2]) > 1e-6 || Math.abs(across) < 0.2 || Math.abs(slant) < 0.05) return []
    const v = dot(at, group.across) - dot(group.origin, group.across), lineIndex = bayAt(group, v) - (across > 0 ? 0 : 1), line = group.lines[lineIndex]
    if (line === undefined) return []
    const toU = dot(group.origin, group.along)
    const key = `${lineIndex} ${slant.toFixed(6)} ${at[2].toFixed(3)}`
    let passed = this.#slanted.get(key)
    if (passed === undefined) this.#slanted.set(key, passed = this.#openingsOf(lineIndex).filter((u) => passesLine(line, u - toU, at[2], slant, 0, radiusMm, 0)))
    return passed.map((u) => u - slant * (line.v - v))
  }

  /** How many lines of joists with openings a leg passes. */
  linesPassed(a: Vec, b: Vec): number {
    const { group } = this.#ask
    if (group.lines.length === 0) return 0
    const toU = dot(group.origin, group.along), toV = dot(group.origin, group.across)
    const va = dot(a, group.across) - toV, vb = dot(b, group.across) - toV
    let count = 0
    for (let i = bayAt(group, Math.min(va, vb)); i < bayAt(group, Math.max(va, vb)); i++) {
      const { v, joists } = group.lines[i], share = (v - va) / (vb - va)
      const u = dot(a, group.along) - toU + share * dot(b, group.along) - share * dot(a, group.along), z = a[2] + share * (b[2] - a[2])
      if (joists.some(({ u0, sign, lengthMm, lowZ, highZ }) => sign * (u - u0) >= 0 && sign * (u - u0) <= lengthMm && z >= lowZ && z <= highZ)) count++
    }
    return count
  }

  #openingsOf(lineIndex: number): readonly number[] {
    const known = this.#openings.get(lineIndex)
    if (known !== undefined) return known
    const { group, radiusMm } = this.#ask, line = group.lines[lineIndex], toU = dot(group.origin, group.along)
    const places: number[] = []
    for (const z of this.#levels) {
      const passes = (u: number): boolean => line.joists.some(({ u0, sign, lengthMm, lowZ, highZ }) => sign * (u - toU - u0) >= 0 && sign * (u - toU - u0) <= lengthMm && z >= lowZ && z <= highZ)
        && passesLine(line, u - toU, z, 0, 0, radiusMm, 0)
      const edge = (inside: number, outside: number): number => {
        for (let k = 0; k < 12; k++) {
          const middle = (inside + outside) / 2
          if (passes(middle)) inside = middle
          else outside = middle
        }
        return inside
      }
      let open = NaN
      for (let u = this.#low[0]; u <= this.#high[0] + SCAN_MM; u += SCAN_MM) {
        const isOpen = u <= this.#high[0] && passes(u)
        if (isOpen && Number.isNaN(open)) open = edge(u, u - SCAN_MM)
        if (isOpen || Number.isNaN(open)) continue
        const shut = edge(u - SCAN_MM, u)
        places.push(open, (open + shut) / 2, shut)
        open = NaN
      }
    }
    const list = sorted(places)
    this.#openings.set(lineIndex, list)
    return list
  }

  /** Faces of what stands about, at the duct's clearance from them. */
  #edges(): number[][] {
    const { context: { assembly: { solids, parts, job: { zones } }, clearances, grid, isSound, joistOfSolid }, radiusMm, ducts, group: { along } } = this.#ask
    const edges: number[][] = [[], [], []]
    const isSquare = Math.abs(along[0] * along[1]) < 1e-9
    const corner = (s: number, t: number): number[] => [0, 1].map((k) => s * along[k] + t * this.axes[1][k])
    const spots = [this.#low, this.#high].flatMap((p) => [this.#low, this.#high].map((q) => corner(p[0], q[1])))
    grid.near(Math.min(...spots.map(([x]) => x)), Math.min(...spots.map(([, y]) => y)), this.#low[2], Math.max(...spots.map(([x]) => x)), Math.max(...spots.map(([, y]) => y)), this.#high[2], found)
    const addBox = (box: ArrayLike<number>, at: number, outMm: number): void => this.axes.forEach((axis, k) => {
      let low = Infinity, high = -Infinity
      for (let i = 0; i < 8; i++) {
        const value = dot([box[at + (i & 1 ? 3 : 0)], box[at + (i & 2 ? 4 : 1)], box[at + (i & 4 ? 5 : 2)]], axis)
        low = Math.min(low, value)
        high = Math.max(high, value)
      }
      if (isSquare || k === 2) edges[k].push(low - outMm, high + outMm)
    })
    for (const solid of [...found.items.slice(0, found.count)].sort((p, q) => p - q)) {
      if (isSound[solid] === 1 && joistOfSolid[solid] < 0) addBox(solids.bounds, 6 * solid, radiusMm + clearances.mm[parts.classCodeOf(solid)] + HAIR_MM)
    }
    for (const { curve, radiusMm: other } of ducts) {
      const boundsMm = curveBounds(curve.elements, curve.count)
      for (let i = 0; i < curve.count; i++) addBox(boundsMm, 6 * i, radiusMm + other + clearances.mm[DUCT_CODE] + HAIR_MM)
    }
    for (const { undersideMm, topMm } of zones) edges[2].push(undersideMm + radiusMm + HAIR_MM, topMm - radiusMm - HAIR_MM)
    const offMm = (value: number, k: number): number => Math.max(0, this.#low[k] + ABOUT_MM - value, value - this.#high[k] + ABOUT_MM)
    return edges.map((list, k) => sorted(list).filter((value) => offMm(value, k) < ABOUT_MM).sort((p, q) => offMm(p, k) - offMm(q, k) || p - q).slice(0, MOST_EDGES))
  }
}

/** Of those that say the same the first named stays. */
function sorted(list: readonly number[]): number[] {
  const kept: number[] = []
  for (const value of list) if (kept.every((other) => Math.abs(other - value) > SAME_MM)) kept.push(value)
  return kept.sort((a, b) => a - b)
}
