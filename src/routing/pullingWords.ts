/** The pulling order, and what becomes of rigid duct, in words for the site. */
import { isSpigot } from '#assembly/runs.ts'
import type { CheckContext } from '#checks/context.ts'
import { mm } from '#checks/wording.ts'
import type { DrawingEnd } from './drawingIn.ts'
import type { PlanPass } from './planPasses.ts'
import type { PullingOrder, PullingStep } from './pullingOrder.ts'
import type { RigidLeg, RigidRun } from './willItGoIn.ts'

/** What is written on the tape round the duct: its place in the order and its run. */
export function labelOf(context: CheckContext, { place, runIndex }: PullingStep): string {
  const { id, name } = context.runs[runIndex].placed.run
  return `${place} / ${id}${id === name ? '' : ` ${name}`}`
}

/** 'Manifold 1, spigot 3' */
export function endName(context: CheckContext, runIndex: number, end: 'from' | 'to'): string {
  const there = context.runs[runIndex].placed[end]
  return isSpigot(there) ? there.name : there.sleeve.name
}

/** From which end it goes in; of rigid duct that it goes in piece by piece. */
export function goesInWords(context: CheckContext, { runIndex, ends }: PullingStep): string {
  if (ends.length === 0) return 'piece by piece'
  const free = ends.find(({ verdict }) => verdict === 'free')
  return free === undefined ? 'from neither end' : `from ${endName(context, runIndex, free.end)}`
}

/** What bars the duct from an end, and which end is left for it; '' where nothing bars it. */
export function endNote(context: CheckContext, runIndex: number, { end, verdict, straightMm, neededMm, blockedBy }: DrawingEnd, otherIsFree: boolean): string {
  const name = endName(context, runIndex, end)
  const feed = otherIsFree ? `Feed it from the ${endName(context, runIndex, end === 'from' ? 'to' : 'from')} end only: at ${name}` : `It cannot be fed from ${name}:`
  switch (verdict) {
    case 'free': return ''
    case 'first-bend':
      return `${feed} its first bend starts ${mm(straightMm)} from the end, and turning in from below takes ${mm(neededMm)} of straight.`
    case 'no-room':
      return `${feed} it meets ${blockedBy?.name ?? 'something'} as it comes up from below.`
  }
}

/** Notes to one run: ends that are barred, and what it has to go under. */
export function stepNotes(context: CheckContext, step: PullingStep): string[] {
  const notes = step.ends.map((end) => endNote(context, step.runIndex, end, step.ends.some((other) => other.end !== end.end && other.verdict === 'free'))).filter((note) => note !== '')
  if (step.ends.length > 0 && step.ends.every(({ verdict }) => verdict !== 'free')) notes.push('Lay it before what bars it is fixed, or give it more straight at one end.')
  return [...notes, ...step.under.map((pass) => `It goes in under ${nameOf(context, pass.upper)}, which is there already, ${placeWords(pass)}.`)]
}

export function ringWords(context: CheckContext, { runs, passes }: PullingOrder['rings'][number]): string {
  const steps = passes.map((pass) => `${nameOf(context, pass.lower)} lies under ${nameOf(context, pass.upper)} ${placeWords(pass)}`)
  const last = passes[passes.length - 1]
  return `${runs.length} ducts each lie under the next: ${steps.join('; ')}. So no order has all of them lower first: ${nameOf(context, last.lower)} is threaded in under ${nameOf(context, last.upper)} when that is there already.`
}

function nameOf(context: CheckContext, runIndex: number): string {
  return context.runs[runIndex].placed.run.name
}

function placeWords({ at: [x, y], riseMm }: PlanPass): string {
  return `at x ${Math.round(x)} y ${Math.round(y)}, ${mm(riseMm)} from axis to axis`
}

const PIECE_WORDS: Readonly<Record<RigidRun['verdict'], string>> = {
  'goes-in': 'goes in', 'before-joists': 'only before the joists are fixed', 'no-opening': 'passes a joist where there is no opening for it',
}

export function rigidWords({ verdict }: RigidRun): string {
  return PIECE_WORDS[verdict]
}

/** One straight leg: the longest piece that goes in and why, and into how many it is cut. */
export function legWords(context: CheckContext, { kind, longestMm, between, pieces, pieceMm, verdict }: RigidLeg): string {
  const { joists } = context.assembly
  if (verdict === 'no-opening') return PIECE_WORDS[verdict]
  const cut = pieces === 1 ? 'one piece' : `${pieces} pieces of ${mm(pieceMm)}`
  if (kind === 'joists') {
    const where = between === null ? '' : ` tipped in between ${joists[between[0]].name} and ${joists[between[1]].name}`
    return verdict === 'goes-in' ? `${cut}; the longest${where} is ${longestMm} mm` : `${PIECE_WORDS[verdict]}: the longest${where} is ${longestMm} mm`
  }
  if (verdict === 'before-joists') return `${PIECE_WORDS[verdict]}: the bay is narrower than the duct`
  return longestMm === null ? cut : `${cut}; the ceiling zones there allow up to ${longestMm} mm`
}
