/**
 * How far within what is forbidden a place lies, for the middle line of a duct. Distance to a body changes by no more than one
 * moves, so a place that is deeper than t within a forbidden clearance has nothing allowed within t of it: what proofs are made of.
 */
import { isSpigot } from '#assembly/runs.ts'
import { faceRef } from '#checks/leavesVoid.ts'
import type { CheckContext } from '#checks/context.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { ANSWER_SIZE, elementDistance } from '#geometry/clearance/index.ts'
import { writeLeg } from '#geometry/curve/build.ts'
import { ELEMENT_STRIDE } from '#geometry/curve/centreline.ts'
import { sheetDistance } from '#geometry/envelope/sheetDistance.ts'
import { voidHolds } from '#geometry/envelope/voidEnvelope.ts'
import type { Vec } from '../threadVector.ts'
import type { ProvedRun } from './provedShut.ts'

/** rounding of distances, mm, against what is to be proved */
const HAIR_MM = 0.01

const leg = new Float64Array(ELEMENT_STRIDE), answer = new Float64Array(ANSWER_SIZE), foot = new Float64Array(3)
const found = new IndexList()

/** Balls in which a duct may be outside the void: about its ends and about sleeves. */
export interface WayOut { readonly at: Vec, readonly reachMm: number }

export function waysOut({ assembly: { sleeves, parts }, clearances }: CheckContext, runs: readonly ProvedRun[]): WayOut[] {
  return [
    ...runs.flatMap(({ from, to, outerRadiusMm }) => [from, to].flatMap((end) => isSpigot(end) ? [{ at: end.at, reachMm: outerRadiusMm + clearances.mm[parts.classCodeOf(end.bodySolid)] + end.spigot.lengthMm + HAIR_MM }] : [])),
    // within a sleeve's radius and no further beyond its ends than the duct's own (checks/contacts.ts)
    ...sleeves.map(({ at, sleeve }) => ({ at, reachMm: Math.hypot(sleeve.lengthMm / 2 + Math.max(0, ...runs.map(({ outerRadiusMm }) => outerRadiusMm)), sleeve.diameterMm / 2) + HAIR_MM })),
  ]
}

export class Forbidden {
  readonly #context: CheckContext
  readonly #radiusMm: number
  readonly #mayTouch: ReadonlySet<number>
  readonly #out: readonly WayOut[]
  /** places asked about */
  asked = 0
  /** the solid that forbids the place asked about last, or the sheet of the void; -1 for none */
  solid = -1
  sheet = -1

  /** @param mayTouch solids that the duct may touch somewhere: they forbid nothing */
  constructor(context: CheckContext, radiusMm: number, mayTouch: ReadonlySet<number>, out: readonly WayOut[]) {
    this.#context = context
    this.#radiusMm = radiusMm
    this.#mayTouch = mayTouch
    this.#out = out
  }

  /** Whether no place within `byMm` is allowed. */
  isShut(x: number, y: number, z: number, byMm: number): boolean {
    this.asked++
    this.solid = this.sheet = -1
    return this.#isInSolid(x, y, z, byMm) || this.#isOutside(x, y, z, byMm)
  }

  /** Whether every place within `byMm` is allowed, as far as solids and the void go. */
  isOpen(x: number, y: number, z: number, byMm: number): boolean {
    this.asked++
    if (this.#isInSolid(x, y, z, -byMm)) return false
    const { envelope } = this.#context
    return envelope === null || voidHolds(envelope, x, y, z) && this.#sheetWithin(x, y, z, this.#radiusMm + byMm) < 0
  }

  /** @param byMm negative: whether it comes nearer than what must be kept clear and that much more */
  #isInSolid(x: number, y: number, z: number, byMm: number): boolean {
    const { assembly: { solids, parts }, clearances, grid, isSound } = this.#context
    writeLeg(leg, 0, x, y, z, x, y, z, 0)
    const reachMm = Math.max(0, this.#radiusMm + clearances.mostMm - byMm)
    grid.near(x - reachMm, y - reachMm, z - reachMm, x + reachMm, y + reachMm, z + reachMm, found)
    for (let i = 0; i < found.count; i++) {
      const solid = found.items[i]
      if (isSound[solid] === 0 || this.#mayTouch.has(solid)) continue
      const belowMm = this.#radiusMm + clearances.mm[parts.classCodeOf(solid)] - byMm - HAIR_MM
      if (elementDistance(leg, 0, solids, solid, belowMm, answer) >= belowMm) continue
      this.solid = solid
      return true
    }
    return false
  }

  /** A duct is nowhere nearer to the edge of the void than its radius, but where it may leave it. */
  #isOutside(x: number, y: number, z: number, byMm: number): boolean {
    const { envelope } = this.#context
    if (envelope === null || this.#out.some(({ at, reachMm }) => Math.hypot(x - at[0], y - at[1], z - at[2]) <= reachMm + byMm)) return false
    const near = this.#sheetWithin(x, y, z, this.#radiusMm - byMm - HAIR_MM)
    if (near >= 0) {
      this.sheet = near
      return true
    }
    return !voidHolds(envelope, x, y, z) && this.#sheetWithin(x, y, z, byMm + HAIR_MM) < 0
  }

  /** A sheet nearer than that, or -1. */
  #sheetWithin(x: number, y: number, z: number, reachMm: number): number {
    const { envelope } = this.#context
    if (envelope === null || !(reachMm > 0)) return -1
    envelope.grid.near(x - reachMm, y - reachMm, z - reachMm, x + reachMm, y + reachMm, z + reachMm, found)
    for (let i = 0; i < found.count; i++) if (sheetDistance(envelope.sheets, found.items[i], x, y, z, foot) < reachMm) return found.items[i]
    return -1
  }

  /** Id of what forbids the place asked about last; null where it is only outside. */
  get ownerId(): string | null {
    const { assembly, envelope } = this.#context
    if (this.solid >= 0) return assembly.parts.ownerIdOf(this.solid)
    return this.sheet >= 0 && envelope !== null ? faceRef(this.#context, envelope, this.sheet).id : null
  }
}

/** Solids that any of the runs may touch somewhere: what its ends are on, hosts of sleeves and of drilled holes. @param mayChangePorts then all spigots of their equipment */
export function mayTouchOf({ assembly: { sleeves, holes, spigots } }: CheckContext, runs: readonly ProvedRun[], mayChangePorts: boolean): Set<number> {
  const ends = runs.flatMap(({ from, to }) => [from, to].filter(isSpigot)), equipment = new Set(ends.map((end) => end.equipment))
  const on = mayChangePorts ? spigots.filter((spigot) => equipment.has(spigot.equipment)) : ends
  return new Set([...[...sleeves, ...holes].flatMap(({ hosts }) => hosts), ...on.flatMap((spigot) => [spigot.bodySolid, ...spigot.collarSolid < 0 ? [] : [spigot.collarSolid]])])
}
