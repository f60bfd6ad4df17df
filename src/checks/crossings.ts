/** Where a run crosses joists, by which opening or hole, and what would fit there. */
import type { PlacedHole, PlacedJoist } from '#assembly/assembly.ts'
import { ARC, CENTRE_X, ELEMENT_STRIDE, KIND, LENGTH, RADIAL_X, RADIUS, START_X, STATION, TANGENT_X, TURN } from '#geometry/curve/centreline.ts'
import { directionAt, pointAt } from '#geometry/curve/measure.ts'
import { largestInRound } from '#geometry/envelope/largestInRound.ts'
import { ANSWER_SIZE } from '#geometry/clearance/answer.ts'
import { EDGE_STRIDE, type Opening } from '#geometry/fit/opening.ts'
import { crossingFit, largestOblique, largestStraight } from '#geometry/fit/largestDuct.ts'
import { ANSWER_ERROR_MM, SAME_POINT_MM } from '#geometry/tolerance.ts'
import { joistsNear, type CheckContext } from './context.ts'
import type { Finding } from './finding.ts'
import { joistWidthMm, openingRef, placeOf, runRef } from './refs.ts'
import { stretchToSolid } from './stretch.ts'
import { spareThroughJoist } from './throughJoist.ts'

/** A crossing: the run's centreline passes the joist's middle plane within its length and depth. */
export interface Crossing {
  readonly joistIndex: number
  /** number of the opening; null when the centreline meets a member, or the joist has none */
  readonly opening: number | null
  /** id of the drilled hole that it goes through, or null */
  readonly hole: string | null
  readonly stationMm: number
  /** on site, mm */
  readonly at: readonly [number, number, number]
  /** where it meets the middle plane: along the joist from its datum end, and above its underside, mm */
  readonly x: number
  readonly y: number
  /** slant there: mm along the joist and up for each mm across it */
  readonly shear: readonly [number, number]
  /** in a bend: the slant is the tangent at the middle plane, so the sizes are those of a straight duct along it */
  readonly inBend: boolean
  /** duct plus insulation, mm */
  readonly ductDiameterMm: number
  /** largest diameter that passes at this slant, wherever its axis; null without an opening or a hole */
  readonly largestHereMm: number | null
  /** largest that passes square to the joist */
  readonly largestStraightMm: number | null
  /** least clearance of the duct, bends and all, to the joist's members on its way through; in a hole, of its tangent to the hole's wall; negative when it is cut into */
  readonly spareMm: number | null
}

/** A direction nearer than this to lying in the joist's plane never crosses it, as a share of its length. */
const ALONG_THE_PLANE = 1e-9

/** Every crossing of one run, from its start to its end. */
export function crossingsOf(context: CheckContext, runIndex: number): Crossing[] {
  return crossingsFrom(context, runIndex, false)
}

/** @param cutOnly leave out, before the work of finding what would fit, crossings with room for the duct on its present axis */
function crossingsFrom(context: CheckContext, runIndex: number, cutOnly: boolean): Crossing[] {
  const { placed } = context.runs[runIndex]
  const { elements, count } = placed.centreline
  const crossings: Crossing[] = []
  for (let i = 0; i < count; i++) {
    const list = joistsNear(context, runIndex, i)
    for (let j = 0; j < list.count; j++) {
      const joistIndex = list.items[j]
      for (const alongMm of planeCrossings(elements, i * ELEMENT_STRIDE, context.assembly.joists[joistIndex])) {
        const stationMm = elements[i * ELEMENT_STRIDE + STATION] + alongMm
        const isRepeat = crossings.some((c) => c.joistIndex === joistIndex && Math.abs(c.stationMm - stationMm) < SAME_POINT_MM)
        const crossing = isRepeat ? null : crossingAt(context, runIndex, joistIndex, stationMm, elements[i * ELEMENT_STRIDE + KIND] === ARC, cutOnly)
        if (crossing !== null) crossings.push(crossing)
      }
    }
  }
  return crossings.sort((a, b) => a.stationMm - b.stationMm || a.joistIndex - b.joistIndex)
}

/** Distances along one element where it passes the joist's middle plane, mm. */
function planeCrossings(elements: Float64Array, e: number, joist: PlacedJoist): number[] {
  const { origin, across } = joist
  const dot = (o: number): number => elements[e + o] * across[0] + elements[e + o + 1] * across[1] + elements[e + o + 2] * across[2]
  const plane = origin[0] * across[0] + origin[1] * across[1] + origin[2] * across[2]
  const lengthMm = elements[e + LENGTH]
  const isOn = (alongMm: number): boolean => alongMm >= -SAME_POINT_MM && alongMm <= lengthMm + SAME_POINT_MM
  if (elements[e + KIND] !== ARC) {
    const rate = dot(RADIAL_X)
    if (Math.abs(rate) < ALONG_THE_PLANE) return []
    const alongMm = (plane - dot(START_X)) / rate
    return isOn(alongMm) ? [alongMm] : []
  }
  // centre + radius * (cos t * radial + sin t * tangent) on the plane: swing * cos(t - peak) = plane - centre
  const radial = dot(RADIAL_X), tangent = dot(TANGENT_X), radius = elements[e + RADIUS]
  const swing = radius * Math.hypot(radial, tangent), need = plane - dot(CENTRE_X)
  if (swing < SAME_POINT_MM || Math.abs(need) > swing) return []
  const peak = Math.atan2(tangent, radial), half = Math.acos(need / swing)
  return [peak - half, peak + half].flatMap((t) => {
    const turned = t - 2 * Math.PI * Math.floor(t / (2 * Math.PI))
    return [turned, turned - 2 * Math.PI].map((angle) => angle * radius).filter((alongMm) => isOn(alongMm) && alongMm <= elements[e + TURN] * radius + SAME_POINT_MM).slice(0, 1)
  })
}

function crossingAt(context: CheckContext, runIndex: number, joistIndex: number, stationMm: number, inBend: boolean, cutOnly: boolean): Crossing | null {
  const { placed } = context.runs[runIndex]
  const joist = context.assembly.joists[joistIndex]
  const at: [number, number, number] = [0, 0, 0], direction = [0, 0, 0]
  pointAt(placed.centreline, stationMm, at)
  directionAt(placed.centreline, stationMm, direction)
  const { origin, along, across, section } = joist
  const x = (at[0] - origin[0]) * along[0] + (at[1] - origin[1]) * along[1], y = at[2] - origin[2]
  if (x < 0 || x > joist.lengthMm || y < 0 || y > section.depthMm) return null
  const rate = direction[0] * across[0] + direction[1] * across[1]
  if (Math.abs(rate) < ALONG_THE_PLANE) return null
  const shear = [(direction[0] * along[0] + direction[1] * along[1]) / rate, direction[2] / rate] as const
  const common = { joistIndex, stationMm, at, x, y, shear, inBend, ductDiameterMm: 2 * placed.outerRadiusMm }
  const none = { opening: null, hole: null, largestHereMm: null, largestStraightMm: null, spareMm: null }
  const hole = context.holesOfJoist.get(joistIndex)?.find((h) => Math.hypot(...offsetInHole(h, joist, x, y)) < h.radiusMm)
  if (hole !== undefined) return { ...common, ...none, ...fitInHole(hole, joist, x, y, shear, placed.outerRadiusMm) }
  const best = roomiestOpening(joist, x, y, shear)
  if (best === null) return { ...common, ...none }
  const spareMm = best.roomMm - placed.outerRadiusMm
  if (cutOnly && spareMm >= -ANSWER_ERROR_MM) return null
  const { number, opening } = joist.openings[best.index]
  largestOblique(opening, shear[0], shear[1], scratch)
  const largestHereMm = scratch[0]
  largestStraight(opening, scratch)
  const exactMm = spareThroughJoist(context, runIndex, joistIndex, stationMm)
  return { ...common, hole: null, opening: number, largestHereMm, largestStraightMm: scratch[0], spareMm: Number.isFinite(exactMm) ? exactMm : spareMm }
}

const scratch = new Float64Array(3)

/** The opening with most room for this axis; openings beside a free end of a web overlap. */
function roomiestOpening({ openings }: PlacedJoist, x: number, y: number, shear: readonly [number, number]): { index: number, roomMm: number } | null {
  let index = -1, roomMm = -Infinity
  for (let i = 0; i < openings.length; i++) {
    if (!holds(openings[i].opening, x, y)) continue
    crossingFit(openings[i].opening, x, y, shear[0], shear[1], scratch)
    if (!(scratch[0] > roomMm)) continue
    roomMm = scratch[0]
    index = i
  }
  return index < 0 ? null : { index, roomMm }
}

/** Whether the centreline is inside the opening where it meets the middle plane. */
function holds({ edges, edgeCount }: Opening, x: number, y: number): boolean {
  for (let e = 0; e < edgeCount * EDGE_STRIDE; e += EDGE_STRIDE) if (!(edges[e] * x + edges[e + 1] * y < edges[e + 2])) return false
  return edgeCount > 0
}

function offsetInHole(hole: PlacedHole, { origin, along }: PlacedJoist, x: number, y: number): [number, number] {
  const holeX = (hole.at[0] - origin[0]) * along[0] + (hole.at[1] - origin[1]) * along[1]
  return [x - holeX, y - (hole.at[2] - origin[2])]
}

/**
 * A straight duct in a round hole is tightest at the hole's two ends, h from the middle plane: there its section is an
 * ellipse r * sqrt(1 + s^2) long in the direction of the slant s, h * s from where it is in the middle. Centred it
 * takes r = (R - h * s) / sqrt(1 + s^2).
 */
function fitInHole(hole: PlacedHole, joist: PlacedJoist, x: number, y: number, shear: readonly [number, number], outerRadiusMm: number): Partial<Crossing> {
  const slant = Math.hypot(shear[0], shear[1])
  const largestRadiusMm = Math.max(0, (hole.radiusMm - hole.halfLengthMm * slant) / Math.hypot(1, slant))
  const [dx, dy] = offsetInHole(hole, joist, x, y)
  const roomMm = largestInRound(hole.radiusMm, -hole.halfLengthMm, hole.halfLengthMm, dx, dy, shear[0], shear[1])
  return { hole: hole.id, largestHereMm: 2 * largestRadiusMm, largestStraightMm: 2 * hole.radiusMm, spareMm: roomMm - outerRadiusMm }
}

/**
 * Openings that the duct cannot pass at its slant even if it were centred, where it does cut into the joist: a duct may also
 * wind its way between the plates of both faces, which no one opening tells of. In a bend only the opening's largest duct straight on
 * speaks, as no tangent is the whole bend.
 */
export function openingFaults(context: CheckContext, runIndex: number): Finding[] {
  const { placed } = context.runs[runIndex]
  const timesFound = new Map<string, number>()
  return crossingsFrom(context, runIndex, true).flatMap((crossing): Finding[] => {
    const joist = context.assembly.joists[crossing.joistIndex]
    const measured = crossing.inBend ? crossing.largestStraightMm : crossing.largestHereMm
    if (crossing.opening === null || measured === null || measured >= crossing.ductDiameterMm - ANSWER_ERROR_MM) return []
    if (!cutsNear(context, runIndex, joist, crossing)) return []
    const at = placeOf(crossing.at), ref = openingRef(joist, crossing.opening)
    const id = `opening-too-small:${placed.run.id}:${ref.id}/${ref.part}`
    const times = (timesFound.get(id) ?? 0) + 1
    timesFound.set(id, times)
    return [{
      id: times === 1 ? id : `${id}:${times}`, code: 'opening-too-small', severity: 'stop',
      parts: [runRef(placed), ref], at, mark: at, stationMm: crossing.stationMm, unit: 'mm', measured, required: crossing.ductDiameterMm,
      why: `the members round the opening leave no more at a slant of ${Math.round(Math.atan(Math.hypot(...crossing.shear)) * 180 / Math.PI)} degrees`,
    }]
  })
}

const answer = new Float64Array(ANSWER_SIZE)

/** Whether the run cuts into the joist while it passes through its thickness there. */
function cutsNear(context: CheckContext, runIndex: number, joist: PlacedJoist, { stationMm, shear }: Crossing): boolean {
  const { placed: { centreline, outerRadiusMm } } = context.runs[runIndex]
  const { solids } = context.assembly
  const reachMm = joistWidthMm(joist) * Math.hypot(1, ...shear) + outerRadiusMm
  for (let solidIndex = joist.firstSolid; solidIndex < joist.endSolid; solidIndex++) {
    if (context.isSound[solidIndex] === 0) continue
    const distanceMm = stretchToSolid(centreline, stationMm - reachMm, stationMm + reachMm, solids, solidIndex, outerRadiusMm, answer)
    if (distanceMm < outerRadiusMm - ANSWER_ERROR_MM) return true
  }
  return false
}
