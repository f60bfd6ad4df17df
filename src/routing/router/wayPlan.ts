/** What of a run's search stays the same however the other runs lie: where it may begin and end, and how far it is from anywhere. */
import type { Vec } from '../threadVector.ts'
import type { CellGraph, CostField } from './costField.ts'
import type { DuctRoom } from './ductRoom.ts'
import type { BayGroup } from './routeSpace.ts'

/** An end of a run: its spigot's mouth and the way out of it. */
export interface WayEnd {
  readonly at: Vec
  readonly axis: Vec
  /** straight duct wanted before the first bend */
  readonly straightMm: number
  /** how far from the mouth it may touch what the spigot is on, and leave the void */
  readonly zoneMm: number
  /** the body and collar that it is on */
  readonly exempt: ReadonlySet<number>
}

export interface WayPlan {
  readonly group: BayGroup
  readonly levels: readonly number[]
  readonly room: DuctRoom
  readonly from: WayEnd
  readonly to: WayEnd
  readonly bendRadiusMm: number
  readonly bendPriceMm: number
  readonly openingPriceMm: number
  /** how far out on its axis the first and the last corner may be */
  readonly startStops: readonly number[]
  readonly goalStops: readonly number[]
  readonly cells: CellGraph | null
  /** steers the search; null for as the crow flies */
  readonly field: CostField | null
  /** cost from the start, as the grid has it */
  readonly back: CostField | null
}

type PlanAsk = Pick<WayPlan, 'group' | 'levels' | 'cells' | 'room' | 'from' | 'to' | 'bendRadiusMm' | 'bendPriceMm' | 'openingPriceMm'>

/** @param slackMm so much clearance may be missing on the axes */
export function planWay(ask: PlanAsk, slackMm: number): WayPlan {
  const startStops = axisStops(ask.room, ask.from, ask.bendRadiusMm, slackMm), goalStops = axisStops(ask.room, ask.to, ask.bendRadiusMm, slackMm)
  const plan = { ...ask, startStops, goalStops, field: null, back: null }
  if (plan.cells === null || startStops.length === 0 || goalStops.length === 0) return plan
  const starts = startStops.map((t): Place => placeOn(plan.group, plan.from, t)), goals = goalStops.map((t): Place => placeOn(plan.group, plan.to, t))
  const back = plan.cells.fieldTo(starts.map((place, i) => [...place, startStops[i]]), goals, null, null)
  return { ...plan, back, field: fieldFor({ ...plan, back }, null) }
}

/** @param traffic what it costs to go where other ducts lie, by the cells' states; null for nothing */
export function fieldFor({ cells, group, from, to, startStops, goalStops, bendPriceMm, back }: WayPlan, traffic: Float32Array | null): CostField | null {
  if (cells === null || startStops.length === 0 || goalStops.length === 0) return null
  return cells.fieldTo(goalStops.map((t) => [...placeOn(group, to, t), t + bendPriceMm]), startStops.map((t) => placeOn(group, from, t)), traffic, back)
}

/** The same plan from another spigot near the one that it was made for. */
export function planFrom(plan: WayPlan, from: WayEnd, slackMm: number): WayPlan {
  return { ...plan, from, startStops: axisStops(plan.room, from, plan.bendRadiusMm, slackMm) }
}

/** About what the cheapest way costs, mm; Infinity where the plan knows none. */
export function guessOf({ group, from, startStops, field, bendPriceMm }: WayPlan): number {
  return startStops.reduce((least, t) => Math.min(least, t + bendPriceMm + (field === null ? 0 : field.costAt(...placeOn(group, from, t)))), Infinity)
}

type Place = readonly [u: number, v: number, z: number]

/** A place on the axis of an end, in the group's frame. */
function placeOn({ origin, along, across }: BayGroup, { at, axis }: WayEnd, t: number): Place {
  const x = at[0] + t * axis[0] - origin[0], y = at[1] + t * axis[1] - origin[1]
  return [x * along[0] + y * along[1], x * across[0] + y * across[1], at[2] + t * axis[2]]
}

/** How far out on its axis a duct may have its first corner. */
function axisStops(room: DuctRoom, { at, axis, straightMm, zoneMm, exempt }: WayEnd, bendRadiusMm: number, slackMm: number): number[] {
  const stops: number[] = []
  let proved = zoneMm
  for (let t = straightMm + 0.02 * bendRadiusMm, step = 25; t < FARTHEST_STOP_MM; t += step) {
    if (t > proved) {
      if (!room.legIsClear(at[0] + axis[0] * proved, at[1] + axis[1] * proved, at[2] + axis[2] * proved, at[0] + axis[0] * t, at[1] + axis[1] * t, at[2] + axis[2] * t, slackMm, exempt)) break
      proved = t
    }
    stops.push(t)
    step = t < 700 ? 25 : t < 2000 ? 50 : 100
  }
  return stops
}

const FARTHEST_STOP_MM = 9000
