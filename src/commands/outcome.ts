/** What a command is to its file: how it changes a job, what its step is called, and whether a drag may be made of it. */
import type { Job, JobInput } from '#model/index.ts'

/** The changed job, or why it cannot be, in a builder's words. */
export type Outcome = { readonly ok: true, readonly job: Job } | { readonly ok: false, readonly why: string }

/** The job that is wanted, before it is judged; or why there is none. */
export type Draft = JobInput | string

export interface Kind<C> {
  /** Pure; what is not touched keeps its identity. The result is judged by `apply`, so a file needs to refuse only what a valid job would not show. */
  readonly change: (job: Job, command: C) => Draft
  /** the step's name: an imperative, read before the change was made */
  readonly label: (command: C, job: Job) => string
  /** Commands of one key that follow each other in a drag, or while a key is held, are one step. Absent where each is a step of its own. */
  readonly dragKey?: (command: C) => string
}

/** Every command of a family by what it does. */
export type Kinds<C extends { readonly do: string }> = { readonly [D in C['do']]: Kind<Extract<C, { readonly do: D }>> }
