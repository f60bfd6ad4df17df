/** Two versions of a job: which runs moved and by how much, what else is other, and which sheets to print again. */
import type { CheckContext } from '#checks/context.ts'
import { placeWords } from '#checks/wording.ts'
import { placeOf } from '#checks/refs.ts'
import type { Job } from '#model/index.ts'
import { bookletsOf, pagesOf } from '../index.ts'
import type { SheetOptions } from '../options.ts'
import type { Sheet } from '../page.ts'
import type { Table } from '../table.ts'
import { farthestApart, type Apart } from './farthestApart.ts'

/** Less than this is no move, mm: what a file rounds away. */
const STILL_MM = 0.05

export interface RunChange {
  readonly id: string
  readonly name: string
  readonly what: 'new' | 'gone' | 'changed'
  /** null for new and gone runs */
  readonly moved: Apart | null
  /** longer by, mm along the centreline; below 0 shorter */
  readonly longerMm: number
  /** 'goes to Plenum 3, spigot S1', 'duct is Semi-rigid 90' */
  readonly words: readonly string[]
}

export interface ThingChange { readonly kind: string, readonly id: string, readonly name: string, readonly what: 'new' | 'gone' | 'changed' }

export interface SheetChange { readonly booklet: string, readonly id: string, readonly title: string, readonly what: 'new' | 'gone' | 'changed' }

export interface Revision {
  readonly runs: readonly RunChange[]
  readonly things: readonly ThingChange[]
  readonly reprint: readonly SheetChange[]
}

export function compareJobs(before: CheckContext, after: CheckContext, options: SheetOptions): Revision {
  return { runs: runChanges(before, after), things: thingChanges(before.assembly.job, after.assembly.job), reprint: sheetChanges(before, after, options) }
}

function runChanges(before: CheckContext, after: CheckContext): RunChange[] {
  const old = new Map(before.runs.map(({ placed }) => [placed.run.id, placed])), now = new Map(after.runs.map(({ placed }) => [placed.run.id, placed]))
  const gone = [...old].filter(([id]) => !now.has(id)).map(([id, { run, centreline }]): RunChange => ({ id, name: run.name, what: 'gone', moved: null, longerMm: -centreline.lengthMm, words: [] }))
  const rest = [...now].flatMap(([id, placed]): RunChange[] => {
    const was = old.get(id), { run, type, centreline } = placed
    if (was === undefined) return [{ id, name: run.name, what: 'new', moved: null, longerMm: centreline.lengthMm, words: [] }]
    const moved = farthestApart(was.centreline, centreline), words: string[] = []
    if (run.name !== was.run.name) words.push(`was named ${was.run.name}`)
    if (JSON.stringify(type) !== JSON.stringify(was.type)) words.push(type.name === was.type.name ? 'its duct is other than it was' : `duct is ${type.name}, was ${was.type.name}`)
    for (const end of ['from', 'to'] as const) if (JSON.stringify(run[end]) !== JSON.stringify(was.run[end])) words.push(`${end === 'from' ? 'starts at' : 'goes to'} ${endWords(placed[end])}, was ${endWords(was[end])}`)
    const longerMm = centreline.lengthMm - was.centreline.lengthMm
    if (moved.mm < STILL_MM && Math.abs(longerMm) < STILL_MM && words.length === 0) return []
    return [{ id, name: run.name, what: 'changed', moved: moved.mm < STILL_MM ? null : moved, longerMm, words }]
  })
  return [...rest, ...gone]
}

const endWords = (end: CheckContext['runs'][number]['placed']['from']): string => 'spigot' in end ? end.name : end.sleeve.name

function thingChanges(before: Job, after: Job): ThingChange[] {
  const found: ThingChange[] = []
  const compare = (kind: string, old: readonly { readonly id: string, readonly name?: string }[], now: readonly { readonly id: string, readonly name?: string }[]): void => {
    const was = new Map(old.map((each) => [each.id, each])), is = new Map(now.map((each) => [each.id, each]))
    for (const [id, each] of is) {
      const other = was.get(id)
      if (other === undefined) found.push({ kind, id, name: each.name ?? id, what: 'new' })
      else if (JSON.stringify(other) !== JSON.stringify(each)) found.push({ kind, id, name: each.name ?? id, what: 'changed' })
    }
    for (const [id, each] of was) if (!is.has(id)) found.push({ kind, id, name: each.name ?? id, what: 'gone' })
  }
  // a joist is what its field and section make of it
  const joistsOf = (job: Job) => job.joistFields.flatMap(({ joists, ...field }) => joists.map((joist, i) => ({ ...joist, i, field, section: job.sections.find(({ id }) => id === field.section) })))
  compare('joist', joistsOf(before), joistsOf(after))
  compare('hole', before.holes, after.holes)
  compare('equipment', before.equipment, after.equipment)
  compare('sleeve', before.sleeves, after.sleeves)
  compare('solid', before.solids, after.solids)
  compare('room', before.rooms, after.rooms)
  compare('ceiling zone', before.zones, after.zones)
  return found
}

/** A sheet is to be printed again when anything drawn on it but date and revision is other; both are drawn here with the same. */
function sheetChanges(before: CheckContext, after: CheckContext, options: SheetOptions): SheetChange[] {
  const pages = (context: CheckContext): Map<string, { readonly booklet: string, readonly sheet: Sheet, readonly drawn: string }> =>
    new Map(bookletsOf(context, options).flatMap((booklet) => pagesOf(context, options, booklet).map((sheet) => [`${booklet.id} ${sheet.id}`, { booklet: booklet.title, sheet, drawn: JSON.stringify(sheet) }])))
  const was = pages(before), is = pages(after)
  const told = (what: SheetChange['what'], { booklet, sheet: { id, title } }: { readonly booklet: string, readonly sheet: Sheet }): SheetChange => ({ booklet, id, title, what })
  return [
    ...[...is].flatMap(([key, page]) => !was.has(key) ? [told('new', page)] : was.get(key)!.drawn === page.drawn ? [] : [told('changed', page)]),
    ...[...was].flatMap(([key, page]) => is.has(key) ? [] : [told('gone', page)]),
  ]
}

export function revisionTables({ runs, things, reprint }: Revision): Table[] {
  return [
    {
      id: 'moved-runs', title: 'Runs that are other than before',
      notes: ['Moved: the largest distance between the old and the new centreline, to 0.5 mm, and where it is on the new one.'],
      columns: [{ name: 'Run' }, { name: 'Name' }, { name: 'What' }, { name: 'Moved mm', decimals: 1 }, { name: 'Where' }, { name: 'Longer mm', decimals: 1 }, { name: 'Remark' }],
      rows: runs.map(({ id, name, what, moved, longerMm, words }) => [id, name, what, moved?.mm ?? null, moved === null ? '' : placeWords(placeOf(moved.at)), longerMm, words.join('; ')]),
    },
    { id: 'other-things', title: 'What else is other than before', notes: [], columns: ['Kind', 'Id', 'Name', 'What'].map((name) => ({ name })), rows: things.map(({ kind, id, name, what }) => [kind, id, name, what]) },
    { id: 'print-again', title: 'Sheets to print again', notes: ['Throw away those that are gone.'], columns: ['Booklet', 'Sheet', 'What'].map((name) => ({ name })), rows: reprint.map(({ booklet, title, what }) => [booklet, title, what]) },
  ]
}
