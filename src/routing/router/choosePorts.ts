/**
 * Which spigot of a manifold serves which run: the assignment whose runs are shortest together. Shortest together is also without
 * crossings in the open plane (of two that cross, changing ends shortens both), so that runs fan out.
 */
import type { PlacedSpigot } from '#assembly/assembly.ts'
import { isSpigot } from '#assembly/runs.ts'
import { SAME_SIZE_MM } from '#checks/connections.ts'
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
  return chosen
}
