/**
 * Runs that end at an intake and an exhaust outdoors which stand nearer to each other than the job allows: no course cures that. Where another
 * terminal of the same air has a free spigot of the run's size far enough off, the run is taken there.
 */
import type { PlacedRun, PlacedSpigot } from '#assembly/assembly.ts'
import { isSpigot, placeRun } from '#assembly/runs.ts'
import { SAME_SIZE_MM } from '#checks/connections.ts'
import type { CheckContext } from '#checks/context.ts'
import type { Finding } from '#checks/finding.ts'
import { outdoorFaults } from '#checks/terminals.ts'
import type { RunEnd } from '#model/index.ts'
import { apart } from '../threadVector.ts'

/** Which pairs of terminals, both with runs that end there, are too near: by the id of each run. */
export function tooNearOutdoors(context: CheckContext, runs: readonly PlacedRun[]): Map<string, Finding> {
  const found = new Map<string, Finding>()
  for (const fault of tooNear(context)) {
    const [intake, exhaust] = fault.parts.map(({ id }) => runs.filter((placed) => endAt(placed, id) !== null))
    if (intake.length > 0 && exhaust.length > 0) for (const { run } of [...intake, ...exhaust]) if (!found.has(run.id)) found.set(run.id, fault)
  }
  return found
}

function tooNear(context: CheckContext): Finding[] {
  return outdoorFaults(context).filter(({ code }) => code === 'outdoor-too-near')
}

function endAt({ from, to }: PlacedRun, equipmentId: string): 'from' | 'to' | null {
  return isSpigot(from) && from.equipment.id === equipmentId ? 'from' : isSpigot(to) && to.equipment.id === equipmentId ? 'to' : null
}

/**
 * The asked runs, those that may change taken to terminals that keep the rule, the nearest to their other ends; one run is taken elsewhere before two are.
 * @returns in the order of `asked`
 */
export function withTerminalsApart(context: CheckContext, asked: readonly PlacedRun[], mayChange: (placed: PlacedRun) => boolean): PlacedRun[] {
  const runs = [...asked], ids = new Set(asked.map(({ run }) => run.id))
  const others = context.runs.flatMap(({ placed }) => ids.has(placed.run.id) ? [] : [placed])
  const countOf = (list: readonly PlacedRun[]): number => tooNearOutdoors(context, [...others, ...list]).size
  for (let count = countOf(runs); count > 0;) {
    const bad = tooNearOutdoors(context, [...others, ...runs])
    const moves = runs.flatMap((placed, i) => bad.has(placed.run.id) && mayChange(placed) ? elsewhere(context, [...others, ...runs], placed).map((moved) => ({ i, moved, mm: spanOf(moved) })) : [])
    const tries = [...moves.map((one) => [one]), ...moves.flatMap((one, k) => moves.slice(k + 1).filter(({ i, moved }) => i !== one.i && !shareSpigot(moved, one.moved)).map((two) => [one, two]))]
    const better = tries.map((list) => ({ list, count: countOf(runs.map((placed, i) => list.find((one) => one.i === i)?.moved ?? placed)), mm: list.reduce((sum, { mm }) => sum + mm, 0) }))
      .filter((one) => one.count < count).sort((a, b) => a.count - b.count || a.list.length - b.list.length || a.mm - b.mm)
    if (better.length === 0) break
    for (const { i, moved } of better[0].list) runs[i] = moved
    count = better[0].count
  }
  return runs
}

function spanOf({ from, to }: PlacedRun): number {
  return apart(from.at, to.at)
}

function shareSpigot(a: PlacedRun, b: PlacedRun): boolean {
  return [a.from, a.to].some((end) => end === b.from || end === b.to)
}

/** The run at each other outdoor terminal of its air that has a free spigot of its size. */
function elsewhere({ assembly }: CheckContext, all: readonly PlacedRun[], placed: PlacedRun): PlacedRun[] {
  const { run, type } = placed
  const used = new Set<PlacedRun['from']>(all.flatMap(({ from, to }) => [from, to]))
  return (['from', 'to'] as const).flatMap((end) => {
    const present = placed[end]
    if (!isSpigot(present) || present.equipment.kind !== 'outdoor-terminal') return []
    return assembly.spigots.filter(({ equipment, spigot }) => equipment.kind === 'outdoor-terminal' && equipment !== present.equipment && equipment.air === present.equipment.air
      && Math.abs(spigot.diameterMm - type.outerDiameterMm) <= SAME_SIZE_MM).filter((spigot) => !used.has(spigot)).map((spigot: PlacedSpigot) => {
      const ends = { from: end === 'from' ? spigot : placed.from, to: end === 'to' ? spigot : placed.to }
      const place: RunEnd = { equipment: spigot.equipment.id, spigot: spigot.spigot.id }
      const waypoints = [ends.from, ends.to].map(({ at: [x, y, z] }) => ({ at: [x, y, z] as [number, number, number] }))
      return placeRun({ ...run, [end]: place, waypoints }, type, ends.from, ends.to)
    })
  })
}
