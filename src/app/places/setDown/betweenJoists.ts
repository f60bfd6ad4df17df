/** Where a plenum that is tapped down finds its place between the joists. Pure. */
import type { Job, Point2 } from '#model/index.ts'
import { assemble } from '#assembly/assemble.ts'
import { bayAt } from '#routing/snap.ts'

export interface Settled {
  readonly at: Point2
  /** the way that its spigot faces, degrees from +x */
  readonly facesDeg: number
}

/**
 * The tapped place moved square to the bay by as little as it takes for the body to stand between the two joists, and the way along the bay
 * that leads to the nearest manifold of its air. Where there is no bay, or too narrow a one, the place stays as it was tapped.
 * @param halfMm half the body's width whichever way it is turned
 */
export function betweenJoists(job: Job, at: Point2, halfMm: number, air: string): Settled {
  const { joists } = assemble({ ...job, runs: [] })
  const bay = bayAt(joists, [at[0], at[1], job.joistFields.at(-1)?.origin[2] ?? 0])
  const manifold = nearestManifold(job, at, air)
  const towards = manifold === null ? null : [manifold[0] - at[0], manifold[1] - at[1]] as const
  if ('why' in bay) return { at, facesDeg: towards === null ? ALONG_Y_DEG : squareTo(towards) }
  const [ax, ay] = bay.along, across: Point2 = [-ay, ax]
  const off = (at[0] - bay.middle[0]) * across[0] + (at[1] - bay.middle[1]) * across[1]
  const room = bay.clearMm / 2 - halfMm
  const by = room < 0 ? 0 : Math.max(-room, Math.min(room, off)) - off
  const sign = towards !== null && towards[0] * ax + towards[1] * ay < 0 ? -1 : 1
  return { at: [at[0] + by * across[0], at[1] + by * across[1]], facesDeg: degreesOf(sign * ax, sign * ay) }
}

export interface Standing extends Settled {
  readonly rows: number
  readonly wideMm: number
  readonly highMm: number
}

/**
 * A manifold tapped between two joists: in the middle of the bay, its spigots facing along it the longer way, in as many rows as it takes for the
 * body to go between the joists with a finger's breadth to spare. Where that would be higher than the joists are deep it stays as it was typed;
 * out of the joists it faces them.
 */
export function manifoldBetweenJoists(job: Job, at: Point2, { count, rows, pitchMm, diameterMm, wideMm, highMm }: { readonly count: number, readonly rows: number, readonly pitchMm: number, readonly diameterMm: number, readonly wideMm: number, readonly highMm: number }): Standing {
  const { joists } = assemble({ ...job, runs: [] }), field = job.joistFields.at(-1)
  const bay = bayAt(joists, [at[0], at[1], field?.origin[2] ?? 0])
  if ('why' in bay || field === undefined) {
    const middle = joists.length === 0 ? null : [0, 1].map((k) => joists.reduce((sum, { origin, along, lengthMm }) => sum + origin[k] + along[k] * lengthMm / 2, 0) / joists.length)
    return { at, facesDeg: middle === null ? 0 : squareTo([middle[0] - at[0], middle[1] - at[1]]), rows, wideMm, highMm }
  }
  const joist = joists.find(({ name }) => name === bay.names[0])!, [ax, ay] = bay.along
  const x = (at[0] - joist.origin[0]) * ax + (at[1] - joist.origin[1]) * ay, sign = joist.lengthMm - x >= x ? 1 : -1
  const facesDeg = degreesOf(sign * ax, sign * ay), middle: Point2 = [bay.middle[0], bay.middle[1]]
  const clearMm = Math.floor((bay.clearMm - 2 * FINGER_MM) / 10) * 10
  if (wideMm <= clearMm) return { at: middle, facesDeg, rows, wideMm, highMm }
  const perRow = Math.floor((clearMm - diameterMm) / pitchMm) + 1, rowsNow = Math.max(rows, Math.ceil(count / perRow))
  const highNow = Math.max(highMm, (rowsNow - 1) * pitchMm + diameterMm + 2 * FINGER_MM)
  return perRow < 1 || highNow > Math.min(clearMm, joist.section.depthMm) ? { at, facesDeg: 0, rows, wideMm, highMm } : { at: middle, facesDeg, rows: rowsNow, wideMm: clearMm, highMm: highNow }
}

const FINGER_MM = 10
const ALONG_Y_DEG = 90

function nearestManifold({ equipment }: Job, [x, y]: Point2, air: string): Point2 | null {
  const from = equipment.filter(({ kind, air: its }) => kind === 'manifold' && (its === undefined || its === air))
  const apart = ({ centre }: { readonly centre: readonly number[] }): number => Math.hypot(centre[0] - x, centre[1] - y)
  const nearest = from.reduce<(typeof from)[number] | null>((best, one) => best === null || apart(one) < apart(best) ? one : best, null)
  return nearest === null ? null : [nearest.centre[0], nearest.centre[1]]
}

function squareTo([dx, dy]: readonly [number, number]): number {
  return Math.abs(dx) >= Math.abs(dy) ? dx >= 0 ? 0 : 180 : dy >= 0 ? 90 : 270
}

function degreesOf(x: number, y: number): number {
  const deg = Math.atan2(y, x) * 180 / Math.PI
  return Math.round((deg < -1e-9 ? deg + 360 : Math.abs(deg)) * 1e6) / 1e6
}
