/** What the window and the worker that looks for ways say to each other. */
import type { Job, Run } from '#model/index.ts'
import type { CourseChanges } from '#routing/compareCourses.ts'
import type { CannotRoute, RouteEnding, RouteProgress } from '#routing/router/routeJob.ts'

export interface ToRouter {
  /** as it is */
  readonly before: Job
  /** the same job; or with a change made first, such as a new run or a plenum moved, which is worth nothing unless all that is asked for is laid */
  readonly drawn: Job
  readonly runs: readonly string[]
  readonly kept: readonly string[]
  readonly ports: 'chosen' | 'kept'
}

/** What was found, as plain data. */
export interface Found {
  readonly ended: RouteEnding
  /** runs that would lie otherwise, or end elsewhere */
  readonly laid: readonly Run[]
  readonly cannot: readonly CannotRoute[]
  readonly changes: CourseChanges
}

export type FromRouter =
  | { readonly kind: 'looking', readonly progress: RouteProgress }
  /** what would be laid if it were stopped now */
  | { readonly kind: 'so-far', readonly found: Found }
  | { readonly kind: 'found', readonly found: Found }
  /** a fault of ours */
  | { readonly kind: 'failed', readonly why: string }
