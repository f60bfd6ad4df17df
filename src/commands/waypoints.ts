/** The course of a run: its points and its bends. All refused while the run is locked. */
import { plus } from '#assembly/followed.ts'
import type { Move } from '#checks/finding.ts'
import { LIMITS } from '#model/basics.ts'
import type { Job, Point3, Run } from '#model/index.ts'
import { movedRun } from '#routing/clearingMove.ts'
import type { Draft, Kinds } from './outcome.ts'
import { type PartInput, nameOf } from './parts.ts'
import { withCourse } from './runs.ts'
import { formatLength } from './typedLength.ts'

type WaypointInput = PartInput<'runs'>['waypoints'][number]

/** `point` counts from 0, ends included */
export type WaypointCommand =
  | { readonly do: 'move-waypoint', readonly run: string, readonly point: number, readonly to: Point3 }
  /** several together, such as the two of a leg */
  | { readonly do: 'shift-waypoints', readonly run: string, readonly points: readonly number[], readonly by: Point3 }
  /** the new one gets this number; not before the start nor after the end */
  | { readonly do: 'insert-waypoint', readonly run: string, readonly point: number, readonly at: Point3, readonly radiusMm?: number }
  /** not an end */
  | { readonly do: 'remove-waypoint', readonly run: string, readonly point: number }
  /** null is the duct type's own radius again */
  | { readonly do: 'set-bend-radius', readonly run: string, readonly point: number, readonly radiusMm: number | null }
  /** the whole course between the ends, such as a tool makes it from openings; the ends stay */
  | { readonly do: 'set-corners', readonly run: string, readonly corners: readonly WaypointInput[] }
  /** what a finding suggests */
  | { readonly do: 'apply-move', readonly move: Move }

export const waypointKinds: Kinds<WaypointCommand> = {
  'move-waypoint': {
    change: (job, { run, point, to }) => withPoint(job, run, point, ({ waypoints }) => waypoints.with(point, { ...waypoints[point], at: to })),
    label: ({ run, point }, job) => `Move point ${point + 1} of ${nameOf(job, 'runs', run)}`,
    dragKey: ({ run, point }) => `move-waypoint/${run}/${point}`,
  },
  'shift-waypoints': {
    change: (job, { run, points, by }) => withCourse(job, run, each => whyNoPoint(each, points) ?? {
      ...each, waypoints: each.waypoints.map((waypoint, i) => points.includes(i) ? { ...waypoint, at: plus(waypoint.at, by) } : waypoint),
    }),
    label: ({ run, points }, job) => `Move ${points.length === 1 ? `point ${points[0] + 1}` : `${points.length} points`} of ${nameOf(job, 'runs', run)}`,
    dragKey: ({ run, points }) => `shift-waypoints/${run}/${points.join('+')}`,
  },
  'insert-waypoint': {
    change: (job, { run, point, at, radiusMm }) => withCourse(job, run, (each) => {
      const { waypoints } = each
      if (!Number.isInteger(point) || point < 1 || point > waypoints.length - 1) return `a new point of ${each.name} must lie between its ends`
      if (waypoints.length >= LIMITS.waypoints) return `${each.name} has ${LIMITS.waypoints} points, the most that a run may have`
      return { ...each, waypoints: waypoints.toSpliced(point, 0, { at, radiusMm }) }
    }),
    label: ({ run }, job) => `Add a point to ${nameOf(job, 'runs', run)}`,
  },
  'remove-waypoint': {
    change: (job, { run, point }) => withPoint(job, run, point, ({ name, waypoints }) =>
      point === 0 || point === waypoints.length - 1 ? `${name} must keep its two ends` : waypoints.toSpliced(point, 1)),
    label: ({ run, point }, job) => `Remove point ${point + 1} of ${nameOf(job, 'runs', run)}`,
  },
  'set-bend-radius': {
    change: (job, { run, point, radiusMm }) => withPoint(job, run, point, ({ name, waypoints }) => point === 0 || point === waypoints.length - 1
      ? `there is no bend at an end of ${name}`
      : waypoints.with(point, { at: waypoints[point].at, radiusMm: radiusMm ?? undefined })),
    label: ({ run, point, radiusMm }, job) => radiusMm === null
      ? `Clear radius at point ${point + 1} of ${nameOf(job, 'runs', run)}`
      : `Set radius at point ${point + 1} of ${nameOf(job, 'runs', run)} to ${formatLength(radiusMm)}`,
    dragKey: ({ run, point }) => `set-bend-radius/${run}/${point}`,
  },
  'set-corners': {
    change: (job, { run, corners }) => withCourse(job, run, each => ({ ...each, waypoints: [each.waypoints[0], ...corners, each.waypoints[each.waypoints.length - 1]] })),
    label: ({ run }, job) => `Thread ${nameOf(job, 'runs', run)}`,
    dragKey: ({ run }) => `set-corners/${run}`,
  },
  'apply-move': {
    change: (job, { move }) => withCourse(job, move.runId, run => whyNoPoint(run, move.waypoints) ?? movedRun(run, move)),
    label: ({ move }, job) => `Move ${nameOf(job, 'runs', move.runId)} ${formatLength(move.byMm)}${move.way === null ? '' : ` ${move.way}`}`,
  },
}

function withPoint(job: Job, id: string, point: number, change: (run: Run) => WaypointInput[] | string): Draft {
  return withCourse(job, id, (run) => {
    const why = whyNoPoint(run, [point])
    if (why !== undefined) return why
    const waypoints = change(run)
    return typeof waypoints === 'string' ? waypoints : { ...run, waypoints }
  })
}

function whyNoPoint({ name, waypoints }: Run, points: readonly number[]): string | undefined {
  const wrong = points.find(point => !Number.isInteger(point) || point < 0 || point >= waypoints.length)
  return wrong === undefined ? undefined : `${name} has no point ${wrong + 1}`
}
