/** The passes with the meter of the job as shown, and what the person with the meter does next. */
import { nextStep, roundReports, type NextStep, type RoundReport } from '#air/commissioning.ts'
import { percent } from '#air/wording.ts'
import { ratesOf, type Rates, type TerminalFlow } from '#air/rates.ts'
import { boresAt } from '#air/systems.ts'
import type { Command } from '#commands/index.ts'
import type { Assembly } from '#assembly/assembly.ts'
import type { Commissioning, FanSpeed, Job, MeterUnit } from '#model/index.ts'

export const SPEED_WORDS: Readonly<Record<FanSpeed, string>> = { trickle: 'trickle', normal: 'normal running', boost: 'boost' }

export interface Round {
  readonly job: Job
  readonly assembly: Assembly
  readonly record: Commissioning | undefined
  readonly rates: Rates
  readonly rounds: readonly RoundReport[]
  /** the last pass; null before the first */
  readonly round: RoundReport | null
  readonly isEnded: boolean
  /** null when no pass is open */
  readonly step: NextStep | null
  readonly shows: MeterUnit
}

export function roundOf(assembly: Assembly): Round {
  const { job } = assembly
  const bores = boresAt(assembly)
  const rates = ratesOf(job, (id) => bores.get(id) ?? 0)
  const rounds = roundReports(job, rates), round = rounds.at(-1) ?? null
  const record = job.air?.commissioning
  const isEnded = round?.round.ended === true
  return { job, assembly, record, rates, rounds, round, isEnded, step: round === null || isEnded ? null : nextStep(round), shows: record?.meter?.shows ?? 'l/s' }
}

/** The terminal in hand: the one picked, else the one that is next; null when nothing is left to do. */
export function terminalInHand({ round, step }: Round, picked: string | null): TerminalFlow | null {
  if (round === null) return null
  const own = round.rows.find(({ terminal }) => terminal.equipment.id === picked)?.terminal
  return own ?? (step === null || step.kind === 'end' ? null : step.terminal)
}

/** The one before or after it in the order of the list. */
export function neighbour({ round }: Round, id: string | undefined, by: 1 | -1): string | null {
  if (round === null || round.rows.length === 0) return null
  const at = round.rows.findIndex(({ terminal }) => terminal.equipment.id === id)
  const count = round.rows.length
  return round.rows[(Math.max(at, by === 1 ? -1 : 0) + by + count) % count].terminal.equipment.id
}

/**
 * The command that keeps a reading. Once every terminal has been read, a reading means that its valve was turned; before that
 * a second one puts the first right.
 */
export function readingCommand({ rounds, step }: Round, terminal: string, lps: number, setting: number | null | undefined): Command {
  return { do: 'take-reading', pass: rounds.length - 1, terminal, lps, setting, turned: step !== null && step.kind !== 'read' ? true : undefined }
}

/** Ends the pass that is open, if one is, and starts the next: one step. */
export function nextPass({ rounds, round, isEnded }: Round, speed: FanSpeed, more: { readonly day?: string, readonly by?: string } = {}): Command {
  const start: Command = { do: 'start-pass', speed, day: more.day ?? round?.round.day, by: more.by ?? round?.round.by }
  return round === null || isEnded ? start
    : { do: 'together', name: `End pass ${rounds.length} and start the next`, commands: [{ do: 'edit-pass', pass: rounds.length - 1, set: { ended: true } }, start] }
}

/** In or out of the user's own tolerance; without one, only how far off. */
export function verdictOf(readLps: number, targetLps: number, tolerancePercent: number | undefined): { readonly kind: 'in' | 'out' | 'plain', readonly words: string } {
  if (!(targetLps > 0)) return { kind: 'plain', words: 'No target.' }
  const off = readLps / targetLps - 1
  const words = Math.abs(off) < 0.005 ? 'on its target' : `${percent(Math.abs(off))} ${off > 0 ? 'over' : 'under'}`
  if (tolerancePercent === undefined) return { kind: 'plain', words: `${words}; no tolerance is named` }
  const isIn = Math.abs(off) <= tolerancePercent / 100 + 1e-12
  return { kind: isIn ? 'in' : 'out', words: `${isIn ? '\u2713 In' : '\u2717 Out'}: ${words}, ${tolerancePercent} % allowed` }
}
