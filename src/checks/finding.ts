/** Findings: problems as data. Sentences are made from them in wording.ts and nowhere else. */

/**
 * How bad: 'stop' cannot be built as drawn; 'mend' can be put together but breaks a rule or a required clearance;
 * 'advice' is permitted but worth changing.
 */
export type Severity = 'stop' | 'mend' | 'advice'

export const FINDING_CODES = [
  'clash', 'tight', 'opening-too-small', 'leaves-void', 'cut-member', 'hole-outside-rule', 'bend-too-tight', 'bend-has-no-room',
  'no-such-fitting', 'straight-too-short', 'off-spigot', 'off-axis', 'spigot-size', 'spigot-used-twice',
  'sleeve-too-small', 'terminal-near-wall', 'terminal-near-door', 'outdoor-too-near', 'outdoor-nearer-than-advised',
  'stands-in', 'degenerate-solid',
] as const
export type FindingCode = (typeof FINDING_CODES)[number]

/** One of the things that a finding is about. */
export interface PartRef {
  /** id of the thing in the project file: run, joist, loose solid, equipment, sleeve, hole, zone */
  readonly id: string
  /** which part of it, where it has several: 'web-3-left', 'top-chord', 'spigot-p3', 'bend-2' */
  readonly part?: string
  /** site name: 'joist J12, web 3' */
  readonly name: string
}

export interface Place {
  readonly x: number
  readonly y: number
  readonly z: number
}

/** A change that was tried and clears the finding without making another for that run. */
export interface Move {
  /** the run whose waypoints move */
  readonly runId: string
  /** which of its waypoints (0-based, ends included); all of the listed move together */
  readonly waypoints: readonly number[]
  /** unit direction */
  readonly direction: Place
  readonly byMm: number
  /** nearest plain word for the direction: 'up', 'down', 'along +x', or null when it is askew */
  readonly way: string | null
}

export interface Finding {
  /** stable: the same fault in the same job has the same id whatever else is found */
  readonly id: string
  readonly code: FindingCode
  readonly severity: Severity
  /** the run or thing at fault first */
  readonly parts: readonly PartRef[]
  /** where on the first part, mm (on a run's centreline: the nearest point of it) */
  readonly at: Place
  /** the nearest point of the second part's surface, where there is one */
  readonly onOther?: Place
  /** the touching point to mark: on the second part's surface where there is one, else `at` */
  readonly mark: Place
  /** distance along the run from its start, mm, where the first part is a run */
  readonly stationMm?: number
  readonly unit: 'mm' | 'deg' | 'count'
  /** what was found; for clearances negative when they overlap */
  readonly measured: number
  /** true where an overlap is at least so deep, and no more is known */
  readonly isAtLeast?: true
  /** what was required */
  readonly required: number
  /** where the requirement comes from: a clearance entry, a rule with document and clause, the duct type */
  readonly why: string
  /** a move that was verified to clear it; null when no single move of the ones tried does; absent when a move is no answer to it */
  readonly move?: Move | null
}

const SEVERITY_ORDER: Record<Severity, number> = { stop: 0, mend: 1, advice: 2 }

/** Worst first, then by kind in the order of FINDING_CODES, then by how far off what is required, then by id. A total order: whatever the order found in. */
export function bySeverity(a: Finding, b: Finding): number {
  const first = SEVERITY_ORDER[a.severity] - SEVERITY_ORDER[b.severity] || FINDING_CODES.indexOf(a.code) - FINDING_CODES.indexOf(b.code)
  if (first !== 0) return first
  if (a.unit !== b.unit) return a.unit < b.unit ? -1 : 1
  const further = Math.abs(b.required - b.measured) - Math.abs(a.required - a.measured)
  if (further !== 0) return further
  return a.id < b.id ? -1 : a.id > b.id ? 1 : 0
}
