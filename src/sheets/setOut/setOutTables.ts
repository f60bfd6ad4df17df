/** The figures of the set-out as schedules. */
import type { CheckContext } from '#checks/context.ts'
import { knownCrossings } from '#checks/openingUse.ts'
import type { SheetOptions } from '../options.ts'
import type { Cell, Table } from '../table.ts'
import { packersTable } from './packersTable.ts'
import { bodiesOf, wayWords, type Body } from './bodies.ts'

export function setOutTables(context: CheckContext, options: SheetOptions): Table[] {
  const bodies = bodiesOf(context)
  return [crossingsTable(context), positionsTable(bodies), packersTable(context), holesTable(context, options), spigotsTable(bodies)]
}

function crossingsTable(context: CheckContext): Table {
  const { joists } = context.assembly
  const rows = context.runs.flatMap(({ placed: { run } }, runIndex) => knownCrossings(context, runIndex).map((crossing): Cell[] => [
    joists[crossing.joistIndex].id, run.id, crossing.x, crossing.y, joists[crossing.joistIndex].origin[2] + crossing.y, crossing.ductDiameterMm,
    crossing.opening === null ? crossing.hole === null ? 'no opening' : `hole ${crossing.hole}` : `opening ${crossing.opening}`, crossing.largestHereMm, crossing.spareMm,
  ]))
  return {
    id: 'crossings', title: 'Where ducts cross joists',
    notes: ['Distances along the joist from its datum end (the triangle on the plan), heights of the duct\'s middle above the joist\'s underside. Spare: room all round between the duct, insulation included, and the nearest edge; below 0 it cuts in.'],
    columns: ['Joist', 'Run', 'From datum end mm', 'Centre height mm', 'Centre level mm', 'Duct dia mm', 'Goes through', 'Largest dia there mm', 'Spare mm'].map((name) => ({ name })),
    rows: rows.map((row, i) => ({ row, i })).sort((a, b) => joistOrder(context, a.row[0]) - joistOrder(context, b.row[0]) || (a.row[2] as number) - (b.row[2] as number) || a.i - b.i).map(({ row }) => row),
  }
}

const joistOrder = ({ assembly: { joists } }: CheckContext, id: Cell): number => joists.findIndex((joist) => joist.id === id)

const KINDS: Readonly<Record<Body['equipment']['kind'], string>> = { unit: 'unit', manifold: 'manifold', plenum: 'plenum', 'outdoor-terminal': 'outdoor terminal' }

function positionsTable(bodies: readonly Body[]): Table {
  return {
    id: 'positions', title: 'Where unit, manifolds and terminals stand',
    notes: ['Each is set out square from two walls of its room: to its nearest side and to its middle. What stands in no room is set out from the datum. Compass points take y on the plan for north.'],
    columns: ['Number', 'Item', 'Kind', 'Room', 'First wall', 'to side mm', 'to middle mm', 'Second wall', 'to its side mm', 'to its middle mm', 'Underside level mm', 'Top level mm', 'Middle x mm', 'Middle y mm'].map((name) => ({ name })),
    rows: bodies.map(({ equipment, standing: { room, walls: [first, second] }, bottomMm, topMm }) => [
      equipment.id, equipment.name, KINDS[equipment.kind], room?.name ?? 'none', first?.name ?? '', first?.sideMm ?? null, first?.middleMm ?? null,
      second?.name ?? '', second?.sideMm ?? null, second?.middleMm ?? null, bottomMm, topMm, equipment.centre[0], equipment.centre[1],
    ]),
  }
}

function holesTable({ assembly: { job, joists, holes } }: CheckContext, { sleeveWallMm }: SheetOptions): Table {
  const solids = new Map<string, string>(job.solids.map(({ id, name }) => [id, name]))
  return {
    id: 'holes', title: 'Holes to make',
    notes: [`Centres from the datum. To cut: the clear diameter and twice the sleeve's wall of ${sleeveWallMm} mm (common practice: measure the sleeve that you have). Holes in joists have no sleeve: see the joist's elevation, and the joist maker's rules first.`],
    columns: ['Hole', 'Through', 'x mm', 'y mm', 'z mm', 'Clear dia mm', 'To cut dia mm', 'Way', 'Length mm', 'From datum end mm', 'Height in joist mm'].map((name) => ({ name })),
    rows: [
      ...job.sleeves.map(({ name, through, at, axis, diameterMm, lengthMm }): Cell[] => {
        const size = Math.hypot(...axis)
        return [name, through.map((id) => solids.get(id) ?? id).join(', '), ...at, diameterMm, diameterMm + 2 * sleeveWallMm, wayWords(axis.map((part) => part / size)), lengthMm, null, null]
      }),
      ...holes.map(({ id, joistIndex, at, radiusMm, axis, halfLengthMm }): Cell[] => {
        const { joist, origin, along } = joists[joistIndex]
        return [id, joist.name ?? `joist ${joist.id}`, ...at, 2 * radiusMm, 2 * radiusMm, wayWords(axis), 2 * halfLengthMm, (at[0] - origin[0]) * along[0] + (at[1] - origin[1]) * along[1], at[2] - origin[2]]
      }),
    ],
  }
}

function spigotsTable(bodies: readonly Body[]): Table {
  return {
    id: 'spigots', title: 'Spigots and which way they face',
    notes: ['x, y, z: middle of the spigot\'s mouth from the datum.'],
    columns: ['Number', 'Item', 'Spigot', 'Dia mm', 'Faces', 'x mm', 'y mm', 'z mm', 'Run'].map((name) => ({ name })),
    rows: bodies.flatMap(({ equipment, spigots }) => spigots.map(({ placed, runs }): Cell[] => [equipment.id, equipment.name, placed.spigot.id, placed.spigot.diameterMm, wayWords(placed.axis), ...placed.at, runs.length === 0 ? 'blank off' : runs.map(({ id }) => id).join(', ')])),
  }
}
