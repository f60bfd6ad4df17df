/** What every check needs of an assembly, built once; after one run changed all but that run's part is kept. */
import type { Assembly, PlacedHole, PlacedRun, PlacedSpigot } from '#assembly/assembly.ts'
import { isSpigot } from '#assembly/runs.ts'
import { BoxIndex } from '#geometry/broad/boxIndex.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { SolidGrid } from '#geometry/broad/solidGrid.ts'
import { ELEMENT_STRIDE } from '#geometry/curve/centreline.ts'
import { curveBounds } from '#geometry/curve/measure.ts'
import { voidEnvelope, type VoidEnvelope } from '#geometry/envelope/voidEnvelope.ts'
import { SolidSetBuilder } from '#geometry/solid/build.ts'
import { ringsOf, whyDegenerate } from '#geometry/solid/degenerate.ts'
import type { SolidSet } from '#geometry/solid/solidSet.ts'
import { contactsOf, Rounds, type Contact, type NearRound } from './contacts.ts'
import { ductClearances, type DuctClearances } from './requirement.ts'

/** A run with what the checks look up of it. */
export interface CheckedRun {
  readonly placed: PlacedRun
  /** bounds of the centreline, no radius added, then of each element: 6 numbers each */
  readonly boundsMm: Float64Array
  readonly elementBoundsMm: Float64Array
  /** sleeves and drilled holes that it comes near to */
  readonly rounds: readonly NearRound[]
  /** stretches of the run that may touch certain solids, by solid index */
  readonly contacts: ReadonlyMap<number, readonly Contact[]>
  /** stretches where it may be outside the ceiling void */
  readonly mayLeave: readonly Contact[]
}

export interface CheckContext {
  readonly assembly: Assembly
  readonly clearances: DuctClearances
  /** finds the assembly's solids near a place */
  readonly grid: SolidGrid
  /** 1 for each solid that is a proper body; the others are named in findings and left out of every other check */
  readonly isSound: Uint8Array
  /** the unsound ones: solid index -> why */
  readonly unsound: ReadonlyMap<number, string>
  /** each joist's index for its solids, -1 for the others */
  readonly joistOfSolid: Int32Array
  /** the middle plane of every joist */
  readonly joistPlanes: BoxIndex
  readonly rounds: Rounds
  readonly holesOfJoist: ReadonlyMap<number, readonly PlacedHole[]>
  /** null when the job has no ceiling zones that are proper bodies; its `sheetZone` counts the sound ones only */
  readonly envelope: VoidEnvelope | null
  /** the sound zones, by index into the job's */
  readonly soundZones: readonly number[]
  /** runs in the job's order; a run that ends twice on one spigot stands there twice */
  readonly runEndsAt: ReadonlyMap<PlacedSpigot, readonly number[]>
  readonly runs: readonly CheckedRun[]
}

export function contextFor(assembly: Assembly): CheckContext {
  const { solids, joists, holes, zones } = assembly
  const clearances = ductClearances(assembly.job.settings)
  const unsound = new Map<number, string>()
  const isSound = new Uint8Array(solids.count).fill(1)
  for (let i = 0; i < solids.count; i++) {
    const why = whyDegenerate(solids, i)
    if (why === null) continue
    unsound.set(i, why)
    isSound[i] = 0
  }
  const joistOfSolid = new Int32Array(solids.count).fill(-1)
  const builder = new SolidSetBuilder()
  joists.forEach(({ origin, along, across, lengthMm, section, firstSolid, endSolid }, joistIndex) => {
    joistOfSolid.fill(joistIndex, firstSolid, endSolid)
    const half = section.depthMm / 2
    const centre = [origin[0] + along[0] * lengthMm / 2, origin[1] + along[1] * lengthMm / 2, origin[2] + half]
    builder.addBox(centre, [lengthMm / 2, HALF_JOIST_BOX_MM, half], [...along, ...across, 0, 0, 1])
  })
  const rounds = new Rounds(assembly)
  const soundZones = Array.from({ length: zones.count }, (_, i) => i).filter((i) => whyDegenerate(zones, i) === null)
  const holesOfJoist = new Map<number, PlacedHole[]>()
  for (const hole of holes) holesOfJoist.set(hole.joistIndex, [...holesOfJoist.get(hole.joistIndex) ?? [], hole])
  return {
    assembly, clearances, unsound, isSound, joistOfSolid, rounds, holesOfJoist,
    grid: new SolidGrid(solids), joistPlanes: new BoxIndex(builder.build().bounds),
    soundZones, envelope: soundZones.length === 0 ? null : voidEnvelope(subset(zones, soundZones)),
    runEndsAt: runEndsOf(assembly.runs),
    runs: assembly.runs.map((placed) => checkedRun(assembly, clearances, rounds, placed)),
  }
}

/** A crossing is of the joist's middle plane, so its box need only hold that. */
const HALF_JOIST_BOX_MM = 1

/** Some of a set of prisms as a set of their own. */
function subset(set: SolidSet, which: readonly number[]): SolidSet {
  if (which.length === set.count) return set
  const builder = new SolidSetBuilder()
  for (const i of which) {
    const { data } = set, s = set.offset[i]
    builder.addPrism(data.subarray(s, s + 3), data.subarray(s + 3, s + 12), data[s + 12], data[s + 13], ringsOf(data, s))
  }
  return builder.build()
}

/** The same context after one run changed; `placed` takes the place of run `runIndex`. Only that run is worked out anew. */
export function withRun(context: CheckContext, runIndex: number, placed: PlacedRun): CheckContext {
  const before = context.runs[runIndex].placed
  const assembly = { ...context.assembly, runs: context.assembly.runs.with(runIndex, placed) }
  const isWhereItWas = before.from === placed.from && before.to === placed.to
  return {
    ...context, assembly,
    runs: context.runs.with(runIndex, checkedRun(assembly, context.clearances, context.rounds, placed)),
    runEndsAt: isWhereItWas ? context.runEndsAt : runEndsOf(assembly.runs),
  }
}

/** The same context with one run more, as the last; only that run is worked out. */
export function withOneMore(context: CheckContext, placed: PlacedRun): CheckContext {
  const assembly = { ...context.assembly, runs: [...context.assembly.runs, placed] }
  return {
    ...context, assembly,
    runs: [...context.runs, checkedRun(assembly, context.clearances, context.rounds, placed)],
    runEndsAt: runEndsOf(assembly.runs),
  }
}

function checkedRun(assembly: Assembly, clearances: DuctClearances, allRounds: Rounds, placed: PlacedRun): CheckedRun {
  const { elements, count } = placed.centreline
  const bounds = curveBounds(elements, count), elementBoundsMm = bounds.subarray(0, 6 * count), boundsMm = bounds.subarray(6 * count)
  const rounds = allRounds.near(placed.centreline, elementBoundsMm, placed.outerRadiusMm + clearances.mostMm)
  const { touching, mayLeave } = contactsOf(assembly, clearances, placed, rounds)
  return { placed, boundsMm, elementBoundsMm, rounds, contacts: touching, mayLeave }
}

function runEndsOf(runs: readonly PlacedRun[]): Map<PlacedSpigot, number[]> {
  const ends = new Map<PlacedSpigot, number[]>()
  runs.forEach(({ from, to }, runIndex) => {
    for (const end of [from, to]) {
      if (!isSpigot(end)) continue
      const there = ends.get(end)
      if (there === undefined) ends.set(end, [runIndex])
      else there.push(runIndex)
    }
  })
  return ends
}

/** Whether two boxes of 6 bounds, the first grown by `growMm`, have a point in common. */
export function boundsMeet(a: Float64Array, ai: number, b: Float64Array, bi: number, growMm: number): boolean {
  for (let k = 0; k < 3; k++) {
    if (a[ai + k] - growMm > b[bi + 3 + k] || a[ai + 3 + k] + growMm < b[bi + k]) return false
  }
  return true
}

const found = new IndexList()

/** Solids that may come within `reachMm` of one element of a run; the list is overwritten by the next call. */
export function solidsNear(context: CheckContext, runIndex: number, elementIndex: number, reachMm: number): IndexList {
  context.grid.nearElement(context.runs[runIndex].placed.centreline.elements, elementIndex * ELEMENT_STRIDE, reachMm, found)
  return found
}

/** Joists whose middle plane may be met by one element of a run; the list is overwritten by the next call. */
export function joistsNear(context: CheckContext, runIndex: number, elementIndex: number): IndexList {
  const bounds = context.runs[runIndex].elementBoundsMm, b = 6 * elementIndex
  context.joistPlanes.near(bounds[b], bounds[b + 1], bounds[b + 2], bounds[b + 3], bounds[b + 4], bounds[b + 5], found)
  return found
}
