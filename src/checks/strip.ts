/** The run strip: one run unrolled, distance along it against height, with what it passes. */
import type { PlacedJoist } from '#assembly/assembly.ts'
import { ARC, ELEMENT_STRIDE, KIND, LENGTH, RADIUS, STATION } from '#geometry/curve/centreline.ts'
import { pointAt } from '#geometry/curve/measure.ts'
import { EDGE_STRIDE, type Opening } from '#geometry/fit/opening.ts'
import { SAME_POINT_MM } from '#geometry/tolerance.ts'
import { endOf, startOf } from './bends.ts'
import type { CheckContext } from './context.ts'
import type { Crossing } from './crossings.ts'
import type { PartRef, Place } from './finding.ts'
import { halfThicknessMm, knownCrossings, solidOfMember } from './openingUse.ts'
import { placesBelow, type NearPlace } from './places.ts'
import { bendRef, joistRef, runRef, solidRef } from './refs.ts'
import { stretchToCurve } from './stretch.ts'
import { stationAtDepth } from './throughJoist.ts'
import { zonesAlong, type ZoneStretch } from './zonesAlong.ts'

export { clearancesAt, type ClearancesAt, type FreeWay } from './clearancesAt.ts'
export type { ZoneStretch } from './zonesAlong.ts'

export interface StripPoint { readonly stationMm: number, readonly heightMm: number }

/** What is open over one place in plan: levels on site, and the members that close it. */
export interface OpenInterval {
  readonly stationMm: number
  readonly lowMm: number
  readonly highMm: number
  readonly below: PartRef
  readonly above: PartRef
}

export interface StripCrossing {
  readonly crossing: Crossing
  readonly joist: PartRef
  /** levels of the joist's underside and top */
  readonly undersideMm: number
  readonly topMm: number
  /** where the run's centreline passes the joist's first face, and its last */
  readonly fromMm: number
  readonly toMm: number
  /** the opening or hole cut by the upright surface through the run: at the first face, on the middle plane and at the last face; null where nothing is open */
  readonly open: readonly [OpenInterval | null, OpenInterval | null, OpenInterval | null]
}

export interface StripBend {
  readonly part: PartRef
  readonly fromMm: number
  readonly toMm: number
  readonly stationMm: number
  readonly heightMm: number
  readonly turnDeg: number
  readonly radiusMm: number
  /** the type's least radius, or the radius of the fitting asked for */
  readonly leastMm: number
  readonly ok: boolean
}

/** Another run that comes near. */
export interface StripNear {
  readonly run: PartRef
  readonly stationMm: number
  readonly fromMm: number
  readonly toMm: number
  /** surface to surface, mm */
  readonly clearanceMm: number
  /** how much higher its centreline is there; negative: lower */
  readonly higherMm: number
  readonly at: Place
}

export interface Strip {
  readonly run: PartRef
  readonly lengthMm: number
  readonly outerRadiusMm: number
  /** the centreline: exact at every node; between them no further from the true height than `sampledWithinMm` */
  readonly centre: readonly StripPoint[]
  readonly sampledWithinMm: number
  readonly bends: readonly StripBend[]
  readonly crossings: readonly StripCrossing[]
  readonly zones: readonly ZoneStretch[]
  readonly near: readonly StripNear[]
}

const SAMPLED_WITHIN_MM = 0.25
/** Other runs are told when they come nearer than this, surface to surface, mm. */
const NEAR_MM = 150

export function stripOf(context: CheckContext, runIndex: number, sampledWithinMm = SAMPLED_WITHIN_MM, nearMm = NEAR_MM): Strip {
  const { placed } = context.runs[runIndex]
  const { centreline, outerRadiusMm } = placed
  return {
    run: runRef(placed), lengthMm: centreline.lengthMm, outerRadiusMm, sampledWithinMm,
    centre: stationsOf(context, runIndex, sampledWithinMm).map((stationMm) => ({ stationMm, heightMm: pointOf(context, runIndex, stationMm)[2] })),
    bends: bendsOf(context, runIndex),
    crossings: knownCrossings(context, runIndex).map((crossing) => stripCrossing(context, runIndex, crossing)),
    zones: zonesAlong(context, runIndex),
    near: nearRuns(context, runIndex, nearMm),
  }
}

/** Both ends of every leg and bend, and between a bend's ends enough that the chords stray by no more: sagitta of a chord, R (1 - cos(step / 2)). */
function stationsOf(context: CheckContext, runIndex: number, withinMm: number): number[] {
  const { elements, count, lengthMm } = context.runs[runIndex].placed.centreline
  const stations: number[] = []
  for (let e = 0; e < count * ELEMENT_STRIDE; e += ELEMENT_STRIDE) {
    const turn = elements[e + LENGTH] / (elements[e + RADIUS] || 1)
    const most = elements[e + KIND] === ARC ? 2 * Math.acos(Math.max(0, 1 - withinMm / elements[e + RADIUS])) : Infinity
    const steps = Math.max(1, Math.ceil(turn / most))
    for (let k = 0; k < steps; k++) stations.push(elements[e + STATION] + elements[e + LENGTH] * k / steps)
  }
  stations.push(lengthMm)
  return stations
}

function pointOf(context: CheckContext, runIndex: number, stationMm: number): [number, number, number] {
  const point: [number, number, number] = [0, 0, 0]
  pointAt(context.runs[runIndex].placed.centreline, stationMm, point)
  return point
}

function bendsOf(context: CheckContext, runIndex: number): StripBend[] {
  const { placed } = context.runs[runIndex]
  return placed.bends.map((bend, i) => {
    const leastMm = placed.type.kind === 'semi-rigid' ? placed.type.minBendRadiusMm : bend.askedMm
    return {
      part: bendRef(placed, i + 1), fromMm: startOf(bend), toMm: endOf(bend), stationMm: bend.stationMm, heightMm: pointOf(context, runIndex, bend.stationMm)[2],
      turnDeg: bend.turnRad * 180 / Math.PI, radiusMm: bend.radiusMm, leastMm, ok: bend.radiusMm >= leastMm - SAME_POINT_MM,
    }
  })
}

function stripCrossing(context: CheckContext, runIndex: number, crossing: Crossing): StripCrossing {
  const joist = context.assembly.joists[crossing.joistIndex]
  const half = halfThicknessMm(joist)
  const fromMm = stationAtDepth(context.runs[runIndex].placed.centreline, joist, crossing.stationMm, half, -1), toMm = stationAtDepth(context.runs[runIndex].placed.centreline, joist, crossing.stationMm, half, 1)
  const opening = joist.openings.find(({ number }) => number === crossing.opening)?.opening
  const openAt = (stationMm: number): OpenInterval | null => {
    const [x, y] = pointOf(context, runIndex, stationMm)
    const along = (x - joist.origin[0]) * joist.along[0] + (y - joist.origin[1]) * joist.along[1]
    return opening !== undefined ? openIn(context, joist, opening, along, stationMm) : crossing.hole === null ? null : openInHole(context, joist, crossing.hole, along, stationMm)
  }
  return {
    crossing, joist: joistRef(joist), undersideMm: joist.origin[2], topMm: joist.origin[2] + joist.section.depthMm, fromMm, toMm,
    open: [openAt(fromMm), openAt(crossing.stationMm), openAt(toMm)],
  }
}

/** Levels between the opening's sides, straight over `along`. */
function openIn(context: CheckContext, joist: PlacedJoist, { edges, edgeCount, members }: Opening, along: number, stationMm: number): OpenInterval | null {
  let low = -Infinity, high = Infinity, lowEdge = -1, highEdge = -1
  for (let i = 0, e = 0; i < edgeCount; i++, e += EDGE_STRIDE) {
    const left = edges[e + 2] - edges[e] * along
    if (Math.abs(edges[e + 1]) < 1e-12) {
      if (left < 0) return null
    } else if (edges[e + 1] > 0) {
      if (left / edges[e + 1] < high) [high, highEdge] = [left / edges[e + 1], i]
    } else if (left / edges[e + 1] > low) [low, lowEdge] = [left / edges[e + 1], i]
  }
  if (!(high > low) || lowEdge < 0 || highEdge < 0) return null
  const ref = (edge: number): PartRef => {
    const solidIndex = solidOfMember(joist, members[edge])
    return solidIndex < 0 ? joistRef(joist) : solidRef(context.assembly, solidIndex)
  }
  return { stationMm, lowMm: joist.origin[2] + low, highMm: joist.origin[2] + high, below: ref(lowEdge), above: ref(highEdge) }
}

function openInHole(context: CheckContext, joist: PlacedJoist, holeId: string, along: number, stationMm: number): OpenInterval | null {
  const hole = context.assembly.holes.find(({ id }) => id === holeId)!
  const off = along - (hole.at[0] - joist.origin[0]) * joist.along[0] - (hole.at[1] - joist.origin[1]) * joist.along[1]
  if (!(Math.abs(off) < hole.radiusMm)) return null
  const half = Math.sqrt(hole.radiusMm ** 2 - off * off)
  return { stationMm, lowMm: hole.at[2] - half, highMm: hole.at[2] + half, below: joistRef(joist), above: joistRef(joist) }
}

function nearRuns(context: CheckContext, runIndex: number, nearMm: number): StripNear[] {
  const { placed } = context.runs[runIndex]
  return context.runs.flatMap(({ placed: other }, otherIndex) => {
    if (otherIndex === runIndex) return []
    const places: NearPlace[] = []
    const radiiMm = placed.outerRadiusMm + other.outerRadiusMm
    placesBelow(0, placed.centreline.lengthMm, radiiMm + nearMm, 2 * placed.outerRadiusMm, -1,
      (fromMm, toMm, cutoffMm, out) => stretchToCurve(placed.centreline, fromMm, toMm, other.centreline, cutoffMm, out), places)
    return places.map((place): StripNear => ({
      run: runRef(other), stationMm: place.stationMm, fromMm: place.fromMm, toMm: place.toMm, clearanceMm: place.distanceMm - radiiMm,
      higherMm: place.onOther.z - place.onCurve.z, at: place.onCurve,
    }))
  }).sort((a, b) => a.stationMm - b.stationMm)
}
