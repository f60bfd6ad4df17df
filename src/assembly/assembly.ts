/** What a job becomes before it is checked: named solids, centrelines, openings, and the places that ends must meet. */
import type { Centreline } from '#geometry/curve/centreline.ts'
import type { Bend } from '#geometry/curve/waypoints.ts'
import type { Opening } from '#geometry/fit/opening.ts'
import type { SolidSet } from '#geometry/solid/solidSet.ts'
import type { DuctType, Equipment, Job, Joist, JoistField, JoistSection, Run, Sleeve, Spigot } from '#model/index.ts'
import type { Parts } from './parts.ts'

/** A joist where it stands. Its own frame: x along it from the datum end, n across it to the left, y up from its underside. */
export interface PlacedJoist {
  readonly joist: Joist
  readonly field: JoistField
  readonly section: JoistSection
  readonly id: string
  readonly name: string
  readonly lengthMm: number
  /** datum end, on its axis, at its underside, mm */
  readonly origin: readonly [number, number, number]
  /** unit direction along it, in plan */
  readonly along: readonly [number, number, number]
  /** unit direction across it, to its left, in plan */
  readonly across: readonly [number, number, number]
  /** solids of this joist: indices firstSolid .. endSolid - 1 */
  readonly firstSolid: number
  readonly endSolid: number
  /** openings between its web members, numbered from the datum end; none but for open-web joists */
  readonly openings: readonly PlacedOpening[]
}

export interface PlacedOpening {
  /** 1 is nearest the datum end */
  readonly number: number
  /** in the joist's own x, y and n */
  readonly opening: Opening
}

export interface PlacedSpigot {
  readonly equipment: Equipment
  readonly spigot: Spigot
  /** site name: 'manifold M1, spigot 3' */
  readonly name: string
  /** middle of the mouth, mm */
  readonly at: readonly [number, number, number]
  /** unit direction out of the equipment */
  readonly axis: readonly [number, number, number]
  readonly bodySolid: number
  /** the collar as a solid, or -1 when it has no length */
  readonly collarSolid: number
}

export interface PlacedSleeve {
  readonly sleeve: Sleeve
  readonly at: readonly [number, number, number]
  readonly axis: readonly [number, number, number]
  /** solids it goes through */
  readonly hosts: readonly number[]
}

/** A drilled hole where it is: a cylinder square through its joist. */
export interface PlacedHole {
  readonly id: string
  readonly joistIndex: number
  readonly at: readonly [number, number, number]
  readonly axis: readonly [number, number, number]
  readonly radiusMm: number
  readonly halfLengthMm: number
  /** solids of that joist */
  readonly hosts: readonly number[]
}

export interface PlacedRun {
  readonly run: Run
  readonly type: DuctType
  readonly centreline: Centreline
  readonly bends: readonly Bend[]
  /** duct plus insulation, mm */
  readonly outerRadiusMm: number
  readonly from: PlacedSpigot | PlacedSleeve
  readonly to: PlacedSpigot | PlacedSleeve
}

export interface Assembly {
  /** the job it was made from */
  readonly job: Job
  /** every solid that a run may touch: joists first, then equipment, then loose solids; runs and zones are not in it */
  readonly solids: SolidSet
  /** what each solid is */
  readonly parts: Parts
  readonly joists: readonly PlacedJoist[]
  readonly spigots: readonly PlacedSpigot[]
  readonly sleeves: readonly PlacedSleeve[]
  readonly holes: readonly PlacedHole[]
  /** ceiling zones as prisms, in the job's order */
  readonly zones: SolidSet
  readonly runs: readonly PlacedRun[]
}
