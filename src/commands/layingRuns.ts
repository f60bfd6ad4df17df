/** Many runs laid at once, as the router finds them: all of them as one step, or none and why. */
import { LIMITS } from '#model/basics.ts'
import type { Job } from '#model/index.ts'
import { endPlace } from './ends.ts'
import type { Draft, Kinds } from './outcome.ts'
import { type PartInput, listed, missing, nameOf, partOf } from './parts.ts'
import { noEnd } from './runs.ts'

type RunInput = PartInput<'runs'>

/** A run's new course, its two ends included, and the spigots or sleeves that it ends at where those change. */
export interface LaidRun {
  readonly id: string
  readonly waypoints: readonly RunInput['waypoints'][number][]
  readonly from?: RunInput['from']
  readonly to?: RunInput['to']
}

export interface LayRuns { readonly do: 'lay-runs', readonly runs: readonly LaidRun[], readonly name?: string }

export const layingRunsKinds: Kinds<LayRuns> = {
  'lay-runs': {
    change: layRuns,
    label: ({ runs, name }, job) => name ?? `Lay ${runs.length === 0 ? 'runs' : listed(runs.map(({ id }) => nameOf(job, 'runs', id)))}`,
  },
}

function layRuns(job: Job, { runs }: LayRuns): Draft {
  if (runs.length === 0) return 'no run is named'
  const laid = new Map<string, RunInput>()
  for (const { id, waypoints, from, to } of runs) {
    const run = partOf(job, 'runs', id)
    if (run === undefined) return missing('runs', id)
    if (laid.has(id)) return `${run.name} is named twice`
    if (run.locked) return `${run.name} is locked: unlock it first`
    if (waypoints.length < 2 || waypoints.length > LIMITS.waypoints) return `${run.name} must have from 2 to ${LIMITS.waypoints} points, not ${waypoints.length}`
    for (const end of [from, to]) if (end !== undefined && endPlace(job, end) === undefined) return noEnd(end)
    laid.set(id, { ...run, from: from ?? run.from, to: to ?? run.to, waypoints: [...waypoints] })
  }
  const draft = job.runs.map((run): RunInput => laid.get(run.id) ?? run)
  return whyTwoAtOne(job, draft, runs) ?? { ...job, runs: draft }
}

/** Spigots that change hands go to one run each. */
function whyTwoAtOne(job: Job, draft: readonly RunInput[], runs: readonly LaidRun[]): string | undefined {
  const taken = new Map<string, string[]>()
  for (const { name, id, from, to } of draft) for (const end of [from, to]) taken.set(keyOf(end), [...taken.get(keyOf(end)) ?? [], name ?? id])
  for (const end of runs.flatMap(({ from, to }) => [from, to])) {
    if (end === undefined || 'sleeve' in end) continue
    const names = taken.get(keyOf(end)) ?? []
    const where = `${nameOf(job, 'equipment', end.equipment)}, spigot ${end.spigot}`
    if (names.length > 1) return new Set(names).size === 1 ? `${names[0]} would have both its ends at ${where}` : `${listed(names)} would both end at ${where}`
  }
  return undefined
}

function keyOf(end: RunInput['from']): string {
  return 'sleeve' in end ? `/${end.sleeve}` : `${end.equipment}/${end.spigot}`
}
