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
  readonly at: readonly [number, number, number]
  readonly axis: readonly [number, number, number]
  readonly radiusMm: number
  readonly halfLengthMm: number
  readonly hosts: readonly number[]
}

export function roundOf(round: PlacedSleeve | PlacedHole): Round {
  if (!('sleeve' in round)) return round
  const { at, axis, hosts, sleeve } = round
  return { at, axis, hosts, radiusMm: sleeve.diameterMm / 2, halfLengthMm: sleeve.lengthMm / 2 }
}

export interface Contacts {
  /** what the run may touch and where, by solid index */
  readonly touching: ReadonlyMap<number, readonly Contact[]>
  /** the same stretches for what bounds the ceiling void: at its spigots, and in sleeves whether or not they have hosts */
  readonly mayLeave: readonly Contact[]
}

/** @param boundsMm bounds of the run's centreline */
export function contactsOf(assembly: Assembly, clearances: DuctClearances, placed: PlacedRun, boundsMm: Float64Array): Contacts {
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
  const passThrough = (round: Round, because: Contact['because']): void => {
    if (!isNear(round, boundsMm, placed.outerRadiusMm + clearances.mostMm)) return
    for (const requiredMm of new Set(round.hosts.map(requiredOf))) {
      const reachMm = round.halfLengthMm + placed.outerRadiusMm + requiredMm
      for (const { fromMm, toMm } of stretchInRound(placed.centreline, round.at, round.axis, reachMm, round.radiusMm)) {
        for (const host of round.hosts) if (requiredOf(host) === requiredMm) allow(host, fromMm, toMm, because)
      }
    }
  }
  for (const hole of assembly.holes) passThrough(hole, 'hole')
  for (const sleeve of assembly.sleeves) {
    const round = roundOf(sleeve)
    passThrough(round, 'sleeve')
    if (!isNear(round, boundsMm, placed.outerRadiusMm)) continue
    for (const { fromMm, toMm } of stretchInRound(placed.centreline, round.at, round.axis, round.halfLengthMm + placed.outerRadiusMm, round.radiusMm)) {
      mayLeave.push({ fromMm, toMm, because: 'sleeve' })
    }
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

/** Whether the ball round the hole's middle reaches the run's bounds: cheap, and never wrong when it says no. */
export function isNear({ at, radiusMm, halfLengthMm }: Round, boundsMm: Float64Array, reachMm: number): boolean {
  const reach = Math.hypot(radiusMm, halfLengthMm) + reachMm
  return at.every((c, k) => c >= boundsMm[k] - reach && c <= boundsMm[3 + k] + reach)
}

/** What is left of a run after the stretches where contact is allowed. */
export function stretchesOutside(contacts: readonly Contact[], lengthMm: number): [number, number][] {
  const left: [number, number][] = []
  let fromMm = 0
  for (const contact of [...contacts].sort((a, b) => a.fromMm - b.fromMm)) {
    if (contact.fromMm > fromMm) left.push([fromMm, contact.fromMm])
    fromMm = Math.max(fromMm, contact.toMm)
  }
  if (fromMm < lengthMm) left.push([fromMm, lengthMm])
  return left
}
