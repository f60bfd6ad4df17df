/** Spigots when not every run could be laid: a run that was left lying may have lost its spigot to one that was laid. */
import type { PlacedRun, PlacedSpigot } from '#assembly/assembly.ts'
import { followed, type EndPlace } from '#assembly/followed.ts'
import { isSpigot, placeRun } from '#assembly/runs.ts'

/**
 * The runs that were left lying, each with spigots that no other run has, as far as there are any: its own where that is free, else one
 * of the same size on the same equipment, with the course taken along at that end. No spigot is given twice, and where each run had one
 * of its own before, each has one afterwards: laid runs only change them among themselves and those that were free.
 * @param others every other run of the job, as it lies now
 * @param fixed ids of runs that stay on their spigots all the same
 * @param meant the spigot that was meant for a run, which is preferred to others that are free
 */
export function withOwnSpigots(spigots: readonly PlacedSpigot[], left: readonly PlacedRun[], others: readonly PlacedRun[], fixed: ReadonlySet<string>, meant: ReadonlyMap<string, PlacedSpigot>): PlacedRun[] {
  const taken = new Set<PlacedRun['from']>(others.flatMap(({ from, to }) => [from, to]))
  // those whose own spigots are free keep them, so that nobody else is given one of these
  const isSettled = left.map(({ run, from, to }) => {
    const isFree = [from, to].every((end) => !isSpigot(end) || !taken.has(end))
    if (isFree || fixed.has(run.id)) {
      taken.add(from)
      taken.add(to)
    }
    return isFree || fixed.has(run.id)
  })
  return left.map((placed, i) => isSettled[i] ? placed : ended(placed, (end) => {
    if (!isSpigot(end)) return end
    const isLike = (one: PlacedSpigot): boolean => one.equipment === end.equipment && one.spigot.diameterMm === end.spigot.diameterMm && !taken.has(one)
    const wanted = meant.get(placed.run.id)
    const own = !taken.has(end) ? end : wanted !== undefined && isLike(wanted) ? wanted : spigots.find(isLike) ?? end
    taken.add(own)
    return own
  }))
}

function ended(placed: PlacedRun, spigotFor: (end: PlacedRun['from']) => PlacedRun['from']): PlacedRun {
  let { run } = placed
  const ends = { from: spigotFor(placed.from), to: spigotFor(placed.to) }
  for (const side of ['from', 'to'] as const) {
    const was = placed[side], now = ends[side]
    if (now === was || !isSpigot(now)) continue
    run = { ...run, [side]: { equipment: now.equipment.id, spigot: now.spigot.id }, waypoints: followed(run.waypoints, side, endPlace(was), endPlace(now), true) }
  }
  return run === placed.run ? placed : placeRun(run, placed.type, ends.from, ends.to)
}

function endPlace({ at: [x, y, z], axis: [ax, ay, az] }: PlacedRun['from']): EndPlace {
  return { at: [x, y, z], axis: [ax, ay, az] }
}
