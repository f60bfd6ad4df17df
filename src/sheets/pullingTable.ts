/** The pulling sheet: for every duct its place in the order, its label, where it goes, and what it passes on the way. */
import type { CheckContext } from '#checks/context.ts'
import { knownCrossings } from '#checks/openingUse.ts'
import { pullingOrder } from '#routing/pullingOrder.ts'
import { endName, goesInWords, labelOf, ringWords, stepNotes } from '#routing/pullingWords.ts'
import type { SheetOptions } from './options.ts'
import { cutList } from './cutting/cutList.ts'
import type { Cell, Table } from './table.ts'

export function pullingTable(context: CheckContext, options: SheetOptions): Table {
  const order = pullingOrder(context), cuts = cutList(context, options), { joists } = context.assembly
  const idOf = (runIndex: number): string => context.runs[runIndex].placed.run.id
  return {
    id: 'pulling', title: 'Pulling sheet',
    notes: ['Lower ducts go in first. Write the label on tape round both ends of each duct. Passes: joist and opening or hole in sequence from its start.', ...order.rings.map((ring) => ringWords(context, ring))],
    columns: [{ name: 'Place', decimals: 0 }, { name: 'Label' }, { name: 'From' }, { name: 'To' }, { name: 'Cut mm', decimals: 0 }, { name: 'Goes in' }, { name: 'Passes' }, { name: 'Crosses' }, { name: 'Mind' }],
    rows: order.steps.map((step): Cell[] => {
      const passes = knownCrossings(context, step.runIndex).map(({ joistIndex, opening, hole }) => `${joists[joistIndex].id} ${opening !== null ? `opening ${opening}` : hole !== null ? `hole ${hole}` : 'no opening'}`)
      const crosses = order.passes.flatMap(({ lower, upper, at: [x, y] }): string[] => {
        const place = `at x ${Math.round(x)} y ${Math.round(y)}`
        return lower === step.runIndex ? [`under ${idOf(upper)} ${place}`] : upper === step.runIndex ? [`over ${idOf(lower)} ${place}`] : []
      })
      return [step.place, labelOf(context, step), endName(context, step.runIndex, 'from'), endName(context, step.runIndex, 'to'), cuts[step.runIndex].cutMm, goesInWords(context, step), passes.join(', '), crosses.join('; '), stepNotes(context, step).join(' ')]
    }),
  }
}
