/** The cut list, what to buy, and the plan of cutting, as schedules. */
import type { CheckContext } from '#checks/context.ts'
import type { DuctType } from '#model/index.ts'
import { endName } from '#routing/pullingWords.ts'
import type { SheetOptions } from '../options.ts'
import type { Cell, Table } from '../table.ts'
import { cutList, type RunCut } from './cutList.ts'
import { packStock } from './packing.ts'

export function cutTables(context: CheckContext, options: SheetOptions): Table[] {
  const cuts = cutList(context, options)
  return [lengthsTable(context, cuts, options), piecesTable(cuts, options), fittingsTable(cuts), sundriesTable(cuts, options), stockTable(context.assembly.job.ductTypes, cuts, options)]
}

function lengthsTable(context: CheckContext, cuts: readonly RunCut[], { trimMm }: SheetOptions): Table {
  return {
    id: 'cut-lengths', title: 'Cut list: every run',
    notes: [
      `Bendable duct: centreline, and the whole collar at both spigots, and ${trimMm} mm of trim to be cut off square in place (common practice). Rounded up to a whole mm.`,
      'Rigid duct: its straight pieces one by one, from its start; never cut their sum. Each has its label in the list of rigid pieces.',
    ],
    columns: [{ name: 'Run' }, { name: 'Name' }, { name: 'Duct' }, { name: 'From' }, { name: 'To' }, { name: 'Centreline mm' }, { name: 'Collar at start mm' }, { name: 'Collar at end mm' }, { name: 'Trim mm' }, { name: 'Cut mm' }, { name: 'Insulation length mm' }, { name: 'Remark' }],
    ...bothRows(cuts, (cut, cutCell) => {
      const { runIndex, placed: { run, type }, centrelineMm, collarMm, trimMm: trim, insulationMm, pieces } = cut
      return [run.id, run.name, type.name, endName(context, runIndex, 'from'), endName(context, runIndex, 'to'), centrelineMm, ...collarMm, trim, cutCell, insulationMm === 0 ? null : insulationMm, pieces.length > 1 ? `${pieces.length} pieces: see rigid pieces` : '']
    }),
  }
}

/** Pieces of one run are never told as one length: side by side on paper, none in the file, where a sum would be cut. */
export function bothRows(cuts: readonly RunCut[], rowOf: (cut: RunCut, cutCell: Cell) => Cell[]): Pick<Table, 'rows' | 'fileRows'> {
  return {
    rows: cuts.map((cut) => rowOf(cut, cut.pieces.length > 1 ? cut.pieces.map(({ lengthMm }) => Math.round(lengthMm)).join(' + ') : cut.cutMm)),
    fileRows: cuts.map((cut) => rowOf(cut, cut.pieces.length > 1 ? null : cut.cutMm)),
  }
}

function piecesTable(cuts: readonly RunCut[], { stockMm }: SheetOptions): Table {
  return {
    id: 'rigid-pieces', title: 'Cut list: rigid pieces',
    notes: [
      'Cut: from shoulder to shoulder, as the ends of the fittings slide into the duct; collars at the run\'s ends are counted in. Free: what of the cut length no fitting or collar is inside, the insertions taken off. Couplers join pieces of one straight.',
      `No piece is longer than the stock of ${stockMm} mm, nor than can be tipped in between the joists.`,
    ],
    columns: ['Piece', 'Run', 'Duct', 'Cut mm', 'Whole straight mm', 'Inserted at start mm', 'Inserted at end mm', 'Free of whole mm', 'Longest that goes in mm', 'Remark'].map((name) => ({ name })),
    rows: cuts.flatMap(({ placed: { run, type }, pieces }) => pieces.map(({ label, lengthMm, straightMm, insertedMm: [a, b], longestMm, goesInLater }): Cell[] => [
      label, run.id, type.name, lengthMm, straightMm, a, b, straightMm - a - b, longestWords(straightMm, longestMm, goesInLater, stockMm), goesInLater ? '' : 'only before the joists are fixed',
    ])),
  }
}

/** The longest that goes in, where it is what the straight is cut for, or cannot be. */
function longestWords(straightMm: number, longestMm: number | null, goesInLater: boolean, stockMm: number): Cell {
  return longestMm !== null && straightMm > longestMm && (longestMm < stockMm || !goesInLater) ? longestMm : 'not limited'
}

function fittingsTable(cuts: readonly RunCut[]): Table {
  const counts = new Map<string, { row: [string, number, number], count: number }>()
  const couplers = new Map<string, number>()
  for (const { placed: { type }, fittings, couplers: own } of cuts) {
    for (const { angleDeg, radiusMm } of fittings) {
      const key = `${type.id} ${angleDeg} ${radiusMm}`, entry = counts.get(key) ?? { row: [type.name, angleDeg, radiusMm], count: 0 }
      entry.count++
      counts.set(key, entry)
    }
    if (own > 0) couplers.set(type.name, (couplers.get(type.name) ?? 0) + own)
  }
  const bends = [...counts.values()].sort((a, b) => a.row[0] < b.row[0] ? -1 : a.row[0] > b.row[0] ? 1 : b.row[1] - a.row[1] || a.row[2] - b.row[2])
  return {
    id: 'fittings', title: 'Fittings of rigid duct', notes: ['The listed fitting nearest to each bend, by its angle.'],
    columns: [{ name: 'Duct' }, { name: 'Fitting' }, { name: 'Angle degrees', decimals: 1 }, { name: 'Centre line radius mm' }, { name: 'Number', decimals: 0 }],
    rows: [...bends.map(({ row: [name, angleDeg, radiusMm], count }): Cell[] => [name, 'bend', angleDeg, radiusMm, count]), ...[...couplers].map(([name, count]): Cell[] => [name, 'coupler', null, null, count])],
  }
}

function sundriesTable(cuts: readonly RunCut[], { rigidSupportMm, bendableSupportMm }: SheetOptions): Table {
  const byType = new Map<DuctType, RunCut[]>()
  for (const cut of cuts) byType.set(cut.placed.type, [...byType.get(cut.placed.type) ?? [], cut])
  return {
    id: 'sundries', title: 'Seals, supports and insulation',
    notes: [
      'Seals: one at every spigot, two at every fitting and coupler.',
      `Supports: one for every ${rigidSupportMm} mm of rigid duct begun (NHBC 8.4.2.6, 2024: at most 750 mm apart), one for every ${bendableSupportMm} mm of bendable duct begun (common practice). Insulation: the length of the centreline.`,
    ],
    columns: [{ name: 'Duct' }, { name: 'Runs', decimals: 0 }, { name: 'Seals', decimals: 0 }, { name: 'Supports', decimals: 0 }, { name: 'Insulation thickness mm' }, { name: 'Insulation length mm' }],
    rows: [...byType].map(([type, own]) => {
      const sum = (of: (cut: RunCut) => number): number => own.reduce((total, cut) => total + of(cut), 0)
      return [type.name, own.length, sum(({ seals }) => seals), sum(({ supports }) => supports), type.insulationMm === 0 ? null : type.insulationMm, type.insulationMm === 0 ? null : sum(({ insulationMm }) => insulationMm)]
    }),
  }
}

function stockTable(types: readonly DuctType[], cuts: readonly RunCut[], { stockMm, coilMm, kerfMm }: SheetOptions): Table {
  const rows: Cell[][] = [], notes: string[] = []
  for (const type of types) {
    const own = cuts.filter(({ placed }) => placed.type.id === type.id)
    const pieces = type.kind === 'rigid' ? own.flatMap((cut) => cut.pieces.map(({ label, lengthMm }) => ({ label, mm: lengthMm }))) : own.map(({ placed: { run }, cutMm }) => ({ label: run.id, mm: cutMm }))
    if (pieces.length === 0) continue
    const wholeMm = type.kind === 'rigid' ? stockMm : coilMm, what = type.kind === 'rigid' ? 'length' : 'coil'
    const { lengths, lowerBound, tooLong } = packStock(pieces.map(({ mm }) => mm), wholeMm, kerfMm)
    lengths.forEach(({ pieces: indices, offcutMm }, i) => {
      rows.push([type.name, `${what} ${i + 1}`, wholeMm, indices.map((k) => `${pieces[k].label} ${Math.round(pieces[k].mm)}`).join(' + '), offcutMm < 0.05 ? '' : `${type.id} ${what} ${i + 1}`, offcutMm])
    })
    notes.push(`${type.name}: ${lengths.length} ${what}${lengths.length === 1 ? '' : 's'} of ${wholeMm} mm; ${lengths.length === lowerBound ? 'fewer cannot do' : `at least ${lowerBound} are needed, whatever the plan`}.`)
    for (const k of tooLong) notes.push(`${type.name}: ${pieces[k].label} is ${Math.round(pieces[k].mm)} mm, longer than a ${what}; it is in none.`)
  }
  return {
    id: 'cutting-plan', title: 'Cutting plan: coils and lengths', notes: [...notes, `Each cut takes ${kerfMm} mm. Label every offcut by its name: what is left of it can be used again.`],
    columns: ['Duct', 'Stock', 'Stock mm', 'Cut in this order', 'Offcut is named', 'Offcut mm'].map((name) => ({ name })), rows,
  }
}
