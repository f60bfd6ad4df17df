/** Ways looked for by the machine: what is asked, how far it has come, what was found and waits for a yes. The job changes with the yes only, in one step. */
import { createStore } from 'zustand/vanilla'
import { useStore } from 'zustand'
import type { Command } from '#commands/index.ts'
import { apply } from '#commands/index.ts'
import type { Job, RunEnd } from '#model/index.ts'
import { openRuns, touchedRuns, unlockedRuns } from '#routing/openRuns.ts'
import type { RouteProgress } from '#routing/router/routeJob.ts'
import { pickOut } from '../../../desk.ts'
import { bench } from '../../../editing/theBench.ts'
import { countText } from '../../../figures.ts'
import { newRun } from '../newRun.ts'
import { say, threading } from '../threading.ts'
import type { Found, FromRouter, ToRouter } from './routerMessages.ts'

export type Scope = 'open' | 'one' | 'touched' | 'all'

/** What is to be asked for, while it is put together. */
export interface Wish {
  readonly scope: Scope
  /** the run of 'one' */
  readonly runId: string | null
  readonly ports: 'chosen' | 'kept'
  /** runs that stay as they lie, whatever the scope */
  readonly kept: ReadonlySet<string>
}

/** What was asked of the router, of the job as it was then. */
export interface Asked {
  readonly job: Job
  readonly runIds: readonly string[]
  /** 'Run 7', '5 runs' */
  readonly what: string
  /** what is changed before the ways are looked for, and comes with them */
  readonly first: { readonly command: Command, readonly drawn: Job, readonly words: string } | null
  /** the run is not in the job yet */
  readonly isNew: boolean
  /** what was found before, to come back to; null where nothing was */
  readonly back: Ways | null
}

export type Ways =
  | { readonly stage: 'rest' }
  | { readonly stage: 'asking', readonly wish: Wish }
  /** `soFar`: what would be laid if it were stopped now */
  | { readonly stage: 'looking', readonly asked: Asked, readonly progress: RouteProgress, readonly soFar: Found | null, readonly startMs: number }
  | { readonly stage: 'found', readonly asked: Asked, readonly found: Found, readonly shownId: string | null }
  | { readonly stage: 'failed', readonly asked: Asked, readonly why: string }

const AT_REST: Ways = { stage: 'rest' }
export const ways = createStore<Ways>()(() => AT_REST)

export function useWays<T>(select: (state: Ways) => T): T {
  return useStore(ways, select)
}

export function isBusy(): boolean {
  return ways.getState().stage !== 'rest'
}

let worker: Worker | null = null

function turn(to: Ways): void {
  if (to.stage !== 'looking') {
    worker?.terminate()
    worker = null
  }
  ways.setState(to, true)
}

/** What was found for one job says nothing of another. */
bench.store.subscribe(({ history }) => {
  const now = ways.getState()
  if (now.stage === 'rest' || now.stage === 'asking' || history?.present === now.asked.job) return
  turn(AT_REST)
  if (history !== null) say('The job was changed meanwhile, so what was being looked for is given up.')
})

export function beginAsking(scope: Scope, runId: string | null = null): void {
  turn({ stage: 'asking', wish: { scope, runId, ports: 'chosen', kept: new Set() } })
}

export function wishFor(change: Partial<Wish>): void {
  const now = ways.getState()
  if (now.stage === 'asking') turn({ stage: 'asking', wish: { ...now.wish, ...change } })
}

/** The runs that a scope holds, those that are kept among them. */
export function runsOf(scope: Scope, runId: string | null): readonly string[] {
  const { history, verdict } = bench.store.getState()
  if (history === null) return []
  const job = history.present, findings = verdict?.findings ?? []
  switch (scope) {
    case 'open': return openRuns(job, findings)
    case 'all': return unlockedRuns(job)
    case 'one': return unlockedRuns(job).filter((id) => id === runId)
    case 'touched': {
      const last = history.past.at(-1)
      return last === undefined ? [] : touchedRuns(last.job, job, findings)
    }
  }
}

export function lookFor({ scope, runId, ports, kept }: Wish): void {
  const job = bench.store.getState().history?.present
  const runIds = runsOf(scope, runId).filter((id) => !kept.has(id))
  if (job === undefined || runIds.length === 0) return
  const what = runIds.length === 1 ? job.runs.find(({ id }) => id === runIds[0])!.name : countText(runIds.length, 'run')
  look({ job, runIds, what, first: null, isNew: false, back: null }, ports, kept)
}

/** The way of one run with its ends as they are: one of the job, or one from a free spigot to another. */
export function lookForLaying(): void {
  const { laying } = threading.getState()
  const job = bench.store.getState().history?.present
  if (laying === null || laying.to === null || job === undefined) return
  const { anewId, typeId: type, from, to } = laying
  if (anewId !== undefined) {
    const run = job.runs.find(({ id }) => id === anewId)
    if (run !== undefined) look({ job, runIds: [anewId], what: run.name, first: null, isNew: false, back: null }, 'kept')
    return
  }
  const { id, name } = newRun(job)
  lookAfter({ do: 'add-run', id, name, type, from, to }, { runIds: [id], what: name, words: '', isNew: true, back: null })
}

/** Ways of the job with a change made first; both come as one step, or neither. @param words 'with Plenum 2 moved 50 mm north' */
export function lookAfter(command: Command, { words, ...asked }: Pick<Asked, 'runIds' | 'what' | 'isNew' | 'back'> & { readonly words: string }): void {
  const job = bench.store.getState().history?.present
  if (job === undefined) return
  const outcome = apply(job, command)
  if (outcome.ok) look({ ...asked, job, first: { command, drawn: outcome.job, words } }, 'kept')
  else say(`${outcome.why}.`)
}

/** A change that frees one of the runs for which no way was found, beside those that would be laid. @param curedWith runs that are laid again with it */
export function lookWith(command: Command, words: string, runId: string, curedWith: readonly string[] = []): void {
  const now = ways.getState()
  if (now.stage !== 'found') return
  const others = commandOf(now.asked, now.found)
  const what = now.asked.job.runs.find(({ id }) => id === runId)?.name ?? runId
  lookAfter(others === null ? command : { do: 'together', commands: [others, command] }, { words, runIds: [runId, ...curedWith], what, isNew: false, back: now })
}

function look(asked: Asked, ports: Wish['ports'], kept: ReadonlySet<string> = new Set()): void {
  turn(AT_REST)
  pickOut(null)
  threading.setState({ aim: null, point: null, least: null })
  const own = worker = new Worker(new URL('./router.worker.ts', import.meta.url), { type: 'module' })
  turn({ stage: 'looking', asked, progress: AT_THE_START, soFar: null, startMs: performance.now() })
  say('')
  const fail = (why: string): void => {
    if (worker === own) turn({ stage: 'failed', asked, why })
  }
  own.onerror = (event) => {
    event.preventDefault()
    fail(event.message ?? 'no reason given')
  }
  own.onmessage = ({ data }: MessageEvent<FromRouter>) => {
    const now = ways.getState()
    if (worker !== own || now.stage !== 'looking') return
    if (data.kind === 'looking') ways.setState({ ...now, progress: data.progress }, true)
    else if (data.kind === 'so-far') ways.setState({ ...now, soFar: data.found }, true)
    else if (data.kind === 'failed') fail(data.why)
    else turn({ stage: 'found', asked, found: data.found, shownId: null })
  }
  own.postMessage(askOf(asked, ports, kept))
}

export function askOf({ job, first, runIds }: Asked, ports: Wish['ports'], kept: ReadonlySet<string> = new Set()): ToRouter {
  return { before: job, drawn: first?.drawn ?? job, runs: runIds, kept: [...kept], ports }
}

const AT_THE_START: RouteProgress = { stage: 'looking', done: 0, of: 0, runName: null, triedCount: 0, doneRatio: 0 }

/** What lies well by now is offered; where nothing does, it is given up. */
export function stopLooking(): void {
  const now = ways.getState()
  if (now.stage !== 'looking') return
  const { asked, soFar } = now
  if (soFar === null || soFar.laid.length === 0) giveWaysUp()
  else {
    turn({ stage: 'found', asked, found: soFar, shownId: null })
    say('Stopped. The ways that were found by then are shown; nothing is changed yet.')
  }
}

/** Nothing was changed, and nothing is. */
export function giveWaysUp(): void {
  const now = ways.getState(), { stage } = now
  const back = now.stage === 'rest' || now.stage === 'asking' ? null : now.asked.back
  if (back !== null) {
    turn(back)
    say('Back to what was found before.')
    return
  }
  turn(AT_REST)
  say(stage === 'looking' ? 'Stopped: every run lies as it did.' : stage === 'asking' ? '' : 'Given up: every run lies as it did.')
}

export function showChange(shownId: string | null): void {
  const now = ways.getState()
  if (now.stage === 'found') ways.setState({ ...now, shownId }, true)
}

/** All of it, as one step. */
export function acceptWays(): void {
  const now = ways.getState()
  if (now.stage !== 'found') return
  const { asked, found } = now
  const command = commandOf(asked, found)
  turn(AT_REST)
  if (command === null) return
  const done = bench.perform(command)
  if (!done.ok) {
    say(`Not laid: ${done.why}.`)
    return
  }
  threading.setState({ laying: null, aim: null })
  const left = found.cannot.length === 0 ? '' : ` ${countText(found.cannot.length, 'run')} ${found.cannot.length === 1 ? 'lies' : 'lie'} as before.`
  say(asked.isNew ? `${asked.what} added.` : `${found.laid.length === 1 ? found.laid[0].name : countText(found.laid.length, 'run')} laid, as one step: Undo puts all of it back.${left}`)
  if (asked.runIds.length === 1) pickOut({ kind: 'run', runId: asked.runIds[0] })
}

/** What a yes does; null when there is nothing to say yes to. */
export function commandOf({ job, first, isNew, what }: Asked, { laid }: Found): Command | null {
  if (laid.length === 0) return null
  const drawn = first?.drawn ?? job
  const ways = laid.length === 1 ? `Find the way of ${laid[0].name}` : `Find the ways of ${countText(laid.length, 'run')}`
  const name = isNew ? `Add ${what}` : first === null ? ways : `${ways}, ${first.words}`
  const lay: Command = {
    do: 'lay-runs', name,
    runs: laid.map(({ id, waypoints, from, to }) => {
      const was = drawn.runs.find((run) => run.id === id)!
      return { id, waypoints, from: isSame(from, was.from) ? undefined : from, to: isSame(to, was.to) ? undefined : to }
    }),
  }
  return first === null ? lay : { do: 'together', name, commands: [first.command, lay] }
}

function isSame(a: RunEnd, b: RunEnd): boolean {
  return JSON.stringify(a) === JSON.stringify(b)
}
