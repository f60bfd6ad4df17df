/** A job set out for the view and the checks, and set out again after a change with no more work than what was changed asks for. */
import type { Assembly, PlacedRun } from '#assembly/assembly.ts'
import { assemble } from '#assembly/assemble.ts'
import { placeRun } from '#assembly/runs.ts'
import { contextFor, withRun, type CheckContext } from '#checks/context.ts'
import type { Job, Run } from '#model/index.ts'

/** What had to be set out again: nothing (only words or views changed), these runs by index, or everything. */
export type Touched = 'nothing' | 'everything' | readonly number[]

export class SetOut {
  readonly assembly: Assembly
  readonly touched: Touched
  #context: CheckContext | undefined

  constructor(assembly: Assembly, touched: Touched, context?: CheckContext) {
    this.assembly = assembly
    this.touched = touched
    this.#context = context
  }

  /** What the checks look up; made when it is first asked for. */
  get context(): CheckContext {
    return this.#context ??= contextFor(this.assembly)
  }

  /** The same with another job in it and some runs placed anew. What was looked up is kept, and nothing holds on to the one before. */
  with(job: Job, touched: readonly number[], placed: readonly PlacedRun[]): SetOut {
    const runs = touched.length === 0 ? this.assembly.runs : [...this.assembly.runs]
    touched.forEach((runIndex, i) => { (runs as PlacedRun[])[runIndex] = placed[i] })
    const assembly: Assembly = { ...this.assembly, job, runs }
    let context = this.#context
    if (context !== undefined) {
      touched.forEach((runIndex, i) => { context = withRun(context!, runIndex, placed[i]) })
      context = { ...context, assembly }
    }
    return new SetOut(assembly, touched.length === 0 ? 'nothing' : touched, context)
  }
}

/** What neither a solid, a centreline nor a check is made from. */
const WORDS_ALONE: ReadonlySet<keyof Job> = new Set(['name', 'note', 'datum', 'views', 'underlay', 'air'])

export function setOut(job: Job, assembly: Assembly = assemble(job)): SetOut {
  return new SetOut(assembly, 'everything')
}

/** @param before the job before the change, set out; lists that are the same object in `job` are taken to say the same */
export function setOutAgain(before: SetOut, job: Job): SetOut {
  const was = before.assembly.job
  const changed = keysOf(was, job).filter(key => was[key] !== job[key] && !WORDS_ALONE.has(key))
  if (changed.length === 0) return before.with(job, [], [])
  if (changed.length > 1 || changed[0] !== 'runs') return setOut(job)
  const touched = runsThatMoved(was, job)
  if (touched === undefined || touched.length > job.runs.length / 2 + 1) return setOut(job)
  const placed = touched.map(runIndex => replaced(before.assembly, job, job.runs[runIndex]))
  return placed.every(run => run !== undefined) ? before.with(job, touched, placed) : setOut(job)
}

/** Indices of the runs that are not the same as before; undefined when runs came, went or changed places. */
function runsThatMoved(was: Job, job: Job): number[] | undefined {
  if (was.runs.length !== job.runs.length) return undefined
  const moved: number[] = []
  for (let i = 0; i < job.runs.length; i++) {
    if (was.runs[i] === job.runs[i]) continue
    if (was.runs[i].id !== job.runs[i].id) return undefined
    moved.push(i)
  }
  return moved
}

/** A run where its ends and its type put it; undefined when the job has no such end or type. */
export function replaced({ spigots, sleeves }: Assembly, job: Job, run: Run): PlacedRun | undefined {
  const type = job.ductTypes.find(({ id }) => id === run.type)
  const endOf = (end: Run['from']): PlacedRun['from'] | undefined => 'sleeve' in end
    ? sleeves.find(({ sleeve }) => sleeve.id === end.sleeve)
    : spigots.find(({ equipment, spigot }) => equipment.id === end.equipment && spigot.id === end.spigot)
  const from = endOf(run.from), to = endOf(run.to)
  return type === undefined || from === undefined || to === undefined ? undefined : placeRun(run, type, from, to)
}

function keysOf(a: Job, b: Job): (keyof Job)[] {
  return [...new Set([...Object.keys(a), ...Object.keys(b)])] as (keyof Job)[]
}
