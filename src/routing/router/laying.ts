/** A run that is being laid, and the room it is laid in. */
import type { PlacedRun, PlacedSpigot } from '#assembly/assembly.ts'
import { isSpigot, placeRun } from '#assembly/runs.ts'
import type { CheckContext } from '#checks/context.ts'
import { PAIR_ANSWER_SIZE, elementsDistance } from '#geometry/clearance/index.ts'
import { centrelineOf } from '#geometry/curve/build.ts'
import { ELEMENT_STRIDE } from '#geometry/curve/centreline.ts'
import { elementBounds } from '#geometry/curve/measure.ts'
import type { DuctType, Run } from '#model/index.ts'
import type { Vec } from '../threadVector.ts'
import { CellGraph } from './costField.ts'
import { Course, type CourseEnds } from './course.ts'
import { DuctRoom } from './ductRoom.ts'
import { bayGroups, type BayGroup } from './routeSpace.ts'
import type { FixedDuct } from './settleJudge.ts'
import { levelsFor, outerRadiusMm, wayEnd } from './wayEnds.ts'
import { planFrom, planWay, type WayPlan } from './wayPlan.ts'

export interface Prices { readonly bendMm: number, readonly crossingMm: number, readonly openingMm: number }

/** Clearance that may be missing in a search: `settle` makes it good. */
export const SLACK_MM = 6

/** What stands still while runs are laid, as each size of duct meets it. */
export class RouteSpace {
  readonly context: CheckContext
  readonly prices: Prices
  readonly groups: readonly BayGroup[]
  readonly #bySize = new Map<number, { room: DuctRoom, levels: number[][], cells: (CellGraph | null)[] }>()

  constructor(context: CheckContext, prices: Prices) {
    this.context = context
    this.prices = prices
    this.groups = bayGroups(context)
  }

  /** Plans of one run's search, one for each group of bays. */
  plansFor(ends: CourseEnds, isReversed: boolean): WayPlan[] {
    const { room, levels, cells } = this.#sizeOf(ends.radiusMm)
    const groups = this.groups.length > 0 ? this.groups : [openGroup(ends)]
    return groups.map((group, i) => planWay({
      group, levels: levels[i] ?? levelsFor(this.context, group, ends.radiusMm), cells: cells[i] ?? null, room,
      from: isReversed ? ends.to : ends.from, to: isReversed ? ends.from : ends.to, bendRadiusMm: ends.bendRadiusMm,
      bendPriceMm: this.prices.bendMm, openingPriceMm: this.prices.openingMm,
    }, SLACK_MM))
  }

  #sizeOf(radiusMm: number): { room: DuctRoom, levels: number[][], cells: (CellGraph | null)[] } {
    let size = this.#bySize.get(radiusMm)
    if (size === undefined) {
      const room = new DuctRoom(this.context, radiusMm)
      const levels = this.groups.map((group) => levelsFor(this.context, group, radiusMm))
      size = { room, levels, cells: this.groups.map((group, i) => new CellGraph(group, levels[i], room, SLACK_MM, this.prices.bendMm)) }
      this.#bySize.set(radiusMm, size)
    }
    return size
  }
}

function isManifold(end: PlacedRun['from']): boolean {
  return isSpigot(end) && end.equipment.kind === 'manifold'
}

/** A void without joists: a group of its own, along the way from end to end. */
function openGroup({ from, to }: CourseEnds): BayGroup {
  const dx = to.at[0] - from.at[0], dy = to.at[1] - from.at[1], size = Math.hypot(dx, dy)
  const along: Vec = size > 1 ? [dx / size, dy / size, 0] : [1, 0, 0]
  return { along, across: [-along[1], along[0], 0], origin: from.at, lines: [], u0: -OPEN_MM, u1: size + OPEN_MM }
}

/** how far beyond its ends a run in a void without joists may go, mm */
const OPEN_MM = 2000

type SemiRigid = Extract<DuctType, { kind: 'semi-rigid' }>

export class Laying {
  readonly run: Run
  readonly type: SemiRigid
  readonly from: PlacedRun['from']
  readonly to: PlacedRun['to']
  readonly ends: CourseEnds
  readonly isReversed: boolean
  readonly plans: readonly WayPlan[]
  course: Course | null = null

  /** @param last the same run's laying at another spigot, where the search begins */
  constructor(space: RouteSpace, run: Run, type: SemiRigid, from: PlacedRun['from'], to: PlacedRun['to'], last?: Laying) {
    this.run = run
    this.type = type
    this.from = from
    this.to = to
    this.ends = {
      from: wayEnd(space.context, type, from, to.at), to: wayEnd(space.context, type, to, from.at),
      radiusMm: outerRadiusMm(type), bendRadiusMm: type.minBendRadiusMm,
    }
    // from the box that shares the air among runs, where they may change spigots; else from an upright spigot, where any way is open
    this.isReversed = last?.isReversed ?? (isManifold(from) !== isManifold(to) ? isManifold(to) : Math.abs(this.ends.to.axis[2]) > Math.abs(this.ends.from.axis[2]) + 0.1)
    this.plans = last === undefined ? space.plansFor(this.ends, this.isReversed)
      : last.plans.map((plan) => planFrom(plan, this.isReversed ? this.ends.to : this.ends.from, SLACK_MM))
  }

  /** Where the search begins. */
  get start(): PlacedRun['from'] {
    return this.isReversed ? this.to : this.from
  }

  /** The same run from another spigot of what it begins at. */
  atSpigot(space: RouteSpace, spigot: PlacedSpigot): Laying {
    const end = { equipment: spigot.equipment.id, spigot: spigot.spigot.id }
    return this.isReversed ? new Laying(space, { ...this.run, to: end }, this.type, this.from, spigot, this)
      : new Laying(space, { ...this.run, from: end }, this.type, spigot, this.to, this)
  }

  /** @param points as the search gives them, from where it began */
  courseOf(points: readonly Vec[]): Course {
    return new Course(this.ends, this.isReversed ? [...points].reverse() : points)
  }

  placed(course = this.course!): PlacedRun {
    const waypoints = course.points.map(([x, y, z]) => ({ at: [x, y, z] as [number, number, number] }))
    return placeRun({ ...this.run, waypoints }, this.type, this.from, this.to)
  }
}

/** Two runs nearer than this deep are not merely pushed apart, mm. */
const DEEP_MM = 14

/** Those of the others that a laid run goes so far into that one of the two must be laid again. */
export function inTheWayOf({ course }: Laying, others: readonly Laying[], gapMm: number): Laying[] {
  return others.filter((other) => course !== null && other.course !== null && other.course !== course && missingBetween(course, other.course, gapMm) > DEEP_MM)
}

/** Laid runs as ducts that stand still. */
export function standingDucts(layings: readonly Laying[]): FixedDuct[] {
  return layings.flatMap(({ course, ends }) => course === null ? [] : [{ curve: centrelineOf(course.elements, course.elementCount), radiusMm: ends.radiusMm }])
}

const answer = new Float64Array(PAIR_ANSWER_SIZE)
const a6 = new Float64Array(6), b6 = new Float64Array(6)

/** How much clearance is missing between two courses where they are nearest, mm; 0 where none is. */
export function missingBetween(a: Course, b: Course, gapMm: number): number {
  const neededMm = a.ends.radiusMm + b.ends.radiusMm + gapMm
  let leastMm = neededMm
  for (let i = 0; i < a.elementCount; i++) {
    elementBounds(a.elements, i * ELEMENT_STRIDE, a6)
    for (let j = 0; j < b.elementCount; j++) {
      elementBounds(b.elements, j * ELEMENT_STRIDE, b6)
      if (a6[0] - leastMm > b6[3] || a6[3] + leastMm < b6[0] || a6[1] - leastMm > b6[4] || a6[4] + leastMm < b6[1] || a6[2] - leastMm > b6[5] || a6[5] + leastMm < b6[2]) continue
      const mm = elementsDistance(a.elements, i * ELEMENT_STRIDE, b.elements, j * ELEMENT_STRIDE, leastMm, answer)
      if (mm < leastMm) leastMm = mm
    }
  }
  return neededMm - leastMm
}
