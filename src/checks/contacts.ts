/**
 * Contacts that a run is allowed, and only there:
 * - at each end that is on a spigot: that spigot's collar and the body it is on, for the collar zone, the stretch within
 *   outer radius + required clearance + collar length of that end;
 * - a declared sleeve's hosts, and a drilled hole's joist, while the centreline is inside the round, and for outer radius +
 *   required clearance beyond each of its faces while still within its radius.
 * Anything else that the same run does to the same solid is judged like any other clearance.
 */
import type { Assembly, PlacedHole, PlacedRun, PlacedSleeve, PlacedSpigot } from '#assembly/assembly.ts'
import { isSpigot } from '#assembly/runs.ts'
import { BoxIndex } from '#geometry/broad/boxIndex.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { ELEMENT_STRIDE, LENGTH, STATION, type Centreline } from '#geometry/curve/centreline.ts'
import { clipped } from '#geometry/curve/measure.ts'
import { stretchInRound } from '#geometry/envelope/stretchInRound.ts'
import { type DuctClearances } from './requirement.ts'

export interface Contact {
  /** stretch of the run, stations in mm */
  readonly fromMm: number
  readonly toMm: number
  readonly because: 'spigot' | 'sleeve' | 'hole'
}

/** A round hole that runs may pass: a sleeve, or a hole drilled through a joist. */
export interface Round {
  readonly of: PlacedSleeve | PlacedHole
  readonly at: readonly [number, number, number]
  readonly axis: readonly [number, number, number]
  readonly radiusMm: number
  readonly halfLengthMm: number
  readonly hosts: readonly number[]
}

export interface NearRound extends Round {
  /** the part of the run that comes near it, with the stations of the whole run */
  readonly part: Centreline
}

/** Finds the rounds near a run. */
export class Rounds {
  readonly #rounds: readonly Round[]
  readonly #index: BoxIndex

  constructor({ sleeves, holes }: Assembly) {
    this.#rounds = [
      ...sleeves.map((of) => ({ of, at: of.at, axis: of.axis, hosts: of.hosts, radiusMm: of.sleeve.diameterMm / 2, halfLengthMm: of.sleeve.lengthMm / 2 })),
      ...holes.map((of) => ({ of, at: of.at, axis: of.axis, hosts: of.hosts, radiusMm: of.radiusMm, halfLengthMm: of.halfLengthMm })),
    ]
    const boxes = new Float64Array(6 * this.#rounds.length)
    this.#rounds.forEach(({ at, radiusMm, halfLengthMm }, i) => {
      const ball = Math.hypot(radiusMm, halfLengthMm)
      for (let k = 0; k < 3; k++) {
        boxes[6 * i + k] = at[k] - ball
        boxes[6 * i + 3 + k] = at[k] + ball
      }
    })
    this.#index = new BoxIndex(boxes)
  }

  /** Every round that the run comes within `reachMm` of, and the part of the run that may; in the job's order, sleeves first. */
  near(curve: Centreline, elementBoundsMm: Float64Array, reachMm: number): NearRound[] {
    if (this.#rounds.length === 0) return []
    const stretches = new Map<number, [number, number]>()
    for (let b = 0; b < elementBoundsMm.length; b += 6) {
      this.#index.near(
        elementBoundsMm[b] - reachMm, elementBoundsMm[b + 1] - reachMm, elementBoundsMm[b + 2] - reachMm,
        elementBoundsMm[b + 3] + reachMm, elementBoundsMm[b + 4] + reachMm, elementBoundsMm[b + 5] + reachMm, found,
      )
      const e = b / 6 * ELEMENT_STRIDE, fromMm = curve.elements[e + STATION], toMm = fromMm + curve.elements[e + LENGTH]
      for (let i = 0; i < found.count; i++) {
        const stretch = stretches.get(found.items[i])
        if (stretch === undefined) stretches.set(found.items[i], [fromMm, toMm])
        else stretch[1] = toMm
      }
    }
    return [...stretches].sort((a, b) => a[0] - b[0]).map(([i, [fromMm, toMm]]) => ({ ...this.#rounds[i], part: clipped(curve, fromMm, toMm) }))
  }
}

const found = new IndexList()

export interface Contacts {
  /** what the run may touch and where, by solid index */
  readonly touching: ReadonlyMap<number, readonly Contact[]>
  /** the same stretches for what bounds the ceiling void: at its spigots, and in sleeves whether or not they have hosts */
  readonly mayLeave: readonly Contact[]
}

/** @param rounds those that the run comes near to, within its outer radius and the largest clearance */
export function contactsOf(assembly: Assembly, clearances: DuctClearances, placed: PlacedRun, rounds: readonly NearRound[]): Contacts {
  const contacts = new Map<number, Contact[]>(), mayLeave: Contact[] = []
  const allow = (solidIndex: number, fromMm: number, toMm: number, because: Contact['because']): void => {
    const there = contacts.get(solidIndex)
    if (there === undefined) contacts.set(solidIndex, [{ fromMm, toMm, because }])
    else there.push({ fromMm, toMm, because })
  }
  const requiredOf = (solidIndex: number): number => clearances.mm[assembly.parts.classCodeOf(solidIndex)]
  const { lengthMm } = placed.centreline
  for (const end of ['from', 'to'] as const) {
    const spigot = placed[end]
    if (!isSpigot(spigot)) continue
    const zoneMm = collarZoneMm(placed, spigot, requiredOf(spigot.bodySolid))
    const fromMm = end === 'from' ? 0 : Math.max(0, lengthMm - zoneMm), toMm = end === 'from' ? Math.min(zoneMm, lengthMm) : lengthMm
    for (const solidIndex of solidsOf(spigot)) allow(solidIndex, fromMm, toMm, 'spigot')
    mayLeave.push({ fromMm, toMm, because: 'spigot' })
  }
  for (const { of, at, axis, halfLengthMm, radiusMm, hosts, part } of rounds) {
    const within = (beyondMm: number) => stretchInRound(part, at, axis, halfLengthMm + placed.outerRadiusMm + beyondMm, radiusMm)
    const because = 'sleeve' in of ? 'sleeve' : 'hole'
    for (const requiredMm of new Set(hosts.map(requiredOf))) {
      for (const { fromMm, toMm } of within(requiredMm)) {
        for (const host of hosts) if (requiredOf(host) === requiredMm) allow(host, fromMm, toMm, because)
      }
    }
    if (because === 'sleeve') for (const { fromMm, toMm } of within(0)) mayLeave.push({ fromMm, toMm, because })
  }
  return { touching: contacts, mayLeave }
}

/** How far from its end a run may touch the spigot that it is on, mm along the run. */
export function collarZoneMm(placed: PlacedRun, { spigot }: PlacedSpigot, requiredMm: number): number {
  return placed.outerRadiusMm + requiredMm + spigot.lengthMm
}

function solidsOf({ bodySolid, collarSolid }: PlacedSpigot): number[] {
  return collarSolid < 0 ? [bodySolid] : [bodySolid, collarSolid]
}

/** What is left between two stations after the stretches where contact is allowed. */
export function stretchesOutside(contacts: readonly Contact[], startMm: number, endMm: number): [number, number][] {
  const left: [number, number][] = []
  let fromMm = startMm
  for (const contact of [...contacts].sort((a, b) => a.fromMm - b.fromMm)) {
    if (contact.fromMm > fromMm) left.push([fromMm, Math.min(endMm, contact.fromMm)])
    fromMm = Math.max(fromMm, contact.toMm)
    if (fromMm >= endMm) return left
  }
  left.push([fromMm, endMm])
  return left
}
