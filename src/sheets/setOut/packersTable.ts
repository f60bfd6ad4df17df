/** Packers under the terminals: those of the job as it is drawn and checked, and beside them the height that would suit the opening better. */
import { assemble } from '#assembly/assemble.ts'
import { contextFor, type CheckContext } from '#checks/context.ts'
import { standsInFaults } from '#checks/standsIn.ts'
import { stretchToSolid } from '#checks/stretch.ts'
import { ANSWER_SIZE } from '#geometry/clearance/index.ts'
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'
import type { Equipment } from '#model/index.ts'
import { halfHeightMm, packersFor, zoneBelow, type Packer } from '#routing/packer.ts'
import type { Cell, Table } from '../table.ts'

/** Heights nearer to each other than this are one height, mm: no packer is cut finer. */
const ALIKE_MM = 0.5

export function packersTable(context: CheckContext): Table {
  const terminals = context.assembly.job.equipment.filter(({ kind }) => kind === 'plenum')
  return {
    id: 'packers', title: 'Packers under the terminals',
    notes: [
      'Packer to cut: what stands under the terminal\'s body as the job is drawn and was checked. Below 0 the body is let in by so much.',
      'Height for the middle: would bring the spigot to the middle of the opening that its run passes first. It is another job: only after the run is laid again and checked.',
    ],
    columns: ['Number', 'Terminal', 'Packer to cut mm', 'Stands on', 'That level mm', 'Height for the middle mm', 'Spigot', 'Comes to', 'Remark'].map((name) => ({ name })),
    rows: terminals.map((terminal) => rowOf(context, terminal)),
  }
}

function rowOf(context: CheckContext, terminal: Equipment): Cell[] {
  const { id, name, packerMm } = terminal
  const packers = packersFor(context, terminal), first: Packer | undefined = packers[0]
  const bottomMm = terminal.centre[2] - halfHeightMm(terminal)
  const base = first === undefined ? zoneBelow(context, terminal, terminal.centre[2]) : { name: first.from, mm: first.fromMm }
  const drawnMm = base === null ? null : bottomMm - base.mm
  const remarks = packerMm !== undefined && drawnMm !== null && Math.abs(packerMm - drawnMm) > ALIKE_MM ? [`the job says packers of ${Math.round(packerMm)} mm: measure`] : []
  const row = (offer: Packer | null, remark: string): Cell[] => [
    id, name, drawnMm, base?.name ?? '', base?.mm ?? null, offer?.heightMm ?? null, offer?.spigotId ?? '', offer?.to ?? '', [...remarks, ...remark === '' ? [] : [remark]].join('; '),
  ]
  if (first === undefined) return row(null, drawnMm === null ? 'no ceiling below it and no run on it passes an opening' : 'no run on it passes an opening')
  if (Math.abs(first.by[2]) <= ALIKE_MM && packers.length === 1) return row(first, 'it sits there as drawn')
  const others = packers.filter(({ heightMm }) => Math.abs(heightMm - first.heightMm) > ALIKE_MM)
  if (others.length > 0) return row(null, `${[...new Set([first, ...others].map(({ spigotId }) => spigotId))].join(' and ')} want different heights`)
  if (first.heightMm < 0) return row(null, 'for the middle it would have to be let in')
  const inTheWay = inTheWayOf(context, terminal, first.by[2])
  return inTheWay === null ? row(first, 'only after the run is laid again and checked') : row(null, `at the height for the middle it would stand in ${inTheWay}`)
}

/** What the terminal's body and collars would stand in if they were moved up or down by so much, on a copy without its own runs, which would be laid again; null when nothing. */
export function inTheWayOf({ assembly: { job } }: CheckContext, { id }: Equipment, upMm: number): string | null {
  const isOwn = (end: object): boolean => 'equipment' in end && end.equipment === id
  const tried = contextFor(assemble({
    ...job, runs: job.runs.filter(({ from, to }) => !isOwn(from) && !isOwn(to)),
    equipment: job.equipment.map((each) => each.id === id ? { ...each, centre: [each.centre[0], each.centre[1], each.centre[2] + upMm] as const } : each),
  }))
  const { solids, parts } = tried.assembly
  const fault = standsInFaults(tried).find(({ parts: both }) => both.some((part) => part.id === id))
  if (fault !== undefined) return fault.parts.find((part) => part.id !== id)?.name ?? 'another part'
  for (let solidIndex = 0; solidIndex < solids.count; solidIndex++) {
    if (tried.isSound[solidIndex] === 0 || parts.ownerIdOf(solidIndex) !== id) continue
    for (const { placed: { run, centreline, outerRadiusMm } } of tried.runs) {
      if (stretchToSolid(centreline, 0, centreline.lengthMm, solids, solidIndex, outerRadiusMm, answer) < outerRadiusMm - ANSWER_ERROR_MM) return `the duct of ${run.name}`
    }
  }
  return null
}

const answer = new Float64Array(ANSWER_SIZE)
