/**
 * Where the open job is changed: every change is a command, every command a named step, and what a change does to the void
 * and to the verdict is there when the call returns. No screen is known here; screens read the store and call the functions.
 */
import { createStore, type StoreApi } from 'zustand/vanilla'
import type { Assembly } from '#assembly/assembly.ts'
import type { CheckContext } from '#checks/context.ts'
import { apply, labelOf, type Command } from '#commands/index.ts'
import * as steps from '#commands/history.ts'
import type { Job } from '#model/index.ts'
import type { Verdict } from '#routing/verdict.ts'
import { Checker, type CheckerPort } from './checker.ts'
import { withAllJudged, withRunsJudged } from './liveVerdict.ts'
import { setOut, setOutAgain, type SetOut } from './setOut.ts'

export interface BenchState {
  /** null with no job on the bench; `history.present` is the job as shown */
  readonly history: steps.History | null
  readonly assembly: Assembly | null
  /** names of the steps that undo and redo would take; null when there is none */
  readonly undoName: string | null
  readonly redoName: string | null
  /** what is being dragged: the command so far, and the step it will be */
  readonly drag: { readonly command: Command, readonly name: string } | null
  /** why the last command was not carried out, in a builder's words; null once one was. The ticket tells the same words said twice apart */
  readonly refusal: { readonly why: string, readonly ticket: number } | null
  /** of the job as shown, as far as `isWhole` tells; null until the first one comes */
  readonly verdict: Verdict | null
  /** false while the verdict lacks moves, and trial sizes of untouched runs, of the job as shown */
  readonly isWhole: boolean
  /** a whole verdict is being worked out; 'stopped' when a person stopped it, 'failed' when it broke */
  readonly checking: { readonly doneRatio: number } | 'stopped' | 'failed' | null
  /** why nothing may be changed now, such as the job being open in another window; null when all may */
  readonly closed: string | null
}

export type Done = { readonly ok: true } | { readonly ok: false, readonly why: string }

export interface Bench {
  readonly store: StoreApi<BenchState>
  /**
   * Puts a job on the bench; what was there is gone with its steps. Its whole verdict is asked for by `checkNow`, or comes by `acceptVerdict`.
   * @param given `cutOff`: the command of a drag that a crash cut off, as it was kept; it becomes a step
   * @returns the name of that step; undefined where there was none, or it can no longer be carried out
   */
  readonly take: (job: Job, given?: { readonly assembly?: Assembly, readonly verdict?: Verdict | null, readonly cutOff?: unknown }) => string | undefined
  readonly clear: () => void
  /** Allows changes, or says why not. */
  readonly close: (why: string | null) => void
  /** A step. @param options `held`: a key is still held or a spinner turned, so the same command again joins the last step */
  readonly perform: (command: Command, options?: { readonly held?: boolean }) => Done
  readonly beginDrag: () => void
  /** The whole drag so far, from where it began; begins one if none is open. */
  readonly updateDrag: (command: Command) => Done
  readonly endDrag: () => void
  readonly cancelDrag: () => void
  readonly undo: () => void
  readonly redo: () => void
  readonly dismissRefusal: () => void
  /** A whole verdict that came from elsewhere; passed over unless it is of the job as shown. */
  readonly acceptVerdict: (job: Job, verdict: Verdict) => void
  /** Stops working out the whole verdict until the next change, and starts again. */
  readonly stopChecking: () => void
  readonly checkNow: () => void
  /** The checks' own look-ups of what is shown, for trial sizes and measures on screens. */
  readonly context: () => CheckContext | null
}

const EMPTY: BenchState = {
  history: null, assembly: null, undoName: null, redoName: null, drag: null, refusal: null, verdict: null, isWhole: false, checking: null, closed: null,
}
/** A pointer that is held but rests this long has the whole job checked, ms. */
const DRAG_STILL_MS = 800
/** Work that takes longer than this is left to the worker while things move, ms. */
const QUICK_MS = 10
/** a first guess of how many solids are judged within that */
const QUICK_SOLIDS = 4_000
/** with more solids than this a trial size is left to the worker: it looks at all of them, and takes longer than a frame */
const TRIAL_SOLIDS = 40_000

export interface BenchParts {
  readonly spawn: () => CheckerPort
  /** ms, from any start */
  readonly clock?: () => number
}

export function createBench({ spawn, clock = () => performance.now() }: BenchParts): Bench {
  const store = createStore<BenchState>()(() => EMPTY)
  let out: SetOut | null = null
  /** how long judging everything took here last time, ms; undefined before the first */
  let judgingMs: number | undefined
  let ticket = 0

  const checker = new Checker(spawn, {
    progress: (doneRatio) => { store.setState({ checking: { doneRatio } }) },
    verdict: accept,
    failed: () => { store.setState({ checking: 'failed' }) },
  })

  function accept(job: Job, verdict: Verdict): void {
    const { history } = store.getState()
    if (history?.present !== job) return
    if (checker.isAsked) checker.stop()
    store.setState({ verdict, isWhole: true, checking: null })
  }

  function judged(now: SetOut, before: Verdict | null): Verdict | null {
    if (now.touched === 'nothing') return before
    if (now.touched !== 'everything' && before !== null) return withRunsJudged(before, now.context, now.touched, now.assembly.solids.count <= TRIAL_SOLIDS)
    if (judgingMs === undefined ? now.assembly.solids.count > QUICK_SOLIDS : judgingMs > QUICK_MS) return before
    const start = clock()
    const verdict = withAllJudged(before, now.context)
    judgingMs = clock() - start
    return verdict
  }

  /** Shows a history, with the void and the verdict brought up to date. */
  function show(history: steps.History, drag: BenchState['drag'] = null): void {
    const { history: was, verdict, isWhole, checking } = store.getState()
    const names = { undoName: drag?.name ?? history.past.at(-1)?.label ?? null, redoName: drag === null ? history.future.at(-1)?.label ?? null : null }
    const job = history.present
    if (out === null || was?.present === job) {
      store.setState({ history, drag, refusal: null, ...names })
      if (out !== null && was?.drag !== undefined && history.drag === undefined && !isWhole && checking !== 'stopped') checker.ask(job)
      return
    }
    out = setOutAgain(out, job)
    const isStill = out.touched === 'nothing' && isWhole
    store.setState({
      history, drag, refusal: null, ...names, assembly: out.assembly, verdict: judged(out, verdict),
      isWhole: isStill, checking: isStill ? checking : { doneRatio: 0 },
    })
    // frames of a drag may be slow: the worker must not take a core from the picture between two of them
    if (!isStill) checker.ask(job, drag === null ? undefined : DRAG_STILL_MS)
  }

  function refuse(why: string): Done {
    store.setState({ refusal: { why, ticket: ++ticket } })
    return { ok: false, why }
  }

  /** the history, if it may be changed now */
  function open(): { readonly ok: true, readonly history: steps.History } | { readonly ok: false, readonly why: string } {
    const { history, closed } = store.getState()
    if (history === null) return { ok: false, why: 'no job is open' }
    return closed === null ? { ok: true, history } : { ok: false, why: closed }
  }

  function step(change: (history: steps.History) => steps.History): void {
    const now = open()
    if (!now.ok) {
      refuse(now.why)
      return
    }
    const next = change(now.history)
    if (next !== now.history) show(next)
  }

  return {
    store,
    take(job, { assembly, verdict = null, cutOff } = {}) {
      checker.stop()
      judgingMs = undefined
      out = setOut(job, assembly)
      const isWhole = verdict !== null
      store.setState({ ...EMPTY, history: steps.start(job), assembly: out.assembly, verdict, isWhole, checking: isWhole ? null : { doneRatio: 0 } })
      // it comes out of storage: `apply` takes anything
      const command = Object(cutOff) as Command
      const outcome = apply(job, command)
      if (!outcome.ok || outcome.job === job) return undefined
      const label = labelOf(command, job)
      show({ past: [{ label, job }], present: outcome.job, future: [] })
      return label
    },
    clear() {
      checker.stop()
      out = null
      store.setState(EMPTY)
    },
    close(why) {
      const { history } = store.getState()
      if (why !== null && history?.drag !== undefined) show(steps.cancelDrag(history))
      store.setState({ closed: why })
    },
    perform(command, options) {
      const now = open()
      if (!now.ok) return refuse(now.why)
      const done = steps.perform(now.history, command, options)
      if (done.history !== now.history || done.ok) show(done.history)
      return done.ok ? { ok: true } : refuse(done.why)
    },
    beginDrag() { step(steps.beginDrag) },
    updateDrag(command) {
      const now = open()
      if (!now.ok) return refuse(now.why)
      const done = steps.updateDrag(now.history, command)
      if (!done.ok) return refuse(done.why)
      show(done.history, { command, name: done.history.drag?.label ?? command.do })
      return { ok: true }
    },
    endDrag() { step(steps.endDrag) },
    cancelDrag() { step(steps.cancelDrag) },
    undo() { step(steps.undo) },
    redo() { step(steps.redo) },
    dismissRefusal() { store.setState({ refusal: null }) },
    acceptVerdict: accept,
    stopChecking() {
      checker.stop()
      if (!store.getState().isWhole) store.setState({ checking: 'stopped' })
    },
    checkNow() {
      const { history, isWhole } = store.getState()
      if (history === null || isWhole) return
      store.setState({ checking: { doneRatio: 0 } })
      checker.ask(history.present, 0)
    },
    context: () => out?.context ?? null,
  }
}
