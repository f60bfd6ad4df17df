/**
 * Undo and redo: the job as it was before each step, kept whole. Jobs share all that a step did not touch, so a step costs
 * about what it changed. Pure: every function gives a new history and leaves the old one as it is.
 */
import { type Job, readJobValue } from '#model/index.ts'
import { type Command, apply, dragKey, labelOf } from './index.ts'

/** Steps that can be undone; the oldest go first. */
export const MOST_STEPS = 500

export interface Step {
  /** 'Move point 3 of Run 7' */
  readonly label: string
  /** in the past, the job before the step; in the future, the job after it */
  readonly job: Job
  /** of a drag or of held keys: what may still join this step */
  readonly key?: string
}

/** Something being dragged: what is shown is `present`, and nothing is a step yet. */
export interface Drag {
  readonly base: Job
  /** of the last update; undefined before the first */
  readonly label?: string
  readonly key?: string
}

export interface History {
  /** oldest first */
  readonly past: readonly Step[]
  readonly present: Job
  /** next to be done again last */
  readonly future: readonly Step[]
  readonly drag?: Drag
}

export type Performed = { readonly ok: true, readonly history: History } | { readonly ok: false, readonly why: string, readonly history: History }

export function start(job: Job): History {
  return { past: [], present: job, future: [] }
}

/**
 * Carries out a command as a step. What changes nothing is no step. A drag that is still open is ended first.
 * @param held a key is still held (or a spinner turned): joins the last step if that was the same drag command on the same thing
 */
export function perform(history: History, command: Command, { held = false }: { readonly held?: boolean } = {}): Performed {
  const now = endDrag(history)
  const outcome = apply(now.present, command)
  if (!outcome.ok) return { ...outcome, history: now }
  if (outcome.job === now.present) return { ok: true, history: now }
  const key = dragKey(command)
  const last = now.past.at(-1)
  const step: Step = { label: labelOf(command, now.present), job: now.present, key }
  const joins = held && key !== undefined && last?.key === key && now.future.length === 0
  const past = joins ? now.past.with(-1, { ...step, job: last.job }) : withStep(now.past, step)
  return { ok: true, history: { past, present: outcome.job, future: [] } }
}

export function beginDrag(history: History): History {
  const now = endDrag(history)
  return { ...now, drag: { base: now.present } }
}

/**
 * The whole drag so far: each update is carried out on the job as it was when the drag began, so that nothing adds up.
 * Refused, what was shown stays. Without a drag, begins one.
 */
export function updateDrag(history: History, command: Command): Performed {
  const base = history.drag?.base ?? history.present
  const outcome = apply(base, command)
  if (!outcome.ok) return { ...outcome, history }
  return { ok: true, history: { ...history, present: outcome.job, drag: { base, label: labelOf(command, base), key: dragKey(command) } } }
}

/** Makes one step of the drag, or none if it changed nothing. */
export function endDrag(history: History): History {
  const { past, present, future, drag } = history
  if (drag === undefined) return history
  if (drag.base === present || drag.label === undefined) return { past, present: drag.base, future }
  return { past: withStep(past, { label: drag.label, job: drag.base }), present, future: [] }
}

/** Puts everything back to where it was when the drag began. */
export function cancelDrag({ past, present, future, drag }: History): History {
  return { past, present: drag?.base ?? present, future }
}

/** In a drag, gives that up; else goes back a step. The same history when there is nothing to undo. */
export function undo(history: History): History {
  if (history.drag !== undefined) return cancelDrag(history)
  const last = history.past.at(-1)
  if (last === undefined) return history
  return { past: history.past.slice(0, -1), present: last.job, future: [...history.future, { label: last.label, job: history.present }] }
}

/** The same history when there is nothing to do again, or a drag is open. */
export function redo(history: History): History {
  const next = history.future.at(-1)
  if (next === undefined || history.drag !== undefined) return history
  return { past: [...history.past, { label: next.label, job: history.present }], present: next.job, future: history.future.slice(0, -1) }
}

function withStep(past: readonly Step[], step: Step): Step[] {
  return [...(past.length >= MOST_STEPS ? past.slice(past.length - MOST_STEPS + 1) : past), step]
}

/** What is worth keeping against a crash: plain data, the job as shown and, in a drag, the job before it. */
export interface Journal {
  readonly present: Job
  readonly drag?: { readonly base: Job, readonly label: string }
}

export function journalOf({ present, drag }: History): Journal {
  return drag?.label === undefined || drag.base === present ? { present } : { present, drag: { base: drag.base, label: drag.label } }
}

/** A history from a journal that was kept anywhere: a drag that was cut off is its one step, so that it can be undone. */
export function recover(journal: unknown): { readonly ok: true, readonly history: History, readonly cutOff?: string } | { readonly ok: false, readonly why: string } {
  const { present, drag } = Object(journal) as { readonly present?: unknown, readonly drag?: { readonly base?: unknown, readonly label?: unknown } }
  const read = readJobValue(present)
  const base = drag === undefined ? undefined : readJobValue(Object(drag).base)
  if (read.ok) {
    if (base?.ok !== true) return { ok: true, history: start(read.job) }
    const label = typeof drag?.label === 'string' ? drag.label : 'Change'
    return { ok: true, cutOff: label, history: { past: [{ label, job: base.job }], present: read.job, future: [] } }
  }
  // what was being dragged is spoilt: the job before it is still whole
  if (base?.ok === true) return { ok: true, history: start(base.job) }
  const [{ path, found }] = read.problems
  return { ok: false, why: `what was kept cannot be read: ${path === '' ? 'it' : path} is ${found}` }
}
