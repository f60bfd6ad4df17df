/** Files of older versions brought up to this one, a version at a time. */
import { FORMAT, LATEST_VERSION } from './schema.ts'
import { type Problems, describeFound } from './problem.ts'

export type Migration = (old: Record<string, unknown>) => Record<string, unknown>
/** `migrations[n]` turns a file of version n into one of version n + 1; it may not change what it is given. */
export type Migrations = Readonly<Record<number, Migration>>

/** None yet: 1 is the first version. */
export const MIGRATIONS: Migrations = {}

/**
 * The value as a file of the latest version, with the version that it came as if that was an older one; or undefined,
 * with the reason in `problems`: not a job, of a newer version, or of one that never was.
 */
export function migrate(value: unknown, problems: Problems, migrations: Migrations = MIGRATIONS, latest: number = LATEST_VERSION): { value: Record<string, unknown>, from?: number } | undefined {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) {
    problems.add([], 'not-a-job', describeFound(value), `a job: an object that starts with "format": "${FORMAT}", "version": ${latest}`)
    return undefined
  }
  let job = value as Record<string, unknown>
  if (job['format'] !== FORMAT) {
    problems.add(['format'], 'not-a-job', `${describeFound(job['format'])}, so this is no Joistway job`, `"${FORMAT}"`)
    return undefined
  }
  const version = job['version']
  if (typeof version !== 'number' || !Number.isInteger(version)) {
    problems.add(['version'], version === undefined ? 'missing' : 'unknown-version', describeFound(version), readable(migrations, latest))
    return undefined
  }
  if (version > latest) {
    problems.add(['version'], 'newer-version', `a file made by a newer Joistway: version ${version}, this one reads up to ${latest}`, readable(migrations, latest))
    return undefined
  }
  if (version === latest) return { value: job }
  for (let from = version; from < latest; from++) {
    if (!Object.hasOwn(migrations, from)) {
      problems.add(['version'], 'unknown-version', `version ${version}`, readable(migrations, latest))
      return undefined
    }
    try {
      job = { ...migrations[from](job), format: FORMAT, version: from + 1 }
    } catch {
      problems.add([], 'failed-migration', `a file of version ${version} that could not be brought from version ${from} to ${from + 1}`, 'a file that its own version would have read')
      return undefined
    }
  }
  return { value: job, from: version }
}

function readable(migrations: Migrations, latest: number): string {
  let oldest = latest
  while (Object.hasOwn(migrations, oldest - 1)) oldest--
  return oldest === latest ? `version ${latest}` : `version ${oldest} to ${latest}`
}
