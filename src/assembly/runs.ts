/** Runs -> centrelines with the bend radii that their duct types give, and the places where they end. */
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import type { DuctType, Job, Run, RunEnd } from '#model/index.ts'
import type { PlacedRun, PlacedSleeve, PlacedSpigot } from './assembly.ts'

export function placeRuns(job: Job, spigots: readonly PlacedSpigot[], sleeves: readonly PlacedSleeve[]): PlacedRun[] {
  const types = new Map<string, DuctType>(job.ductTypes.map((type) => [type.id, type]))
  const spigotOf = new Map(spigots.map((s) => [`${s.equipment.id}/${s.spigot.id}`, s]))
  const sleeveOf = new Map<string, PlacedSleeve>(sleeves.map((s) => [s.sleeve.id, s]))
  const endOf = (end: RunEnd): PlacedSpigot | PlacedSleeve => {
    const found = 'sleeve' in end ? sleeveOf.get(end.sleeve) : spigotOf.get(`${end.equipment}/${end.spigot}`)
    if (found === undefined) throw new Error(`placeRuns: the job has no ${'sleeve' in end ? `sleeve ${end.sleeve}` : `spigot ${end.spigot} on ${end.equipment}`}`)
    return found
  }
  return job.runs.map((run) => {
    const type = types.get(run.type)
    if (type === undefined) throw new Error(`placeRuns: run ${run.id} names duct type ${run.type}, which the job does not have`)
    return placeRun(run, type, endOf(run.from), endOf(run.to))
  })
}

/** One run again, for instance after a waypoint moved. */
export function placeRun(run: Run, type: DuctType, from: PlacedRun['from'], to: PlacedRun['to']): PlacedRun {
  const points = run.waypoints.flatMap((waypoint) => waypoint.at)
  const radii = run.waypoints.map((waypoint, i) => waypoint.radiusMm ?? usualRadiusMm(type, run, i))
  const { centreline, bends } = centrelineThrough(points, radii)
  return { run, type, centreline, bends, outerRadiusMm: type.outerDiameterMm / 2 + type.insulationMm, from, to }
}

/** The least radius of a duct bent by hand; of rigid duct the radius of the fitting nearest in angle. */
function usualRadiusMm(type: DuctType, run: Run, i: number): number {
  if (type.kind === 'semi-rigid') return type.minBendRadiusMm
  const turnDeg = turnDegAt(run, i)
  let best = type.fittings[0]
  for (const fitting of type.fittings) {
    if (Math.abs(fitting.angleDeg - turnDeg) < Math.abs(best.angleDeg - turnDeg)) best = fitting
  }
  return best.radiusMm
}

function turnDegAt(run: Run, i: number): number {
  if (i === 0 || i === run.waypoints.length - 1) return 0
  const [a, b, c] = [run.waypoints[i - 1].at, run.waypoints[i].at, run.waypoints[i + 1].at]
  const inX = b[0] - a[0], inY = b[1] - a[1], inZ = b[2] - a[2]
  const outX = c[0] - b[0], outY = c[1] - b[1], outZ = c[2] - b[2]
  const cross = Math.hypot(inY * outZ - inZ * outY, inZ * outX - inX * outZ, inX * outY - inY * outX)
  return Math.atan2(cross, inX * outX + inY * outY + inZ * outZ) * 180 / Math.PI
}

export function isSpigot(end: PlacedRun['from']): end is PlacedSpigot {
  return 'spigot' in end
}
