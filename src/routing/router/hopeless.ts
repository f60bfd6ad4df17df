/** Runs for which there is proved to be no way: the others are not laid over and over for their sake. */
import { isSpigot } from '#assembly/runs.ts'
import type { PlacedRun } from '#assembly/assembly.ts'
import type { CheckContext } from '#checks/context.ts'
import type { Laying } from './laying.ts'
import { provedCrowded } from './provedCrowded.ts'
import { provedBlocked, provedShutIn, type ProvedRun } from './provedShut.ts'

/** places looked at for a proof by planes */
const MOST_PLACES = 50_000

/** Whether the first of the duct is barred at an end that it must leave from: soon said, so it is asked of every run. @param mayChangePorts one manifold's spigot that is barred is then no proof */
export function isBlocked(context: CheckContext, laying: Laying, mayChangePorts: boolean): boolean {
  const { from, to } = laying
  return provedBlocked(context, runOf(laying), [...isFixed(from, mayChangePorts) ? ['from' as const] : [], ...isFixed(to, mayChangePorts) ? ['to' as const] : []]).shut !== null
}

/** Whether all ways are shut to it, the other runs not counted: asked of those for which the search found none. */
export function isHopeless(context: CheckContext, laying: Laying, mayChangePorts: boolean): boolean {
  const { run, from, to } = laying, placed = runOf(laying)
  return provedCrowded(context, [placed], run.id, mayChangePorts, MOST_PLACES).crowded !== null
    || isFixed(from, mayChangePorts) && isFixed(to, mayChangePorts) && provedShutIn(context, placed).shut !== null
}

/**
 * Whether it is proved of each run that lacks room that no more can be laid than are: as many as can pass a place that it must pass as well do.
 * @param lacks ids of runs that lack room; @param standing runs that stay where they are
 */
export function isFull(context: CheckContext, standing: readonly PlacedRun[], layings: readonly Laying[], lacks: ReadonlySet<string>, mayChangePorts: boolean): boolean {
  const runs = [...standing, ...layings.map(runOf)]
  return [...lacks].every((id) => {
    const { crowded } = provedCrowded(context, runs, id, mayChangePorts, MOST_PLACES)
    return crowded !== null && crowded.runIds.filter((other) => !lacks.has(other)).length >= crowded.most
  })
}

/** The layings of which each has spigots to itself: of two at one spigot the first. */
export function withOneEach(layings: readonly Laying[]): Laying[] {
  const taken = new Set<PlacedRun['from']>()
  return layings.filter(({ from, to }) => {
    const isFree = [from, to].every((end) => !isSpigot(end) || !taken.has(end))
    if (isFree) for (const end of [from, to]) taken.add(end)
    return isFree
  })
}

function isFixed(end: PlacedRun['from'], mayChangePorts: boolean): boolean {
  return !mayChangePorts || !isSpigot(end) || end.equipment.kind !== 'manifold'
}

function runOf({ run, type, from, to, ends: { radiusMm } }: Laying): ProvedRun {
  return { run, type, from, to, outerRadiusMm: radiusMm }
}
