/** What the window and the worker that reads and checks a job say to each other. */
import type { Job } from '#model/index.ts'
import type { Problem } from '#model/problem.ts'
import type { Verdict } from '#routing/verdict.ts'

export type ToChecker =
  | { readonly kind: 'open', readonly text: string }
  | { readonly kind: 'check', readonly job: Job }
  /** the job that was opened has been seen: now it is to be checked */
  | { readonly kind: 'check-it' }

export type FromChecker =
  | { readonly kind: 'refused', readonly problems: readonly Problem[], readonly unlisted: number }
  | { readonly kind: 'job', readonly job: Job }
  /** how much of the checking is done, 0 to 1 */
  | { readonly kind: 'checking', readonly doneRatio: number }
  | { readonly kind: 'verdict', readonly verdict: Verdict }
  /** a fault of ours, not of the file */
  | { readonly kind: 'failed', readonly why: string }
