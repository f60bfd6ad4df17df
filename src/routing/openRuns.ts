/** Which runs the router might be asked for: those with something to put right, all, or those that a change touched. */
import type { Finding } from '#checks/finding.ts'
import type { Job } from '#model/index.ts'

/** Runs that are not locked and have a fault against them; advice is none. In the job's order. */
export function openRuns(job: Job, findings: readonly Finding[]): string[] {
  const faulty = new Set<string>(findings.flatMap(({ severity, parts }) => severity === 'advice' ? [] : parts.map(({ id }) => id)))
  return unlockedRuns(job).filter((id) => faulty.has(id))
}

export function unlockedRuns(job: Job): string[] {
  return job.runs.filter(({ locked }) => locked !== true).map(({ id }) => id)
}

/**
 * Of the open runs those that a change touched: the run itself was changed, or what is against it has to do with a thing that was.
 * @param before the job before the change
 */
export function touchedRuns(before: Job, job: Job, findings: readonly Finding[]): string[] {
  const changed = changedIds(before, job)
  if (changed === 'everything') return openRuns(job, findings)
  const touched = new Set(changed)
  for (const { severity, parts } of findings) if (severity !== 'advice' && parts.some(({ id }) => changed.has(id))) for (const { id } of parts) touched.add(id)
  return openRuns(job, findings).filter((id) => touched.has(id))
}

/** Lists whose things stand by themselves: one that was changed is told by its id. */
const BY_ID = ['runs', 'equipment', 'solids', 'sleeves', 'holes', 'zones'] as const
/** Words and ways of looking touch no run. */
const NOT_BUILT: ReadonlySet<keyof Job> = new Set<keyof Job>(['name', 'note', 'datum', 'views', 'underlay', 'rooms', 'air'])

function changedIds(before: Job, job: Job): ReadonlySet<string> | 'everything' {
  const keys = [...new Set([...Object.keys(before), ...Object.keys(job)])] as (keyof Job)[]
  const lists: ReadonlySet<keyof Job> = new Set(BY_ID)
  // joists, sections, duct types and what the job asks reach any run
  if (keys.some((key) => before[key] !== job[key] && !lists.has(key) && !NOT_BUILT.has(key))) return 'everything'
  const changed = new Set<string>()
  for (const list of BY_ID) {
    if (before[list] === job[list]) continue
    const was = new Map<string, unknown>(before[list].map((one) => [one.id, one]))
    for (const one of job[list]) if (was.get(one.id) !== one) changed.add(one.id)
  }
  return changed
}
