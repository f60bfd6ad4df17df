/**
 * Which spigot of a manifold serves which run: the assignment whose runs are shortest together. Shortest together is also without
 * crossings in the open plane (of two that cross, changing ends shortens both), so that runs fan out.
 */
import type { PlacedSpigot } from '#assembly/assembly.ts'
import { isSpigot } from '#assembly/runs.ts'
import { SAME_SIZE_MM } from '#checks/connections.ts'
import type { Vec } from '../threadVector.ts'
import { cheapestAssignment } from './assignment.ts'
import type { Laying, RouteSpace } from './laying.ts'
import { guessOf } from './wayPlan.ts'

/** Never taken where there is another, mm. */
const NO_WAY_MM = 1e9

/**
 * The same runs with their spigots chosen; those of `fixed` keep theirs. Only spigots of the run's size that no run outside uses are
 * shared out, and those of the runs themselves first.
 */
export function withChosenPorts(space: RouteSpace, layings: readonly Laying[], fixed: ReadonlySet<string>): Laying[] {
  const chosen = [...layings]
  const { runEndsAt, assembly } = space.context
  const groups = new Map<string, number[]>()
  layings.forEach((laying, i) => {
    const { start, type } = laying
    if (!isSpigot(start) || start.equipment.kind !== 'manifold' || fixed.has(laying.run.id)) return
    const key = `${start.equipment.id} ${type.outerDiameterMm} ${laying.ends.radiusMm}`
    groups.set(key, [...groups.get(key) ?? [], i])
  })
  const keptPorts = new Set(layings.filter(({ run }) => fixed.has(run.id)).flatMap(({ from, to }) => [from, to]))
  for (const members of groups.values()) {
    const { start, type } = layings[members[0]]
    if (!isSpigot(start)) continue
    const ports = assembly.spigots.filter((spigot: PlacedSpigot) => spigot.equipment === start.equipment
      && Math.abs(spigot.spigot.diameterMm - type.outerDiameterMm) <= SAME_SIZE_MM && !runEndsAt.has(spigot) && !keptPorts.has(spigot))
    if (ports.length < members.length) continue
    const at = members.map((i) => ports.map((port) => layings[i].atSpigot(space, port)))
    const columns = cheapestAssignment(at.map((row) => row.map(({ plans }) => Math.min(NO_WAY_MM, ...plans.map(guessOf)))))
    members.forEach((i, k) => { chosen[i] = at[k][columns[k]] })
  }
  uncross(space, chosen, [...groups.values()])
  return chosen
}

const MOST_SWEEPS = 4

/** Along the joists and across them two ways may be equally short that cross and that do not: pairs are changed over while that leaves fewer crossings for their price. */
function uncross(space: RouteSpace, chosen: Laying[], groups: readonly (readonly number[])[]): void {
  const dearnessOf = (i: number): number => Math.min(NO_WAY_MM, ...chosen[i].plans.map(guessOf))
  const crossings = (i: number, j: number): number => chosen.reduce((sum, other, k) => {
    if (k === i) return sum
    return sum + (doCross(chosen[i], other) ? 1 : 0) + (k !== j && doCross(chosen[j], other) ? 1 : 0)
  }, 0)
  for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
    let isChanged = false
    for (const members of groups) for (const [a, i] of members.entries()) for (const j of members.slice(a + 1)) {
      const before = [chosen[i], chosen[j]], one = before[0].start, two = before[1].start
      if (!isSpigot(one) || !isSpigot(two)) continue
      const worth = dearnessOf(i) + dearnessOf(j) + CROSSING_MM * crossings(i, j)
      chosen[i] = before[0].atSpigot(space, two)
      chosen[j] = before[1].atSpigot(space, one)
      if (dearnessOf(i) + dearnessOf(j) + CROSSING_MM * crossings(i, j) < worth - 1) isChanged = true
      else [chosen[i], chosen[j]] = before
    }
    if (!isChanged) return
  }
}

/** more than its price alone: who crosses also hinders others */
const CROSSING_MM = 500

/** Whether the straight lines from end to end meet in plan. */
function doCross({ ends: a }: Laying, { ends: b }: Laying): boolean {
  const side = (p: Vec, q: Vec, r: Vec): number => (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])
  return side(a.from.at, a.to.at, b.from.at) * side(a.from.at, a.to.at, b.to.at) < 0 && side(b.from.at, b.to.at, a.from.at) * side(b.from.at, b.to.at, a.to.at) < 0
}
