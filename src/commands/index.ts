/**
 * Every change to a job is a command: plain data that a click, a key, a script or a test can make alike. `apply` carries
 * it out or says why not; nothing else changes a job.
 */
import { type Job, type Problem, amendJob } from '#model/index.ts'
import { type AirCommand, airKinds } from './air.ts'
import { type CommissioningCommand, commissioningKinds } from './commissioning.ts'
import { type CornerCommand, cornerKinds } from './corners.ts'
import { type EquipmentCommand, equipmentKinds } from './equipment.ts'
import { type JobCommand, jobKinds } from './jobCommands.ts'
import { type JoistFieldCommand, joistFieldKinds } from './joistFields.ts'
import { type JoistCommand, joistKinds } from './joists.ts'
import { type LayRuns, layingRunsKinds } from './layingRuns.ts'
import { type LaySpigots, layingSpigotsKinds } from './layingSpigots.ts'
import type { Kind, Kinds, Outcome } from './outcome.ts'
import { type PlacingCommand, placingKinds } from './placing.ts'
import { type RoomCommand, roomKinds } from './rooms.ts'
import { type RunCommand, runKinds } from './runs.ts'
import { type SectionCommand, sectionKinds } from './sections.ts'
import { type SleeveCommand, sleeveKinds } from './sleeves.ts'
import { type SolidCommand, solidKinds } from './solids.ts'
import { wordsOf } from './stepNames.ts'
import { type ViewCommand, viewKinds } from './views.ts'
import { type WaypointCommand, waypointKinds } from './waypoints.ts'

export type { LaidRun, LayRuns } from './layingRuns.ts'
export type { Outcome } from './outcome.ts'
export { nextId } from './parts.ts'

/** Several commands as one step: all of them, or none and why. */
export interface Together { readonly do: 'together', readonly commands: readonly Command[], readonly name?: string }

export type Command =
  | JobCommand | RoomCommand | CornerCommand | SectionCommand | JoistFieldCommand | JoistCommand | SolidCommand | SleeveCommand
  | PlacingCommand | EquipmentCommand | LaySpigots | RunCommand | LayRuns | WaypointCommand | ViewCommand
  | AirCommand | CommissioningCommand | Together

const KINDS: Kinds<Command> = {
  ...jobKinds, ...roomKinds, ...cornerKinds, ...sectionKinds, ...joistFieldKinds, ...joistKinds, ...solidKinds, ...sleeveKinds,
  ...placingKinds, ...equipmentKinds, ...layingSpigotsKinds, ...runKinds, ...layingRunsKinds, ...waypointKinds, ...viewKinds, ...airKinds, ...commissioningKinds,
  'together': {
    change: (job, { commands }) => {
      let now = job
      for (const command of commands) {
        const outcome = apply(now, command)
        if (!outcome.ok) return outcome.why
        now = outcome.job
      }
      return now
    },
    label: ({ commands, name }, job) => name ?? (commands.length === 1 ? labelOf(commands[0], job) : `${commands.length} changes`),
  },
}

/** The names of all commands, for a list of them or a script's help. */
export const COMMAND_NAMES = Object.keys(KINDS) as readonly Command['do'][]

function kindOf(command: Command): Kind<Command> | undefined {
  // a command may come from a script: what it says it does need not be one of ours
  return Object.hasOwn(KINDS, command.do) ? KINDS[command.do] as unknown as Kind<Command> : undefined
}

/**
 * The job with the command carried out: valid, and the same object wherever nothing was changed (the very same job when
 * the command changes nothing); or why it cannot be. Never throws, whatever a script made of the command.
 */
export function apply(job: Job, command: Command): Outcome {
  try {
    const kind = kindOf(command)
    if (kind === undefined) return { ok: false, why: `there is no command ${String(command.do).slice(0, 60)}` }
    const draft = kind.change(job, command)
    if (typeof draft === 'string') return { ok: false, why: draft }
    const read = amendJob(job, draft)
    return read.ok ? read : { ok: false, why: whyOf(read.problems) }
  } catch (error) {
    return { ok: false, why: `the command is not whole: ${error instanceof Error ? error.message.slice(0, 200) : 'unknown reason'}` }
  }
}

/** The name of its step, in a builder's words: 'Move point 3 of Run 7'. @param job as it is before the command */
export function labelOf(command: Command, job: Job): string {
  return kindOf(command)?.label(command, job) ?? command.do
}

/** A 'drag' command may be given again and again while a pointer or key is held, and is then one step; a 'step' is one each time. */
export function undoPolicy(command: Command): 'step' | 'drag' {
  return kindOf(command)?.dragKey === undefined ? 'step' : 'drag'
}

/** What two drag commands have in common that belong to one drag; undefined for a 'step'. */
export function dragKey(command: Command): string | undefined {
  return kindOf(command)?.dragKey?.(command)
}

/** The first of a job's problems as a sentence. */
function whyOf(problems: readonly Problem[]): string {
  const [{ path, id, found, allowed }] = problems
  const key = /([A-Za-z]+)(?:\[\d+\])*$/.exec(path)?.[1]
  const what = key === undefined ? 'that' : wordsOf(key)
  const plain = allowed.replace(/\b[a-z]+(?:[A-Z][a-z]*)*(?:Mm|Deg)\b/g, wordsOf)
  return `${what}${id === undefined ? '' : ` of ${id}`} cannot be ${found}; it must be ${plain}`
}
