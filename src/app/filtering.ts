/** Which findings and runs a search and the severity buttons leave in. */
import type { Finding, Severity } from '#checks/finding.ts'
import { titleOf } from '#checks/wording.ts'
import type { RunVerdict } from '#routing/verdict.ts'

/** @param search every word of it must be somewhere in the finding's title or ids; case does not matter */
export function findingsLeft(findings: readonly Finding[], severities: ReadonlySet<Severity>, search: string): Finding[] {
  const words = wordsOf(search)
  return findings.filter((finding) => {
    if (!severities.has(finding.severity)) return false
    if (words.length === 0) return true
    const text = `${titleOf(finding)} ${finding.parts.map(({ id }) => id).join(' ')}`.toLowerCase()
    return words.every((word) => text.includes(word))
  })
}

export function runsLeft(runs: readonly RunVerdict[], search: string): RunVerdict[] {
  const words = wordsOf(search)
  return runs.filter(({ name, runId, touchesFirst }) => {
    const text = `${name} ${runId} ${touchesFirst?.name ?? ''}`.toLowerCase()
    return words.every((word) => text.includes(word))
  })
}

const wordsOf = (search: string): string[] => search.toLowerCase().split(/\s+/).filter((word) => word !== '')
