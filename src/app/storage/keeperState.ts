/** What the keeper has to say of the open job and of the others. */
import type { Job } from '#model/index.ts'
import type { FileMark, KeptJob } from './shelf.ts'

/** Why the open job is not being kept. */
export type Trouble =
  /** the browser keeps nothing at all: everything is in this window only */
  | { readonly kind: 'refused' }
  | { readonly kind: 'full' }
  | { readonly kind: 'failed', readonly why: string }
  /** another window has written the same job: neither is lost, one has to be chosen */
  | { readonly kind: 'changed-elsewhere' }

/** What a person should know once. */
export type Notice =
  | { readonly kind: 'recovered', readonly step: string }
  | { readonly kind: 'drag-lost', readonly step: string }
  /** the newest state could not be read */
  | { readonly kind: 'older-version', readonly at: number }
  | { readonly kind: 'unreadable', readonly name: string }
  /** the other window let go of the job */
  | { readonly kind: 'held-here' }
  | { readonly kind: 'saved', readonly name: string, readonly how: 'written' | 'downloaded' }
  | { readonly kind: 'not-saved', readonly words: string }

export interface KeeperState {
  readonly jobs: readonly KeptJob[]
  /** thrown away just now, and offered back */
  readonly thrownAway: KeptJob | null
  /** the open job as it is kept; null for one that never was, such as the demo before it is changed */
  readonly current: KeptJob | null
  /** the open job's file on disk, if it has one */
  readonly file: FileMark | null
  /** the job as it was last saved to a file from here; null until then */
  readonly savedJob: Job | null
  /** something is not yet written */
  readonly isKeeping: boolean
  readonly trouble: Trouble | null
  /** another window holds the open job: here it can only be looked at */
  readonly isElsewhere: boolean
  readonly notice: Notice | null
  /** an opening that would lose what could not be kept waits for a word */
  readonly wouldLose: { readonly goOn: () => void } | null
}
