/** Changes to a job that would free a run, cheapest first; each is made on a copy and routed before it is told. */
import type { PlacedRun, PlacedSpigot } from '#assembly/assembly.ts'
import { isSpigot } from '#assembly/runs.ts'
import type { CheckContext } from '#checks/context.ts'
import type { Equipment, Job, Run } from '#model/index.ts'
import { minus, type Vec } from '../threadVector.ts'

export type Cure =
  | { readonly kind: 'next-spigot', readonly equipmentId: string, readonly spigotId: string }
  | { readonly kind: 'move', readonly equipmentId: string, readonly byMm: Vec }
  | { readonly kind: 'smaller-type', readonly typeId: string }
  | { readonly kind: 'without', readonly runIds: readonly string[] }

export interface CureTry { readonly cure: Cure, readonly job: Job }

/** how far terminals and manifolds are moved, mm */
const MOVES_MM = [50, 100, 200, 300]

/**
 * Cheapest first: another spigot, then moves by how far, then a smaller duct with its spigots, then leaving out one of its rivals.
 * @param rivals ids of laid runs that are in its way
 */
export function curesFor(context: CheckContext, job: Job, { run, type, from, to }: PlacedRun, rivals: readonly string[]): CureTry[] {
  const tries: CureTry[] = []
  const ends = [['from', from], ['to', to]] as const
  for (const [end, at] of ends) {
    if (!isSpigot(at)) continue
    for (const other of context.assembly.spigots) {
      if (other.equipment !== at.equipment || other === at || other.spigot.diameterMm !== at.spigot.diameterMm || context.runEndsAt.has(other)) continue
      tries.push({
        cure: { kind: 'next-spigot', equipmentId: other.equipment.id, spigotId: other.spigot.id },
        job: withRun(job, run.id, (one) => withEnd({ ...one, [end]: { equipment: other.equipment.id, spigot: other.spigot.id } }, end, other.at)),
      })
    }
  }
  tries.push(...inLine(job, from, to))
  for (const mm of MOVES_MM) for (const [, at] of ends) {
    if (!isSpigot(at) || at.equipment.kind === 'unit') continue
    for (const way of [[1, 0, 0], [-1, 0, 0], [0, 1, 0], [0, -1, 0]] as const) tries.push(moved(job, at.equipment, [way[0] * mm, way[1] * mm, 0]))
  }
  const smaller = job.ductTypes.filter((other) => other.kind === type.kind && other.outerDiameterMm + 2 * other.insulationMm < type.outerDiameterMm + 2 * type.insulationMm)
    .sort((a, b) => b.outerDiameterMm - a.outerDiameterMm)
  for (const other of smaller) {
    const ownEnds = new Set(ends.flatMap(([, at]) => isSpigot(at) ? [`${at.equipment.id}/${at.spigot.id}`] : []))
    tries.push({
      cure: { kind: 'smaller-type', typeId: other.id },
      job: {
        ...withRun(job, run.id, (one) => ({ ...one, type: other.id })),
        equipment: job.equipment.map((one) => ({ ...one, spigots: one.spigots.map((spigot) => ownEnds.has(`${one.id}/${spigot.id}`) ? { ...spigot, diameterMm: other.outerDiameterMm } : spigot) })),
      },
    })
  }
  for (const id of rivals) tries.push({ cure: { kind: 'without', runIds: [id] }, job: { ...job, runs: job.runs.filter((one) => one.id !== id) } })
  return tries
}

/** Spigots that all but look at each other: the one moved into line with the other. */
function inLine(job: Job, from: PlacedRun['from'], to: PlacedRun['to']): CureTry[] {
  if (!isSpigot(from) || !isSpigot(to) || from.equipment.kind === 'unit' && to.equipment.kind === 'unit') return []
  const { axis } = from
  if (axis[0] * to.axis[0] + axis[1] * to.axis[1] + axis[2] * to.axis[2] > -0.999) return []
  const way = minus(to.at, from.at), along = way[0] * axis[0] + way[1] * axis[1] + way[2] * axis[2]
  const off: Vec = [way[0] - along * axis[0], way[1] - along * axis[1], way[2] - along * axis[2]]
  if (Math.hypot(...off) > MOVES_MM[MOVES_MM.length - 1]) return []
  return to.equipment.kind === 'unit' ? [moved(job, from.equipment, off)] : [moved(job, to.equipment, [-off[0], -off[1], -off[2]])]
}

/** The equipment moved, and the ends of all runs on it with it. */
function moved(job: Job, { id }: Equipment, byMm: Vec): CureTry {
  const shift = (at: readonly number[]): [number, number, number] => [at[0] + byMm[0], at[1] + byMm[1], at[2] + byMm[2]]
  return {
    cure: { kind: 'move', equipmentId: id, byMm },
    job: {
      ...job,
      equipment: job.equipment.map((one) => one.id === id ? { ...one, centre: shift(one.centre) } : one),
      runs: job.runs.map((run) => {
        const isFrom = 'equipment' in run.from && run.from.equipment === id, isTo = 'equipment' in run.to && run.to.equipment === id
        const last = run.waypoints.length - 1
        return isFrom || isTo ? { ...run, waypoints: run.waypoints.map((point, i) => isFrom && i === 0 || isTo && i === last ? { ...point, at: shift(point.at) } : point) } : run
      }),
    },
  }
}

function withRun(job: Job, id: string, change: (run: Run) => Run): Job {
  return { ...job, runs: job.runs.map((run) => run.id === id ? change(run) : run) }
}

function withEnd(run: Run, end: 'from' | 'to', at: PlacedSpigot['at']): Run {
  const index = end === 'from' ? 0 : run.waypoints.length - 1
  return { ...run, waypoints: run.waypoints.map((point, i) => i === index ? { ...point, at: [at[0], at[1], at[2]] } : point) }
}
