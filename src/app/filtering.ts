/** Which findings and runs a search and the severity buttons leave in. */
import type { Finding, Severity } from '#checks/finding.ts'
import { titleOf } from '#checks/wording.ts'
import type { RunVerdict } from '#routing/verdict.ts'

/** @param search every word of it must be somewhere in the finding's title or ids, and a number is that number: 'run 7' is not run 17, nor run 24 at web 7; case does not matter */
export function findingsLeft(findings: readonly Finding[], severities: ReadonlySet<Severity>, search: string): Finding[] {
  const words = wordsOf(search)
  return findings.filter((finding) => {
    if (!severities.has(finding.severity)) return false
    if (words.length === 0) return true
    const text = `${titleOf(finding)} ${finding.parts.map(({ id }) => id).join(' ')}`.toLowerCase()
    return words.every((word) => word.test(text))
  })
}

export function runsLeft(runs: readonly RunVerdict[], search: string): RunVerdict[] {
  const words = wordsOf(search)
  return runs.filter(({ name, runId, touchesFirst }) => {
    const text = `${name} ${runId} ${touchesFirst?.name ?? ''}`.toLowerCase()
    return words.every((word) => word.test(text))
  })
}

/** The words of a search, a word and the number after it as one. */
function wordsOf(search: string): RegExp[] {
  const words = search.toLowerCase().match(/[a-z]+ +\d+(?!\S)|\S+/g) ?? []
  return words.map((word) => new RegExp(`${/^\d/.test(word) ? '(?<!\\d)' : ''}${word.replace(/ +/, ' ').replace(/[.*+?^${}()|[\]\\]/g, '\\$&')}${/\d$/.test(word) ? '(?!\\d)' : ''}`))
}

export interface FindingGroup {
  /** of the run; null for what is of none */
  readonly runId: string | null
  readonly name: string
  readonly findings: readonly Finding[]
}

/** Findings under the first run that each is of, in the order of the worst of each; those of no run come under one heading. */
export function byRun(findings: readonly Finding[], runs: readonly Pick<RunVerdict, 'runId' | 'name'>[]): FindingGroup[] {
  const names = new Map<string, string>(runs.map(({ runId, name }) => [runId, name]))
  const groups = new Map<string | null, Finding[]>()
  for (const finding of findings) {
    const runId = finding.parts.find(({ id }) => names.has(id))?.id ?? null
    const there = groups.get(runId)
    if (there === undefined) groups.set(runId, [finding])
    else there.push(finding)
  }
  return [...groups].map(([runId, found]) => ({ runId, name: runId === null ? 'Not of a run' : names.get(runId)!, findings: found }))
}
