/** One joist in true elevation as data, and the search for openings that a size of duct could take. x from the datum end, y from the underside, mm. */
import { webMembers } from '#assembly/openWeb.ts'
import type { PlacedJoist } from '#assembly/assembly.ts'
import { PAIR_ANSWER_SIZE } from '#geometry/clearance/index.ts'
import { crossingFit, largestStraight } from '#geometry/fit/largestDuct.ts'
import { largestBeside } from '#geometry/fit/largestBeside.ts'
import { ANSWER_ERROR_MM, SAME_POINT_MM } from '#geometry/tolerance.ts'
import type { CheckContext } from './context.ts'
import type { Crossing } from './crossings.ts'
import type { PartRef } from './finding.ts'
import { ductsOf, halfThicknessMm, memberName, usersOfJoist, type OpeningUser, knownCrossings } from './openingUse.ts'
import { runRef, solidRef } from './refs.ts'
import { DUCT_CODE } from './requirement.ts'
import { stretchToCurve } from './stretch.ts'

type Point = readonly [number, number]

export interface MemberOutline {
  readonly part: PartRef
  readonly kind: string
  /** counter-clockwise seen from the joist's right-hand side; plates on both faces that look alike are told once, by the left one */
  readonly corners: readonly Point[]
}

export interface ElevationOpening {
  readonly number: number
  readonly corners: readonly Point[]
  /** largest duct straight through, and where its middle lies */
  readonly largestMm: number
  readonly x: number
  readonly y: number
  /** ids of the runs that pass */
  readonly passedBy: readonly string[]
  /** largest duct straight through beside those, as they lie now */
  readonly roomLeftMm: number
}

/** A run where it passes the joist's middle plane. */
export interface ElevationDuct {
  readonly run: PartRef
  readonly crossing: Crossing
  /** the section: an ellipse about x, y, its longer half `longMm` at `longRad` from the joist's x */
  readonly x: number
  readonly y: number
  readonly longMm: number
  readonly shortMm: number
  readonly longRad: number
  /** room left on the present axis, as it is and with the trial growth; null where it passes no opening */
  readonly spareMm: number | null
  readonly spareGrownMm: number | null
  /** what it touches first as it grows */
  readonly touchesFirst: string | null
  /** least clear distance to each other duct that passes here, within the joist's thickness, as they are and with both grown */
  readonly toOthers: readonly { readonly runId: string, readonly clearMm: number, readonly clearGrownMm: number }[]
  /** with the trial growth it fits between the members and clears the others */
  readonly fitsGrown: boolean
}

export interface JoistElevation {
  readonly joist: PartRef
  readonly lengthMm: number
  readonly depthMm: number
  /** level of its underside on site */
  readonly undersideMm: number
  readonly members: readonly MemberOutline[]
  readonly openings: readonly ElevationOpening[]
  readonly holes: readonly { readonly id: string, readonly x: number, readonly y: number, readonly radiusMm: number }[]
  readonly ducts: readonly ElevationDuct[]
  /** web nodes from the datum end, as measured on site */
  readonly nodes: readonly { readonly x: number, readonly chord: 'top' | 'bottom' }[]
}

/** @param trialGrowMm added to the outer diameter of every run that passes */
export function joistElevation(context: CheckContext, joistIndex: number, trialGrowMm = 0): JoistElevation {
  const joist = context.assembly.joists[joistIndex]
  const users = usersOfJoist(context, joistIndex)
  return {
    joist: { id: joist.id, name: joist.name }, lengthMm: joist.lengthMm, depthMm: joist.section.depthMm, undersideMm: joist.origin[2],
    members: membersOf(context, joist),
    openings: joist.openings.map(({ number, opening }) => {
      largestStraight(opening, fit)
      const own = users.filter(({ crossing }) => crossing.opening === number)
      const [largestMm, x, y] = fit
      const beside = own.length === 0 ? largestMm : largestBeside(opening, ductsOf(own, joist, context.clearances.mm[DUCT_CODE])).diameterMm
      return { number, corners: pairs(opening.verticesXy), largestMm, x, y, passedBy: own.map(({ runIndex }) => context.runs[runIndex].placed.run.id), roomLeftMm: beside }
    }),
    holes: (context.holesOfJoist.get(joistIndex) ?? []).map(({ id, at, radiusMm }) => ({ id, x: alongOf(joist, at), y: at[2] - joist.origin[2], radiusMm })),
    ducts: users.map((user) => ductOf(context, joist, user, users, trialGrowMm)),
    nodes: nodesOf(joist),
  }
}

const fit = new Float64Array(3)

function alongOf({ origin, along }: PlacedJoist, at: ArrayLike<number>): number {
  return (at[0] - origin[0]) * along[0] + (at[1] - origin[1]) * along[1]
}

function pairs(xy: Float64Array): Point[] {
  return Array.from({ length: xy.length / 2 }, (_, i): Point => [xy[2 * i], xy[2 * i + 1]])
}

/** Every solid of a joist is a box square to it: its first and third axes lie in the elevation. */
function membersOf({ assembly }: CheckContext, joist: PlacedJoist): MemberOutline[] {
  const { solids, parts } = assembly
  const outlines: MemberOutline[] = []
  let last = ''
  for (let i = joist.firstSolid; i < joist.endSolid; i++) {
    const { data } = solids, s = solids.offset[i]
    const x = alongOf(joist, data.subarray(s, s + 3)), y = data[s + 2] - joist.origin[2]
    const side = (axis: number, half: number): Point => [half * (data[axis] * joist.along[0] + data[axis + 1] * joist.along[1]), half * data[axis + 2]]
    const [ux, uy] = side(s + 6, data[s + 3]), [wx, wy] = side(s + 12, data[s + 5])
    const corners: Point[] = [[x - ux - wx, y - uy - wy], [x + ux - wx, y + uy - wy], [x + ux + wx, y + uy + wy], [x - ux + wx, y - uy + wy]]
    const shape = `${parts.kindOf(i)} ${corners.flat().map((value) => value.toFixed(6)).join(' ')}`
    if (shape !== last) outlines.push({ part: solidRef(assembly, i), kind: parts.kindOf(i), corners })
    last = shape
  }
  return outlines
}

function nodesOf({ section, field, joist, lengthMm }: PlacedJoist): JoistElevation['nodes'] {
  if (section.kind !== 'open-web') return []
  const nodes: { x: number, chord: 'top' | 'bottom' }[] = []
  for (const { x0, y0, x1, y1 } of webMembers(section, field, joist, lengthMm)) {
    for (const [x, y] of [[x0, y0], [x1, y1]]) {
      const chord = y < section.depthMm / 2 ? 'bottom' : 'top'
      if (!nodes.some((node) => node.chord === chord && Math.abs(node.x - x) < SAME_POINT_MM)) nodes.push({ x, chord })
    }
  }
  return nodes.sort((a, b) => a.x - b.x)
}

function ductOf(context: CheckContext, joist: PlacedJoist, user: OpeningUser, users: readonly OpeningUser[], growMm: number): ElevationDuct {
  const { crossing, runIndex } = user
  const { placed } = context.runs[runIndex]
  const [sx, sy] = crossing.shear, r = placed.outerRadiusMm
  const opening = joist.openings.find(({ number }) => number === crossing.opening)?.opening
  const touching = opening === undefined ? -1 : crossingFit(opening, crossing.x, crossing.y, sx, sy, fit)
  const toOthers = users.filter((other) => other.runIndex !== runIndex).flatMap((other) => {
    const clearMm = clearWithin(context, joist, user, other)
    return clearMm === null ? [] : [{ runId: context.runs[other.runIndex].placed.run.id, clearMm, clearGrownMm: clearMm - growMm }]
  })
  const spareGrownMm = crossing.spareMm === null ? null : crossing.spareMm - growMm / 2
  return {
    run: runRef(placed), crossing, x: crossing.x, y: crossing.y,
    // a cylinder cut aslant: as wide as itself across the slant, longer along it by the slant
    longMm: r * Math.hypot(1, sx, sy), shortMm: r, longRad: sx === 0 && sy === 0 ? 0 : Math.atan2(sy, sx),
    spareMm: crossing.spareMm, spareGrownMm,
    touchesFirst: touching < 0 || opening === undefined ? crossing.hole === null ? null : `hole ${crossing.hole}` : memberName(context, joist, opening.members[touching]),
    toOthers, fitsGrown: (spareGrownMm ?? -1) >= -ANSWER_ERROR_MM && toOthers.every(({ clearGrownMm }) => clearGrownMm >= -ANSWER_ERROR_MM),
  }
}

const pair = new Float64Array(PAIR_ANSWER_SIZE)
/** Ducts further apart than this at a joist are not told of each other, mm. */
const NEAR_MM = 400

/** Between the surfaces of two ducts, on the first's stretch through the joist; null when far apart. */
function clearWithin(context: CheckContext, joist: PlacedJoist, { runIndex, crossing }: OpeningUser, other: OpeningUser): number | null {
  const a = context.runs[runIndex].placed, b = context.runs[other.runIndex].placed
  const reachMm = halfThicknessMm(joist) * Math.hypot(1, ...crossing.shear), radiiMm = a.outerRadiusMm + b.outerRadiusMm
  const distanceMm = stretchToCurve(a.centreline, crossing.stationMm - reachMm, crossing.stationMm + reachMm, b.centreline, radiiMm + NEAR_MM, pair)
  return distanceMm > radiiMm + NEAR_MM ? null : distanceMm - radiiMm
}

export interface OpeningChoice {
  readonly joistIndex: number
  readonly joistId: string
  readonly joistName: string
  readonly opening: number
  readonly largestMm: number
  readonly passedBy: readonly PartRef[]
  /** largest duct straight through beside what passes now, the job's gap between ducts kept */
  readonly roomLeftMm: number
  /** it goes there now, with nothing moved */
  readonly isFree: boolean
}

/** Openings whose largest duct straight through is this size or more, in the order of the joists, with what is in them. */
export function whereCanGo(context: CheckContext, diameterMm: number): OpeningChoice[] {
  const steps = whereCanGoInSteps(context, diameterMm)
  for (;;) {
    const { done, value } = steps.next()
    if (done === true) return value
  }
}

/** The same, resting after each run and each joist. Yields how much is done, 0 to 1. */
export function* whereCanGoInSteps(context: CheckContext, diameterMm: number): Generator<number, OpeningChoice[], void> {
  const { joists } = context.assembly
  const onJoists: OpeningUser[][] = joists.map(() => []), stepCount = context.runs.length + joists.length
  for (let runIndex = 0; runIndex < context.runs.length; runIndex++) {
    for (const crossing of knownCrossings(context, runIndex)) onJoists[crossing.joistIndex].push({ runIndex, crossing })
    yield (runIndex + 1) / stepCount
  }
  const found: OpeningChoice[] = []
  for (const [joistIndex, joist] of joists.entries()) {
    const onJoist = onJoists[joistIndex]
    found.push(...joist.openings.flatMap(({ number, opening }): OpeningChoice[] => {
      largestStraight(opening, fit)
      const largestMm = fit[0]
      if (largestMm < diameterMm - SAME_POINT_MM) return []
      const users = onJoist.filter(({ crossing }) => crossing.opening === number)
      const roomLeftMm = users.length === 0 ? largestMm : largestBeside(opening, ductsOf(users, joist, context.clearances.mm[DUCT_CODE])).diameterMm
      return [{
        joistIndex, joistId: joist.id, joistName: joist.name, opening: number, largestMm,
        passedBy: users.map(({ runIndex }) => runRef(context.runs[runIndex].placed)), roomLeftMm, isFree: roomLeftMm >= diameterMm - SAME_POINT_MM,
      }]
    }))
    yield (context.runs.length + joistIndex + 1) / stepCount
  }
  return found
}
