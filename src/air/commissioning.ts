/** The handover with the meter: what was read, terminal by terminal, round by round, and what to do next. The record is part of the job. */
import type { Job, MeterRound, FanSpeed } from '#model/index.ts'
import { turnsFor, type Turn } from './balance.ts'
import type { Rates, TerminalFlow } from './rates.ts'
import { valveOf } from './valve.ts'

export interface ReadingRow {
  readonly terminal: TerminalFlow
  readonly targetLps: number
  /** null: not read in this round */
  readonly readLps: number | null
  readonly setting: number | null
  /** its valve was turned in this round before it was read */
  readonly isTurned: boolean
  /** share of the target above or below it; null without a reading or a target */
  readonly offRatio: number | null
  /** null while the user has named no tolerance, or nothing was read */
  readonly isWithin: boolean | null
}

export interface StreamRound {
  readonly stream: 'supply' | 'extract'
  readonly targetLps: number
  readonly readLps: number
  readonly unread: number
  /** what to turn next is first; empty when nothing was read */
  readonly turns: readonly Turn[]
  /** reading in all over target in all: the fan is to move by the other way round, once the shares are right */
  readonly totalRatio: number | null
}

export interface RoundReport {
  /** from 1 */
  readonly number: number
  readonly round: MeterRound
  readonly rows: readonly ReadingRow[]
  readonly streams: readonly StreamRound[]
  /** supply less extract, share of the larger; null until both have been read */
  readonly imbalanceRatio: number | null
  /** readings of terminals that the job no longer has */
  readonly strangers: readonly MeterRound['readings'][number][]
  /** every terminal with a target read, and within the tolerance that the user named */
  readonly isDone: boolean
}

/** Below which a terminal's share is left alone where the user has named no tolerance: the meter's own accuracy in Approved Document F 4.10. */
export const METER_ACCURACY = 0.05

export function roundReports(job: Job, rates: Rates): RoundReport[] {
  const record = job.air?.commissioning
  return (record?.rounds ?? []).map((round, i) => roundReport(round, i + 1, rates, record?.tolerancePercent))
}

/** @param tolerancePercent the user's own; none is assumed, since Approved Document F names none */
export function roundReport(round: MeterRound, number: number, rates: Rates, tolerancePercent: number | undefined): RoundReport {
  // the last reading of a terminal in a round is the one that counts
  const readings = new Map(round.readings.map((reading) => [reading.terminal, reading]))
  const tolerance = tolerancePercent === undefined ? undefined : tolerancePercent / 100
  const rows = rates.terminals.map((terminal): ReadingRow => {
    const targetLps = targetOf(terminal, round.speed)
    const reading = readings.get(terminal.equipment.id)
    const offRatio = reading === undefined || !(targetLps > 0) ? null : reading.lps / targetLps - 1
    return {
      terminal, targetLps, readLps: reading?.lps ?? null, setting: reading?.setting ?? null, isTurned: reading?.turned === true, offRatio,
      isWithin: offRatio === null || tolerance === undefined ? null : Math.abs(offRatio) <= tolerance + 1e-12,
    }
  })
  const readLps = new Map([...readings].map(([id, { lps }]) => [id, lps]))
  const fullyOpen = new Set(rows.flatMap(({ terminal: { equipment }, setting }) => {
    const valve = valveOf(equipment)
    return valve !== null && setting === valve.rows[0].setting ? [equipment.id as string] : []
  }))
  const streams = (['supply', 'extract'] as const).map((stream): StreamRound => {
    const own = rows.filter(({ terminal }) => terminal.stream === stream)
    const targets = own.map(({ terminal, targetLps }) => ({ id: terminal.equipment.id as string, lps: targetLps }))
    return {
      stream, targetLps: sum(own.map((row) => row.targetLps)), readLps: sum(own.map((row) => row.readLps ?? 0)),
      unread: own.filter((row) => row.targetLps > 0 && row.readLps === null).length,
      ...turnsFor(targets, readLps, tolerance ?? METER_ACCURACY, fullyOpen),
    }
  })
  const [supply, extract] = streams
  const isBothRead = supply.readLps > 0 && extract.readLps > 0 && supply.unread + extract.unread === 0
  const known = new Set<string>(rates.terminals.map(({ equipment }) => equipment.id))
  const wanted = rows.filter((row) => row.targetLps > 0)
  return {
    number, round, rows, streams,
    imbalanceRatio: isBothRead ? (supply.readLps - extract.readLps) / Math.max(supply.readLps, extract.readLps) : null,
    strangers: round.readings.filter(({ terminal }) => !known.has(terminal)),
    isDone: wanted.length > 0 && wanted.every((row) => row.isWithin === true),
  }
}

/** What the person with the meter does next in a round. */
export type NextStep =
  | { readonly kind: 'read', readonly terminal: TerminalFlow }
  | { readonly kind: 'turn', readonly terminal: TerminalFlow, readonly turn: Turn }
  /** each valve has had its turn: fans that are off, by how many times their speed; and the round is over */
  | { readonly kind: 'end', readonly fans: readonly { readonly stream: 'supply' | 'extract', readonly speedRatio: number }[] }

/** A fan nearer than this to what is wanted in all is left as it is. */
export const FAN_WITHIN = 0.01

/** Every terminal is read once, in order; then the valves are turned, each once in a round, furthest from its share first; then the fans. */
export function nextStep({ rows, streams }: RoundReport): NextStep {
  const unread = rows.find(({ readLps, targetLps }) => readLps === null && targetLps > 0)
  if (unread !== undefined) return { kind: 'read', terminal: unread.terminal }
  const open = new Map(rows.flatMap(({ terminal, isTurned }) => isTurned ? [] : [[terminal.equipment.id as string, terminal] as const]))
  const turn = streams.flatMap(({ turns }) => turns).filter(({ id, way }) => way !== 'leave' && open.has(id)).sort(byDistance)[0]
  if (turn !== undefined) return { kind: 'turn', terminal: open.get(turn.id)!, turn }
  const fans = streams.flatMap(({ stream, totalRatio }) => totalRatio === null || Math.abs(totalRatio - 1) <= FAN_WITHIN ? [] : [{ stream, speedRatio: 1 / totalRatio }])
  return { kind: 'end', fans }
}

function byDistance(a: Turn, b: Turn): number {
  return Math.abs(Math.log(b.shareRatio || 1e-9)) - Math.abs(Math.log(a.shareRatio || 1e-9))
}

export function targetOf({ trickleLps, normalLps, boostLps }: TerminalFlow, speed: FanSpeed): number {
  return { trickle: trickleLps, normal: normalLps, boost: boostLps }[speed]
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0)
}
