/** The door of this folder: a checked job -> sheets to print and schedules. A new sheet is its file and a line here. */
import type { CheckContext } from '#checks/context.ts'
import { cutTables } from './cutting/cutTables.ts'
import type { SheetOptions } from './options.ts'
import type { Sheet } from './page.ts'
import { pullingTable } from './pullingTable.ts'
import { elevationSheets } from './setOut/elevationSheets.ts'
import { equipmentSheets } from './setOut/equipmentSheets.ts'
import { planSheet } from './setOut/planSheet.ts'
import { setOutTables } from './setOut/setOutTables.ts'
import { tableSheets } from './tableSheets.ts'
import { templatesOf } from './templates/templatesOf.ts'
import { tiledSheets } from './templates/tiled.ts'
import type { Table } from './table.ts'

/** One document to print: its sheets, and the schedules that are set on some of them. */
export interface Booklet {
  readonly id: 'set-out' | 'cut-list' | 'pulling' | 'templates'
  readonly title: string
  readonly drawings: readonly Sheet[]
  readonly tables: readonly Table[]
}

export function bookletsOf(context: CheckContext, options: SheetOptions): Booklet[] {
  const templates = templatesOf(context, options)
  return [
    { id: 'set-out', title: 'Set-out', drawings: [planSheet(context, options), ...elevationSheets(context, options), ...equipmentSheets(context, options)], tables: setOutTables(context, options) },
    { id: 'cut-list', title: 'Cut list', drawings: [], tables: cutTables(context, options) },
    { id: 'pulling', title: 'Pulling sheet', drawings: [], tables: [pullingTable(context, options)] },
    ...templates.length === 0 ? [] : [{ id: 'templates' as const, title: 'Templates at full size', drawings: templates.flatMap((template) => tiledSheets(template, options)), tables: [] }],
  ]
}

/** Every page of a booklet, in the order of printing. */
export function pagesOf({ assembly: { job } }: CheckContext, options: SheetOptions, { drawings, tables }: Booklet): Sheet[] {
  return [...drawings, ...tables.flatMap((table) => tableSheets(job, options, table))]
}
