/** The pulling sheet: for every duct its place in the order, its label, where it goes, and what it passes on the way. */
import type { CheckContext } from '#checks/context.ts'
import { knownCrossings } from '#checks/openingUse.ts'
import { pullingOrder } from '#routing/pullingOrder.ts'
import { endName, goesInWords, labelOf, ringWords, stepNotes } from '#routing/pullingWords.ts'
import type { SheetOptions } from './options.ts'
import { cutList } from './cutting/cutList.ts'
import { bothRows } from './cutting/cutTables.ts'
import type { Cell, Table } from './table.ts'

export function pullingTable(context: CheckContext, options: SheetOptions): Table {
  const order = pullingOrder(context), cuts = cutList(context, options), { joists } = context.assembly
  const stepOf = new Map(order.steps.map((step) => [step.runIndex, step]))
  const idOf = (runIndex: number): string => context.runs[runIndex].placed.run.id
  return {
    id: 'pulling', title: 'Pulling sheet',
    notes: ['Lower ducts go in first. Write the label on tape round both ends of each duct. Passes: joist and opening or hole one after another from the end that the duct goes in at; rigid duct, and duct that goes in at neither end, from its start.', ...order.rings.map((ring) => ringWords(context, ring))],
    columns: [{ name: 'Place', decimals: 0 }, { name: 'Run' }, { name: 'Label' }, { name: 'From' }, { name: 'To' }, { name: 'Cut mm', decimals: 0 }, { name: 'Goes in' }, { name: 'Passes' }, { name: 'Crosses' }, { name: 'Mind' }],
    ...bothRows(order.steps.map(({ runIndex }) => cuts[runIndex]), (cut, cutCell): Cell[] => {
      const step = stepOf.get(cut.runIndex)!
      const fromFarEnd = step.ends.find(({ verdict }) => verdict === 'free')?.end === 'to', crossings = [...knownCrossings(context, step.runIndex)]
      const passes = (fromFarEnd ? crossings.reverse() : crossings).map(({ joistIndex, opening, hole }) => `${joists[joistIndex].id} ${opening !== null ? `opening ${opening}` : hole !== null ? `hole ${hole}` : 'no opening'}`)
      const crosses = order.passes.flatMap(({ lower, upper, at: [x, y] }): string[] => {
        const place = `at x ${Math.round(x)} y ${Math.round(y)}`
        return lower === step.runIndex ? [`under ${idOf(upper)} ${place}`] : upper === step.runIndex ? [`over ${idOf(lower)} ${place}`] : []
      })
      return [step.place, idOf(step.runIndex), labelOf(context, step), endName(context, step.runIndex, 'from'), endName(context, step.runIndex, 'to'), cutCell, goesInWords(context, step), passes.join(', '), crosses.join('; '), stepNotes(context, step).join(' ')]
    }),
  }
}
