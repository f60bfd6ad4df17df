/**
 * In which order the ducts of a job are drawn in, and from which end each goes in. All of it is data; pullingWords.ts words it.
 *
 * Lower first. A person works from below, and the deck is above: what lies lower is laid on the chords, and the next duct is drawn
 * over it, carried by it. A duct drawn in under one already in place would have to be held down along its way while the other
 * hangs on it, and its end cannot be seen from below at the place where it would catch. So where two runs pass in plan the lower goes
 * in before the upper. Where that leads round in a ring, the order that breaks it at fewest passes is taken, and
 * those passes are named. Where nothing decides, rigid duct goes before bendable, and then the job's own order counts.
 */
import type { CheckContext } from '#checks/context.ts'
import { drawingEnd, type DrawingEnd } from './drawingIn.ts'
import { orderRuns } from './orderRuns.ts'
import { planPasses, type PlanPass } from './planPasses.ts'

export interface PullingStep {
  /** 1 goes in first; it is also what the duct's label says */
  readonly place: number
  readonly runIndex: number
  /** passes where this run has to go in under one that is already there */
  readonly under: readonly PlanPass[]
  /** of bendable duct: both its ends, the better one first; empty for rigid duct, which goes in piece by piece */
  readonly ends: readonly DrawingEnd[]
}

export interface PullingOrder {
  /** first to last; every run of the job once */
  readonly steps: readonly PullingStep[]
  /** every pass in plan, in the order of the runs */
  readonly passes: readonly PlanPass[]
  /** rings of runs, each lying lower than the next somewhere and the last lower than the first, with the passes that make them so; the last pass is the one that the order breaks */
  readonly rings: readonly { readonly runs: readonly number[], readonly passes: readonly PlanPass[] }[]
  /** no order has fewer runs going in under others; not proved for knots of many runs */
  readonly isLeast: boolean
}

/** Forces nearer to each other than this are alike, as a share. */
const ALIKE = 0.02

export function pullingOrder(context: CheckContext): PullingOrder {
  const runs = context.runs.map(({ placed }) => placed)
  const passes = planPasses(runs)
  const wishes = runs.map(() => new Map<number, number>())
  for (const { lower, upper } of passes) wishes[lower].set(upper, (wishes[lower].get(upper) ?? 0) + 1)
  const rank = runs.map(({ type }, k) => type.kind === 'rigid' ? k : runs.length + k)
  const { order, rings, isLeast } = orderRuns(wishes, rank)
  const placeOf = new Map(order.map((runIndex, k) => [runIndex, k + 1]))
  const between = (lower: number, upper: number): PlanPass => passes.find((pass) => pass.lower === lower && pass.upper === upper)!
  return {
    passes, isLeast,
    rings: rings.map((ring) => ({ runs: ring, passes: ring.map((lower, k) => between(lower, ring[(k + 1) % ring.length])) })),
    steps: order.map((runIndex, k) => ({
      place: k + 1, runIndex,
      under: passes.filter(({ lower, upper }) => lower === runIndex && placeOf.get(upper)! < k + 1),
      ends: runs[runIndex].type.kind === 'rigid' ? [] : betterFirst(drawingEnd(context, runIndex, 'from'), drawingEnd(context, runIndex, 'to')),
    })),
  }
}

function betterFirst(from: DrawingEnd, to: DrawingEnd): DrawingEnd[] {
  const isFree = (end: DrawingEnd): number => Number(end.verdict === 'free')
  if (isFree(from) !== isFree(to)) return isFree(from) > 0 ? [from, to] : [to, from]
  return to.pullMm < from.pullMm * (1 - ALIKE) ? [to, from] : [from, to]
}
