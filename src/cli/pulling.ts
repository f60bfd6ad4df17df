import { assemble } from '#assembly/assemble.ts'
import { contextFor, type CheckContext } from '#checks/context.ts'
import type { PlanPass } from '#routing/planPasses.ts'
import { pullingOrder, type PullingOrder } from '#routing/pullingOrder.ts'
import { endName, goesInWords, labelOf, legWords, rigidWords, ringWords, stepNotes } from '#routing/pullingWords.ts'
import { rigidRuns, type RigidRun } from '#routing/willItGoIn.ts'
import { EXIT, readJob, type Command } from './command.ts'
import { mm, table } from './table.ts'

export const pullingCommand: Command = {
  name: 'pulling', usage: 'pulling FILE', takesFile: true, options: [],
  summary: 'in which order the ducts go in, from which end, and in which pieces',
  about: [
    'Lists the ducts in the order in which they are drawn in: where two pass in plan the lower goes in first, so that none has to go in under one',
    'that is there already. Where runs lie under each other in a ring that cannot be kept everywhere; the crossings that break it are named.',
    'For bendable duct: the end from which it goes in, and ends whose first bend, or what stands below, bars them. For rigid duct: the longest',
    'piece of each straight leg that can be tipped in from below between two joists, or laid along its bay, and into how many pieces it is cut.',
    `Exit code ${EXIT.clean} when every duct goes in, ${EXIT.findings} when one does not, ${EXIT.unusable} when the file cannot be used.`,
  ].join('\n'),
  example: 'joistway pulling fixtures/good/canal-house.json',
  execute(call) {
    const job = readJob(call)
    if (job === null) return EXIT.unusable
    const context = contextFor(assemble(job)), order = pullingOrder(context), rigid = rigidRuns(context)
    if (call.json) call.console.out(JSON.stringify({ usable: true, job: job.name, ...asData(context, order, rigid) }, null, 2))
    else call.console.out(readable(context, order, rigid))
    const isBarred = order.steps.some(({ ends }) => ends.length > 0 && ends[0].verdict !== 'free') || rigid.some(({ verdict }) => verdict !== 'goes-in')
    return isBarred ? EXIT.findings : EXIT.clean
  },
}

function readable(context: CheckContext, order: PullingOrder, rigid: readonly RigidRun[]): string {
  const { job } = context.assembly
  if (order.steps.length === 0) return `${job.name}: the job has no runs.`
  const rigidOf = new Map(rigid.map((run) => [run.runIndex, run]))
  const under = order.steps.reduce((sum, step) => sum + step.under.length, 0)
  const lines = [`${job.name}: ${counted(order.steps.length, 'duct')} in order, ${counted(order.passes.length, 'place')} where one passes over another; ${under === 0 ? 'none goes' : `${counted(under, 'time')} one goes`} in under one already there`, '']
  lines.push(table(
    ['Place', 'Run', 'Length mm', 'Goes in'],
    order.steps.map((step) => {
      const { placed } = context.runs[step.runIndex], own = rigidOf.get(step.runIndex)
      return [String(step.place), placed.run.name, mm(placed.centreline.lengthMm), own === undefined ? goesInWords(context, step) : `${goesInWords(context, step)}: ${rigidWords(own)}`]
    }), [0, 2]), '')
  for (const step of order.steps) {
    const own = rigidOf.get(step.runIndex)
    const legs = own === undefined ? [] : own.legs.map((leg, k) => `leg ${k + 1}, ${mm(leg.lengthMm)} mm: ${legWords(context, leg)}.`)
    const notes = [...stepNotes(context, step), ...legs]
    if (notes.length > 0) lines.push(labelOf(context, step), ...notes.map((note) => `  ${note}`), '')
  }
  lines.push(...order.rings.flatMap((ring) => [ringWords(context, ring), '']))
  if (!order.isLeast) lines.push('Too many runs lie under each other in one knot to prove that no order has fewer going in under others.', '')
  return lines.join('\n').trimEnd()
}

function counted(count: number, what: string): string {
  return `${count} ${what}${count === 1 ? '' : 's'}`
}

function asData(context: CheckContext, order: PullingOrder, rigid: readonly RigidRun[]): object {
  const idOf = (runIndex: number): string => context.runs[runIndex].placed.run.id
  const pass = ({ lower, upper, ...rest }: PlanPass): object => ({ lower: idOf(lower), upper: idOf(upper), ...rest })
  const { joists } = context.assembly
  return {
    isLeast: order.isLeast, passes: order.passes.map(pass),
    rings: order.rings.map(({ runs, passes }) => ({ runs: runs.map(idOf), passes: passes.map(pass) })),
    order: order.steps.map((step) => ({
      place: step.place, run: idOf(step.runIndex), label: labelOf(context, step), goesIn: goesInWords(context, step),
      ends: step.ends.map((end) => ({ ...end, name: endName(context, step.runIndex, end.end) })), under: step.under.map(pass), notes: stepNotes(context, step),
    })),
    rigid: rigid.map(({ runIndex, verdict, legs }) => ({
      run: idOf(runIndex), verdict,
      legs: legs.map(({ between, ...leg }) => ({ ...leg, between: between === null ? null : between.map((index) => joists[index].id), words: legWords(context, { ...leg, between }) })),
    })),
  }
}
