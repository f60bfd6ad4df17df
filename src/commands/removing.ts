/** Taking away what runs end on. */
import type { Job, Run } from '#model/index.ts'
import type { Draft } from './outcome.ts'
import { listed, withoutPart } from './parts.ts'

/** Why runs cannot go, or stay, with what they end on; undefined when there is nothing against it. */
export function whyRunsKeep(runs: readonly Run[], withRuns = false): string | undefined {
  if (runs.length === 0) return undefined
  const names = listed(runs.map(({ name }) => name))
  if (!withRuns) return `${names} ${runs.length === 1 ? 'ends' : 'end'} on it: remove ${runs.length === 1 ? 'it' : 'them'} with it, or end ${runs.length === 1 ? 'it' : 'them'} elsewhere first`
  const locked = runs.filter(run => run.locked).map(({ name }) => name)
  return locked.length === 0 ? undefined : `${listed(locked)} ${locked.length === 1 ? 'is' : 'are'} locked: unlock first`
}

export function withoutRuns(job: Job, runs: readonly Run[]): Job {
  const gone = new Set(runs)
  return runs.length === 0 ? job : { ...job, runs: job.runs.filter(run => !gone.has(run)) }
}

export function withoutEndHolder(job: Job, list: 'equipment' | 'sleeves', id: string, runs: readonly Run[], withRuns?: boolean): Draft {
  return whyRunsKeep(runs, withRuns) ?? withoutPart(withoutRuns(job, runs), list, id)
}
