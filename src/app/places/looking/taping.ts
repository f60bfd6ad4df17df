/** The tape: its two ends, and what it reads. */
import type { Assembly } from '#assembly/assembly.ts'
import type { CheckContext } from '#checks/context.ts'
import { tape } from '#checks/tape.ts'
import type { Tape, TapeEnd } from '#checks/tape.ts'
import { capital } from '../../facts.ts'
import { useChecks } from './useChecks.ts'
import { useViewing } from './viewing.ts'

export type Reading = { readonly ok: true, readonly tape: Tape } | { readonly ok: false, readonly why: string } | null

const readings = new WeakMap<CheckContext, { readonly ends: readonly [TapeEnd, TapeEnd], readonly reading: Reading }>()

/** Read once for each state of the job and each pair of ends. */
export function readingOf(checks: CheckContext, from: TapeEnd | null, to: TapeEnd | null): Reading {
  if (from === null || to === null) return null
  const known = readings.get(checks)
  if (known !== undefined && known.ends[0] === from && known.ends[1] === to) return known.reading
  const read = tape(checks, from, to)
  const reading: Reading = 'why' in read ? { ok: false, why: read.why } : { ok: true, tape: read }
  readings.set(checks, { ends: [from, to], reading })
  return reading
}

export function useReading(): Reading {
  const checks = useChecks()
  const [from, to] = useViewing((now) => now.tapeEnds)
  return checks === null ? null : readingOf(checks, from, to)
}

export interface EndChoice { readonly key: string, readonly words: string, readonly end: TapeEnd }

const FACES = ['underside', 'top', 'side'] as const

/** Ends that can be chosen without touching: runs, faces of ceilings, the members of joists but their webs, and every thing that is one body. Webs are touched in the view. */
export function endChoices({ runs, solids, parts, job, joists }: Assembly): { readonly group: string, readonly choices: readonly EndChoice[] }[] {
  const things = Array.from({ length: solids.count }, (_, i) => i).filter((i) => parts.kindOf(i) === 'whole' || parts.kindOf(i) === 'body')
  const members = joists.flatMap(({ firstSolid, endSolid }) => Array.from({ length: endSolid - firstSolid }, (_, n) => firstSolid + n)).filter((i) => parts.kindOf(i) !== 'web' && parts.kindOf(i) !== 'post' && !things.includes(i))
  return [
    { group: 'Runs', choices: runs.map(({ run }, runIndex) => ({ key: `run:${runIndex}`, words: run.name, end: { kind: 'run' as const, runIndex } })) },
    { group: 'Ceilings', choices: job.zones.flatMap(({ id, name }) => FACES.map((face) => ({ key: `zone:${id}:${face}`, words: `${name}, ${face}`, end: { kind: 'zone' as const, zoneId: id, face } }))) },
    { group: 'Joists', choices: members.map((solidIndex) => ({ key: `solid:${solidIndex}`, words: capital(parts.describe(solidIndex).name), end: { kind: 'solid' as const, solidIndex } })) },
    { group: 'Things', choices: things.map((solidIndex) => ({ key: `solid:${solidIndex}`, words: parts.describe(solidIndex).name, end: { kind: 'solid' as const, solidIndex } })) },
  ].filter(({ choices }) => choices.length > 0)
}

export function keyOfEnd(end: TapeEnd | null): string {
  switch (end?.kind) {
    case undefined: return ''
    case 'run': return `run:${end.runIndex}`
    case 'solid': return `solid:${end.solidIndex}`
    case 'zone': return `zone:${end.zoneId}:${end.face}`
  }
}
