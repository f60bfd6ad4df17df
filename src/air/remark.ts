/** What is said about the air of a job, as data; wording.ts makes the sentences. Of the same make as a finding of the checks. */

/** 'mend': a rule or a need is not met; 'advice': allowed, but worth changing or knowing. */
export type RemarkSeverity = 'mend' | 'advice'

export const REMARK_CODES = [
  'no-supply', 'no-extract', 'below-table', 'room-below-table', 'unbalanced', 'over-limit', 'free-area-small', 'undercut-small', 'unconnected',
  'mixed-air', 'air-unknown', 'no-start', 'not-settled', 'fan-too-weak', 'cannot-open-enough', 'cannot-close-enough', 'hood-no-room', 'extract-too-low',
  'too-fast', 'trickle-share', 'undercut-unknown', 'rate-assumed', 'supply-not-asked', 'terminal-assumed', 'roughness-assumed', 'near-the-door', 'in-corner', 'intake-near', 'intake-low', 'trickle-below-table',
] as const
export type RemarkCode = (typeof REMARK_CODES)[number]

export interface Remark {
  readonly id: string
  readonly code: RemarkCode
  readonly severity: RemarkSeverity
  /** what it is about; none for the whole dwelling */
  readonly parts: readonly { readonly id: string, readonly name: string }[]
  readonly unit?: 'l/s' | 'Pa' | 'm/s' | 'mm' | 'mm²' | '%'
  readonly measured?: number
  readonly required?: number
  /** the rule with its document and clause, or that it is common practice */
  readonly why: string
}

export function remark(code: RemarkCode, severity: RemarkSeverity, parts: Remark['parts'], why: string, figures: Pick<Remark, 'unit' | 'measured' | 'required'> = {}): Remark {
  const whom = parts.map(({ id }) => id).join('+')
  return { id: whom === '' ? code : `${code}:${whom}`, code, severity, parts: parts.map(({ id, name }) => ({ id, name })), why, ...figures }
}

/** What must be mended first, then by code, then by id. */
export function bySeverity(a: Remark, b: Remark): number {
  if (a.severity !== b.severity) return a.severity === 'mend' ? -1 : 1
  return REMARK_CODES.indexOf(a.code) - REMARK_CODES.indexOf(b.code) || (a.id < b.id ? -1 : a.id > b.id ? 1 : 0)
}
