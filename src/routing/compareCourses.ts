/** What changes where runs are laid anew, run by run, before anyone agrees to it. */
import type { CheckContext } from '#checks/context.ts'
import type { PartRef } from '#checks/finding.ts'
import type { Run, RunEnd } from '#model/index.ts'
import { planCrossings } from './router/planCrossings.ts'
import { trialSize } from './trialSize.ts'

/** One course of a run. */
export interface CourseFigures {
  readonly lengthMm: number
  readonly bendCount: number
  /** places where it passes over or under another run, seen in plan */
  readonly crossingCount: number
  /** room all round before it touches anything, mm; negative where it reaches into something; null with nothing near */
  readonly spareMm: number | null
  readonly touches: PartRef | null
}

export interface CourseChange {
  readonly runId: string
  readonly name: string
  /** null for a run that is not in the job yet */
  readonly before: CourseFigures | null
  readonly after: CourseFigures
  /** ends that change; null for those that stay */
  readonly newFrom: RunEnd | null
  readonly newTo: RunEnd | null
}

export interface CoursesFigures {
  readonly lengthMm: number
  readonly bendCount: number
  /** places, each told once, in which one of these runs takes part */
  readonly crossingCount: number
  /** the least of all; null with nothing near any of them */
  readonly spareMm: number | null
}

export interface CourseChanges {
  /** only runs that change, in the job's order */
  readonly changes: readonly CourseChange[]
  /** of the runs that change; null where none of them was in the job before */
  readonly before: CoursesFigures | null
  readonly after: CoursesFigures
}

/** Whether a run lies as it did: the same ends and the same points. */
export function isSameCourse(a: Run, b: Run): boolean {
  return JSON.stringify([a.from, a.to, a.waypoints]) === JSON.stringify([b.from, b.to, b.waypoints])
}

/**
 * @param before the job as it is
 * @param after the same job with runs laid anew; runs that are not in `before` count as new
 */
export function compareCourses(before: CheckContext, after: CheckContext): CourseChanges {
  const old = new Map<string, number>(before.runs.map(({ placed: { run } }, i) => [run.id, i]))
  const changed = after.runs.flatMap(({ placed: { run } }, runIndex) => {
    const was = old.get(run.id)
    return was !== undefined && isSameCourse(before.runs[was].placed.run, run) ? [] : [{ runIndex, was }]
  })
  const oldCrossings = planCrossings(before.runs.map(({ placed }) => placed)), newCrossings = planCrossings(after.runs.map(({ placed }) => placed))
  const changes = changed.map(({ runIndex, was }): CourseChange => {
    const { run } = after.runs[runIndex].placed, wasRun = was === undefined ? undefined : before.runs[was].placed.run
    const newEnd = (side: 'from' | 'to'): RunEnd | null => wasRun === undefined || JSON.stringify(wasRun[side]) === JSON.stringify(run[side]) ? null : run[side]
    return {
      runId: run.id, name: run.name, newFrom: newEnd('from'), newTo: newEnd('to'),
      before: was === undefined ? null : figuresOf(before, was, oldCrossings), after: figuresOf(after, runIndex, newCrossings),
    }
  })
  const ids = new Set(changes.map(({ runId }) => runId)), olds = changes.flatMap(({ before: one }) => one ?? [])
  return {
    changes, before: olds.length === 0 ? null : together(olds, oldCrossings, ids), after: together(changes.map((change) => change.after), newCrossings, ids),
  }
}

type Crossings = ReturnType<typeof planCrossings>

function figuresOf(context: CheckContext, runIndex: number, crossings: Crossings): CourseFigures {
  const { run, centreline, bends, outerRadiusMm } = context.runs[runIndex].placed
  const { diameterMm, touchesFirst } = trialSize(context, runIndex)
  return {
    lengthMm: centreline.lengthMm, bendCount: bends.length, crossingCount: crossings.filter(({ overId, underId }) => overId === run.id || underId === run.id).length,
    spareMm: diameterMm === null ? null : diameterMm / 2 - outerRadiusMm, touches: touchesFirst,
  }
}

function together(each: readonly CourseFigures[], crossings: Crossings, ids: ReadonlySet<string>): CoursesFigures {
  const spares = each.flatMap(({ spareMm }) => spareMm ?? [])
  return {
    lengthMm: each.reduce((sum, { lengthMm }) => sum + lengthMm, 0), bendCount: each.reduce((sum, { bendCount }) => sum + bendCount, 0),
    crossingCount: crossings.filter(({ overId, underId }) => ids.has(overId) || ids.has(underId)).length,
    spareMm: spares.length === 0 ? null : Math.min(...spares),
  }
}
