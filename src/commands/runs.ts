/** Runs as a whole: laid, named, locked, of another type, reversed, copied, ended elsewhere, removed. */
import { followed, minus, plus, scaled, type EndPlace } from '#assembly/followed.ts'
import type { Job, Point3, Run } from '#model/index.ts'
import { endPlace } from './ends.ts'
import type { Draft, Kinds } from './outcome.ts'
import { type Changes, type PartInput, changed, listed, missing, nameFor, nameOf, nextId, partOf, withChanged, withoutPart, withPart } from './parts.ts'
import { editName } from './stepNames.ts'

type RunInput = PartInput<'runs'>
type EndInput = RunInput['from']

/** Which end of a run. */
type Side = 'from' | 'to'

export type RunCommand =
  /** corners between the two ends may be left out; the ends themselves are where the spigots or sleeves are */
  | { readonly do: 'add-run', readonly id?: string, readonly name?: string, readonly type: string, readonly from: EndInput, readonly to: EndInput, readonly corners?: readonly { readonly at: Point3, readonly radiusMm?: number }[], readonly group?: string, readonly note?: string }
  | { readonly do: 'edit-run', readonly id: string, readonly set: Changes<Pick<RunInput, 'name' | 'note' | 'group'>> }
  | { readonly do: 'lock-run', readonly id: string, readonly locked: boolean }
  /** of these runs, or of all of a group; all of them or, if one is locked, none */
  | { readonly do: 'set-run-type', readonly type: string } & ({ readonly runs: readonly string[] } | { readonly group: string })
  /** the other way along the same course */
  | { readonly do: 'reverse-run', readonly id: string }
  /** the same course from another spigot or sleeve to another; what lies between bends from one shift to the other */
  | { readonly do: 'copy-run', readonly of: string, readonly id?: string, readonly name?: string, readonly from: EndInput, readonly to: EndInput }
  /** takes an end of a run to another spigot or sleeve */
  | { readonly do: 'end-run-at', readonly id: string, readonly side: Side, readonly end: EndInput, readonly keepAxis?: boolean }
  | { readonly do: 'remove-run', readonly id: string }

export const runKinds: Kinds<RunCommand> = {
  'add-run': {
    change: (job, { id = nextId(job, 'runs'), name = nameFor('runs', id), type, from, to, corners = [], group, note }) => {
      const start = endPlace(job, from), end = endPlace(job, to)
      if (start === undefined) return noEnd(from)
      if (end === undefined) return noEnd(to)
      return withPart(job, 'runs', { id, name, type, from, to, group, note, waypoints: [{ at: start.at }, ...corners, { at: end.at }] })
    },
    label: ({ name }) => `Add ${name ?? 'a run'}`,
  },
  'edit-run': {
    change: (job, { id, set: { name, note, group } }) => withChanged(job, 'runs', id, run => changed<RunInput>(run, { name, note, group })),
    label: ({ id, set }, job) => editName(nameOf(job, 'runs', id), set),
  },
  'lock-run': {
    change: (job, { id, locked }) => withChanged(job, 'runs', id, run => ({ ...run, locked: locked || undefined })),
    label: ({ id, locked }, job) => `${locked ? 'Lock' : 'Unlock'} ${nameOf(job, 'runs', id)}`,
  },
  'set-run-type': {
    change: setType,
    label: (command, job) => {
      const type = nameOf(job, 'ductTypes', command.type)
      return `Set duct type of ${'group' in command ? command.group : listed(command.runs.map(id => nameOf(job, 'runs', id)))} to ${type}`
    },
  },
  'reverse-run': {
    change: (job, { id }) => withChanged(job, 'runs', id, run => ({ ...run, from: run.to, to: run.from, waypoints: run.waypoints.toReversed() })),
    label: ({ id }, job) => `Reverse ${nameOf(job, 'runs', id)}`,
  },
  'copy-run': {
    change: copyRun,
    label: ({ of, name }, job) => `Copy ${nameOf(job, 'runs', of)}${name === undefined ? '' : ` to ${name}`}`,
  },
  'end-run-at': {
    change: (job, { id, side, end, keepAxis = false }) => withCourse(job, id, (run) => {
      const now = endPlace(job, end)
      if (now === undefined) return noEnd(end)
      const place = run.waypoints[side === 'from' ? 0 : run.waypoints.length - 1].at
      // wherever the end lay, it comes on to the new spigot; its straight was along the old one's axis
      const was = { at: place, axis: endPlace(job, run[side])?.axis ?? now.axis }
      return { ...run, [side]: end, waypoints: followed(run.waypoints, side, was, now, keepAxis) }
    }),
    label: ({ id, side, end }, job) => `${side === 'from' ? 'Start' : 'End'} ${nameOf(job, 'runs', id)} at ${endName(job, end)}`,
  },
  'remove-run': {
    change: (job, { id }) => {
      const run = partOf(job, 'runs', id)
      if (run === undefined) return missing('runs', id)
      return run.locked ? lockedWhy(run) : withoutPart(job, 'runs', id)
    },
    label: ({ id }, job) => `Remove ${nameOf(job, 'runs', id)}`,
  },
}

/** Changes a run in a way that a lock forbids. */
export function withCourse(job: Job, id: string, change: (run: Run) => RunInput | string): Draft {
  return withChanged(job, 'runs', id, run => run.locked ? lockedWhy(run) : change(run))
}

function lockedWhy({ name }: Run): string {
  return `${name} is locked: unlock it first`
}

function setType(job: Job, command: Extract<RunCommand, { readonly do: 'set-run-type' }>): Draft {
  const ids = new Set<string>('group' in command ? job.runs.filter(run => run.group === command.group).map(({ id }) => id) : command.runs)
  if (ids.size === 0) return 'group' in command ? `no run is in the group ${command.group}` : 'no run is named'
  if (partOf(job, 'ductTypes', command.type) === undefined) return missing('ductTypes', command.type)
  const runs = job.runs.filter(({ id }) => ids.has(id))
  if (runs.length < ids.size) return missing('runs', [...ids].find(id => partOf(job, 'runs', id) === undefined)!)
  const locked = runs.filter(run => run.locked && run.type !== command.type).map(({ name }) => name)
  if (locked.length > 0) return `${listed(locked)} ${locked.length === 1 ? 'is' : 'are'} locked: unlock first`
  return { ...job, runs: job.runs.map((run): RunInput => ids.has(run.id) ? { ...run, type: command.type } : run) }
}

function copyRun(job: Job, { of, id = nextId(job, 'runs'), name = nameFor('runs', id), from, to }: Extract<RunCommand, { readonly do: 'copy-run' }>): Draft {
  const run = partOf(job, 'runs', of)
  if (run === undefined) return missing('runs', of)
  const start = endPlace(job, from), end = endPlace(job, to)
  if (start === undefined) return noEnd(from)
  if (end === undefined) return noEnd(to)
  const { waypoints } = run
  const { locked: _, ...rest } = run
  return withPart(job, 'runs', { ...rest, id, name, from, to, waypoints: shiftedBetween(waypoints, start, end) })
}

/** The ends on their new places, the corners next to them shifted as they are, and those between in between. */
function shiftedBetween(waypoints: Run['waypoints'], start: EndPlace, end: EndPlace): RunInput['waypoints'] {
  const last = waypoints.length - 1
  const first = minus(start.at, waypoints[0].at), other = minus(end.at, waypoints[last].at)
  return waypoints.map((waypoint, i) => {
    if (i === 0) return { ...waypoint, at: start.at }
    if (i === last) return { ...waypoint, at: end.at }
    const share = last > 2 ? (i - 1) / (last - 2) : 0.5
    return { ...waypoint, at: plus(waypoint.at, plus(scaled(first, 1 - share), scaled(other, share))) }
  })
}

export function noEnd(end: EndInput): string {
  return 'sleeve' in end ? missing('sleeves', end.sleeve) : `there is no spigot ${end.spigot} of ${end.equipment} in the job`
}

function endName(job: Job, end: EndInput): string {
  return 'sleeve' in end ? nameOf(job, 'sleeves', end.sleeve) : `${nameOf(job, 'equipment', end.equipment)}, spigot ${end.spigot}`
}
