/**
 * The void as the router sees it: joists in lines, the bays between them, and for each joist a quick answer to whether a straight
 * duct passes one of its openings. Everything else is asked of the exact kernels. u runs along the joists, v across them, mm.
 */
import type { PlacedJoist } from '#assembly/assembly.ts'
import type { CheckContext } from '#checks/context.ts'
import { halfThicknessMm } from '#checks/openingUse.ts'
import { BOTTOM_CHORD, EDGE_STRIDE, TOP_CHORD } from '#geometry/fit/opening.ts'
import { CLASSES } from '#model/index.ts'
import type { Vec } from '../threadVector.ts'

/** Joists that run the same way, wherever they lie: one frame for all of them. */
export interface BayGroup {
  readonly along: Vec
  readonly across: Vec
  /** where u and v are 0 */
  readonly origin: Vec
  /** in the order of v; bay b lies between lines b - 1 and b, the first and the last on one side of a line only */
  readonly lines: readonly JoistLine[]
  readonly u0: number
  readonly u1: number
}

export interface JoistLine {
  readonly v: number
  readonly halfMm: number
  readonly joists: readonly LineJoist[]
}

/** A joist in its line: its own x is sign * (u - u0). */
interface LineJoist {
  readonly joistIndex: number
  readonly u0: number
  readonly sign: 1 | -1
  readonly lengthMm: number
  readonly lowZ: number
  readonly highZ: number
  /** lowest and highest place in any of its openings, from its underside */
  readonly openLowMm: number
  readonly openHighMm: number
  /** EDGE_STRIDE numbers an edge, and the clearance that its member asks, opening after opening */
  readonly edges: Float64Array
  readonly clearMm: Float64Array
  readonly firstEdge: Int32Array
  /** openings that lie in each stretch of BIN_MM */
  readonly bins: readonly Int32Array[]
  /** holes: x, y, radius, half length */
  readonly holes: Float64Array
}

const BIN_MM = 50
/** Joists in line within this are one line, mm. */
const ONE_LINE_MM = 40
/** joists within this of parallel run the same way (a sine) */
const PARALLEL = 1e-3

export function bayGroups(context: CheckContext): BayGroup[] {
  const { joists } = context.assembly
  const left = new Set(joists.keys())
  const groups: BayGroup[] = []
  while (left.size > 0) {
    const first = joists[left.values().next().value!]
    const mine = [...left].filter((i) => Math.abs(joists[i].along[0] * first.across[0] + joists[i].along[1] * first.across[1]) < PARALLEL)
    for (const i of mine) left.delete(i)
    groups.push(groupOf(context, first, mine))
  }
  return groups
}

function groupOf(context: CheckContext, { origin, along, across }: PlacedJoist, mine: readonly number[]): BayGroup {
  const { joists } = context.assembly
  const placed = mine.map((joistIndex) => {
    const joist = joists[joistIndex]
    const dx = joist.origin[0] - origin[0], dy = joist.origin[1] - origin[1]
    return { joistIndex, joist, u: dx * along[0] + dy * along[1], v: dx * across[0] + dy * across[1], sign: joist.along[0] * along[0] + joist.along[1] * along[1] > 0 ? 1 as const : -1 as const }
  }).sort((a, b) => a.v - b.v || a.joistIndex - b.joistIndex)
  const lines: { v: number, halfMm: number, joists: LineJoist[] }[] = []
  let u0 = Infinity, u1 = -Infinity
  for (const { joistIndex, joist, u, v, sign } of placed) {
    u0 = Math.min(u0, u, u + sign * joist.lengthMm)
    u1 = Math.max(u1, u, u + sign * joist.lengthMm)
    const halfMm = halfThicknessMm(joist), line = lines.at(-1)
    const lineJoist = lineJoistOf(context, joistIndex, joist, u, sign)
    if (line !== undefined && v - line.v < ONE_LINE_MM) {
      line.joists.push(lineJoist)
      line.halfMm = Math.max(line.halfMm, halfMm)
    } else lines.push({ v, halfMm, joists: [lineJoist] })
  }
  return { origin, along, across, lines, u0, u1 }
}

function lineJoistOf({ clearances, holesOfJoist }: CheckContext, joistIndex: number, joist: PlacedJoist, u0: number, sign: 1 | -1): LineJoist {
  const { openings, lengthMm, origin, section } = joist
  const edgeCount = openings.reduce((sum, { opening }) => sum + opening.edgeCount, 0)
  const edges = new Float64Array(edgeCount * EDGE_STRIDE), clearMm = new Float64Array(edgeCount), firstEdge = new Int32Array(openings.length + 1)
  const bins: number[][] = Array.from({ length: Math.floor(lengthMm / BIN_MM) + 1 }, () => [])
  let openLowMm = Infinity, openHighMm = -Infinity
  openings.forEach(({ opening }, i) => {
    const from = firstEdge[i], xs = opening.verticesXy
    edges.set(opening.edges.subarray(0, opening.edgeCount * EDGE_STRIDE), from * EDGE_STRIDE)
    for (let k = 0; k < opening.edgeCount; k++) {
      const member = opening.members[k]
      clearMm[from + k] = clearances.mm[CLASSES.indexOf(member >= 0 ? 'web' : member === BOTTOM_CHORD || member === TOP_CHORD ? 'chord' : 'joist')]
    }
    firstEdge[i + 1] = from + opening.edgeCount
    let low = Infinity, high = -Infinity
    for (let k = 0; k < xs.length; k += 2) {
      low = Math.min(low, xs[k])
      high = Math.max(high, xs[k])
      openLowMm = Math.min(openLowMm, xs[k + 1])
      openHighMm = Math.max(openHighMm, xs[k + 1])
    }
    for (let b = Math.max(0, Math.floor(low / BIN_MM)); b <= Math.min(bins.length - 1, Math.floor(high / BIN_MM)); b++) bins[b].push(i)
  })
  const holes = (holesOfJoist.get(joistIndex) ?? []).flatMap(({ at, radiusMm, halfLengthMm }) => [
    (at[0] - origin[0]) * joist.along[0] + (at[1] - origin[1]) * joist.along[1], at[2] - origin[2], radiusMm, halfLengthMm,
  ])
  return {
    joistIndex, u0, sign, lengthMm, lowZ: origin[2], highZ: origin[2] + section.depthMm, openLowMm, openHighMm,
    edges, clearMm, firstEdge, bins: bins.map((bin) => Int32Array.from(bin)), holes: Float64Array.from(holes),
  }
}

/**
 * Whether a straight duct passes a line of joists where its axis meets the line at u, z with su and sz mm along and up for each mm
 * across. Where no joist is, it does. On the safe side beside webs with free ends.
 * @param slackMm so much may be missing
 */
export function passesLine(line: JoistLine, u: number, z: number, su: number, sz: number, radiusMm: number, slackMm: number): boolean {
  for (const joist of line.joists) {
    const x = joist.sign * (u - joist.u0)
    if (x < 0 || x > joist.lengthMm) continue
    if (z > joist.lowZ - radiusMm && z < joist.highZ + radiusMm && !passesJoist(joist, x, z - joist.lowZ, su, joist.sign * sz, radiusMm, slackMm)) return false
  }
  return true
}

function passesJoist({ edges, clearMm, firstEdge, bins, holes }: LineJoist, x: number, y: number, sx: number, sy: number, radiusMm: number, slackMm: number): boolean {
  const bin = bins[Math.floor(x / BIN_MM)]
  for (let i = 0; i < bin.length; i++) {
    const opening = bin[i], end = firstEdge[opening + 1]
    let k = firstEdge[opening]
    for (let e = k * EDGE_STRIDE; k < end; k++, e += EDGE_STRIDE) {
      const ax = edges[e], ay = edges[e + 1], drift = ax * sx + ay * sy
      const reach = edges[e + 2] - ax * x - ay * y - drift * (drift > 0 ? edges[e + 4] : edges[e + 3])
      if (reach / Math.sqrt(1 + drift * drift) < radiusMm + clearMm[k] - slackMm) break
    }
    if (k === end) return true
  }
  for (let h = 0; h < holes.length; h += 4) {
    if (Math.hypot(x - holes[h], y - holes[h + 1]) + holes[h + 3] * Math.hypot(sx, sy) + radiusMm * Math.hypot(1, sx, sy) <= holes[h + 2] + slackMm) return true
  }
  return false
}

/** How wide the bay outside the last joist is taken to be, mm. */
const OUTER_BAY_MM = 400

/** Which bay a place lies in: as many lines of joists lie before it. */
export function bayAt({ lines }: BayGroup, v: number): number {
  let low = 0, high = lines.length
  while (low < high) {
    const middle = (low + high) >> 1
    if (lines[middle].v <= v) low = middle + 1
    else high = middle
  }
  return low
}

export function bayMiddleMm({ lines }: BayGroup, bay: number): number {
  if (lines.length === 0) return 0
  return bay === 0 ? lines[0].v - OUTER_BAY_MM / 2 : bay === lines.length ? lines[bay - 1].v + OUTER_BAY_MM / 2 : (lines[bay - 1].v + lines[bay].v) / 2
}

/** From the middle of a bay to the joists at its sides, mm. */
export function baySideMm({ lines }: BayGroup, bay: number): number {
  const wide = bay === 0 || bay === lines.length ? OUTER_BAY_MM : lines[bay].v - lines[bay - 1].v
  return wide / 2 - (lines.length === 0 ? 0 : lines[Math.min(bay, lines.length - 1)].halfMm)
}
