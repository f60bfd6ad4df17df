/** What a run is asked to pass, in order: openings, drilled holes and places in bays, each as a convex region in its own plane. */
import type { PlacedJoist } from '#assembly/assembly.ts'
import type { CheckContext } from '#checks/context.ts'
import { ductsOf, usersOf } from '#checks/openingUse.ts'
import { DUCT_CODE } from '#checks/requirement.ts'
import { insetPolygon, openingFromHalfPlanes } from '#geometry/fit/halfPlanes.ts'
import { largestBeside, type Beside, type DuctThere } from '#geometry/fit/largestBeside.ts'
import { largestStraight } from '#geometry/fit/largestDuct.ts'
import { BOTTOM_CHORD, EDGE_STRIDE, TOP_CHORD, type Opening } from '#geometry/fit/opening.ts'
import { CLASSES } from '#model/index.ts'
import type { Vec } from './threadVector.ts'

/** What the user clicked. */
export type Gate =
  | { readonly kind: 'opening', readonly joistId: string, readonly opening: number }
  | { readonly kind: 'hole', readonly holeId: string }
  | { readonly kind: 'point', readonly at: Vec }

/** An opening or a hole of one joist that the run passes. */
export interface JoistPassage {
  readonly kind: 'joist'
  readonly joist: PlacedJoist
  readonly joistIndex: number
  readonly openingNumber: number | null
  readonly holeId: string | null
  /** 'joist J4, opening 3' */
  readonly name: string
  readonly opening: Opening
  /** distance that its edges must be kept from the duct's axis, straight on, mm: outer radius and the clearance to that member */
  readonly keepMm: Float64Array
  /** duct plus insulation, mm */
  readonly outerRadiusMm: number
  readonly onTheWay: boolean
  /** ducts of other runs there, and the room left beside them */
  readonly there: readonly DuctThere[]
  readonly beside: Beside
}
export interface PointPassage { readonly kind: 'point', readonly at: Vec, readonly name: string }
export type Passage = JoistPassage | PointPassage

export interface DuctAsked {
  readonly outerRadiusMm: number
  /** the run being laid again: its own duct is not in its way; -1 for a new one */
  readonly runIndex: number
}

export function joistPassage(context: CheckContext, duct: DuctAsked, joistIndex: number, openingNumber: number, onTheWay: boolean): JoistPassage | null {
  const joist = context.assembly.joists[joistIndex]
  const opening = joist.openings.find(({ number }) => number === openingNumber)?.opening
  if (opening === undefined) return null
  const { clearances } = context
  const keepMm = Float64Array.from(opening.members, (member) => duct.outerRadiusMm + clearances.mm[classCode(member)])
  const others = usersOf(context, joistIndex, openingNumber).filter(({ runIndex }) => runIndex !== duct.runIndex)
  const there = ductsOf(others, joist, clearances.mm[DUCT_CODE])
  return {
    kind: 'joist', joist, joistIndex, openingNumber, holeId: null, name: `${joist.name}, opening ${openingNumber}`,
    opening, keepMm, outerRadiusMm: duct.outerRadiusMm, onTheWay, there, beside: largestBeside(opening, there),
  }
}

const HOLE_SIDES = 48

export function holePassage(context: CheckContext, duct: DuctAsked, holeId: string): JoistPassage | null {
  const hole = context.assembly.holes.find(({ id }) => id === holeId)
  if (hole === undefined) return null
  const joist = context.assembly.joists[hole.joistIndex]
  const [x, y] = [
    (hole.at[0] - joist.origin[0]) * joist.along[0] + (hole.at[1] - joist.origin[1]) * joist.along[1], hole.at[2] - joist.origin[2],
  ]
  const keptMm = Math.min(duct.outerRadiusMm, hole.radiusMm)
  // sides drawn so that what is left after the duct's radius lies inside the round that is left
  const side = keptMm + (hole.radiusMm - keptMm) * Math.cos(Math.PI / HOLE_SIDES)
  const halfPlanes = Array.from({ length: HOLE_SIDES }, (_, i) => {
    const turn = 2 * Math.PI * i / HOLE_SIDES, ax = Math.cos(turn), ay = Math.sin(turn)
    return [ax, ay, ax * x + ay * y + side, -hole.halfLengthMm, hole.halfLengthMm]
  }).flat()
  const opening = openingFromHalfPlanes(halfPlanes)
  return {
    kind: 'joist', joist, joistIndex: hole.joistIndex, openingNumber: null, holeId, name: `hole ${holeId}`, opening,
    keepMm: new Float64Array(HOLE_SIDES).fill(duct.outerRadiusMm), outerRadiusMm: duct.outerRadiusMm, onTheWay: false, there: [], beside: { diameterMm: 2 * hole.radiusMm, x, y },
  }
}

function classCode(member: number): number {
  return CLASSES.indexOf(member >= 0 ? 'web' : member === BOTTOM_CHORD || member === TOP_CHORD ? 'chord' : 'joist')
}

export function siteOf({ origin, along }: PlacedJoist, x: number, y: number): Vec {
  return [origin[0] + along[0] * x, origin[1] + along[1] * x, origin[2] + y]
}

/** Along the joist, up, and across it: of a point. */
export function inJoist({ origin, along, across }: PlacedJoist, at: Vec): Vec {
  const dx = at[0] - origin[0], dy = at[1] - origin[1]
  return [dx * along[0] + dy * along[1], at[2] - origin[2], dx * across[0] + dy * across[1]]
}

/** The same of a direction. */
export function directionInJoist({ along, across }: PlacedJoist, d: Vec): Vec {
  return [d[0] * along[0] + d[1] * along[1], d[2], d[0] * across[0] + d[1] * across[1]]
}

/** How a leg or two pass a joist: the slants to be kept room for, and how far the bend there cuts its corner, and which way. */
export interface Passing { readonly shears: readonly (readonly [number, number])[], readonly cornerMm: number, readonly towards: readonly [number, number] }
export const SQUARE_ON: Passing = { shears: [[0, 0]], cornerMm: 0, towards: [0, 0] }

/**
 * Where the duct's axis may meet the middle plane: corners x, y ... of a convex polygon. What is beyond need is shared: `roomShare` of
 * what is to spare is kept between the duct and the edges, 1 being the very middle. One point when nothing is to spare.
 * @returns whether the duct passes at all that way
 */
export function regionOf(passage: JoistPassage, { shears, cornerMm, towards }: Passing, roomShare: number, out: number[]): boolean {
  const rows = rowsOf(passage, shears, cornerMm, towards)
  const shrunk = openingFromHalfPlanes(rows)
  largestStraight(shrunk, fit)
  out.length = 0
  if (!(fit[0] > 0)) {
    out.push(...fallback(passage))
    return false
  }
  // past the middle of the largest circle nothing is left: stop a hair short of it
  const insetMm = roomShare * fit[0] / 2
  const corners = new Float64Array(2 * shrunk.edgeCount)
  const count = roomShare < 1 ? insetPolygon(shrunk.edges, shrunk.edgeCount, insetMm, corners) : 0
  if (count === 0) out.push(fit[1], fit[2])
  else for (let i = 0; i < 2 * count; i++) out.push(corners[i])
  return true
}

const fit = new Float64Array(3)

function fallback({ opening, beside }: JoistPassage): number[] {
  if (beside.diameterMm > 0) return [beside.x, beside.y]
  largestStraight(opening, fit)
  return [fit[1], fit[2]]
}

/** Half-planes for the axis: crossingFit's rule for each slant, the corner's cut, and a line between the duct and those there. */
function rowsOf({ opening: { edges, edgeCount }, keepMm, outerRadiusMm, there, beside }: JoistPassage, shears: Passing['shears'], cornerMm: number, towards: Passing['towards']): number[] {
  const rows: number[] = []
  for (let i = 0; i < edgeCount; i++) {
    const e = i * EDGE_STRIDE, ax = edges[e], ay = edges[e + 1]
    let b = Infinity
    for (const [sx, sy] of shears) {
      const drift = ax * sx + ay * sy
      // the clearance itself is a distance in space: kept as part of the radius
      b = Math.min(b, edges[e + 2] - drift * (drift > 0 ? edges[e + 4] : edges[e + 3]) - keepMm[i] * Math.sqrt(1 + drift * drift))
    }
    b -= cornerMm * Math.max(0, ax * towards[0] + ay * towards[1])
    rows.push(ax, ay, b, edges[e + 3], edges[e + 4])
  }
  for (const duct of there) {
    const dx = beside.x - duct.x, dy = beside.y - duct.y, size = Math.hypot(dx, dy)
    if (!(beside.diameterMm > 0 && size > 0)) continue
    const widest = Math.max(...shears.map(([sx, sy]) => Math.hypot(1, sx, sy)))
    const ax = -dx / size, ay = -dy / size
    rows.push(ax, ay, ax * duct.x + ay * duct.y - duct.keptMm - outerRadiusMm * widest, 0, 0)
  }
  return rows
}

/** Whether a straight leg from a to b passes with room. */
export function isPassedBy(passage: JoistPassage, a: Vec, b: Vec): boolean {
  return roomOf(passage, a, b) >= 0
}

/** What is left round the duct on a straight leg from a to b, after the clearances, by crossingFit's rule, and to the ducts there; -Infinity where it does not pass. */
export function roomOf({ joist, opening: { edges, edgeCount }, keepMm, outerRadiusMm, there }: JoistPassage, a: Vec, b: Vec): number {
  const [ax, ay, an] = inJoist(joist, a), [bx, by, bn] = inJoist(joist, b)
  if (!(an * bn < 0)) return -Infinity
  const share = an / (an - bn), x = ax + share * (bx - ax), y = ay + share * (by - ay)
  const sx = (bx - ax) / (bn - an), sy = (by - ay) / (bn - an)
  let room = Infinity
  for (let i = 0, e = 0; i < edgeCount; i++, e += EDGE_STRIDE) {
    const drift = edges[e] * sx + edges[e + 1] * sy
    const reach = edges[e + 2] - edges[e] * x - edges[e + 1] * y - drift * (drift > 0 ? edges[e + 4] : edges[e + 3])
    room = Math.min(room, reach / Math.sqrt(1 + drift * drift) - keepMm[i])
  }
  const widest = outerRadiusMm * Math.hypot(1, sx, sy)
  for (const duct of there) room = Math.min(room, Math.hypot(x - duct.x, y - duct.y) - duct.keptMm - widest)
  return room
}
