/** Changes to a job that would free a run, cheapest first; each is made on a copy, routed and checked before it is told. */
import type { PlacedRun, PlacedSpigot } from '#assembly/assembly.ts'
import { isSpigot } from '#assembly/runs.ts'
import type { CheckContext } from '#checks/context.ts'
import { SAME_SIZE_MM } from '#checks/connections.ts'
import type { Equipment, Job, Run } from '#model/index.ts'
import { minus, type Vec } from '../threadVector.ts'
import { joistCures, type JoistCure } from './joistCures.ts'

export type Cure =
  | { readonly kind: 'next-spigot', readonly equipmentId: string, readonly spigotId: string }
  /** the run and another on the same equipment take each other's spigots, and both are laid again */
  | { readonly kind: 'swap-spigots', readonly equipmentId: string, readonly withRunId: string }
  /** runs on it besides the one that is freed are laid again with it */
  | { readonly kind: 'move', readonly equipmentId: string, readonly byMm: Vec }
  | { readonly kind: 'spigot-of-size', readonly equipmentId: string, readonly spigotId: string, readonly diameterMm: number }
  | { readonly kind: 'smaller-type', readonly typeId: string }
  | JoistCure
  | { readonly kind: 'without', readonly runIds: readonly string[] }

export interface CureTry {
  readonly cure: Cure
  readonly job: Job
  /** ids of the runs that are laid again in it, the one to be freed first */
  readonly laysAgain: readonly string[]
  readonly dearness: number
}

/**
 * How much trouble a change is, in points: nothing but the order counts. Another spigot of the manifold costs a cap; two runs that
 * swap are drawn in anew; what is moved is fixed again, the further the more, up or down on packers a little more, and each other run on it is drawn in anew;
 * a spigot of another size is ordered; a smaller duct changes the air and must be worked out again; what touches a joist is a question to its maker,
 * before the joist is made; leaving out another run is no answer, but says what is in the way.
 */
export const DEARNESS = {
  'next-spigot': 10, 'swap-spigots': 20, 'move': 30, 'move each 10 mm': 1, 'move up or down': 5, 'each other run': 6,
  'spigot-of-size': 75, 'smaller-type': 90, 'ask-maker': 150, 'without': 300,
} as const

/** how far terminals and manifolds are moved, in plan and up or down, mm */
const MOVES_MM = [50, 100, 200, 300], LIFTS_MM = [25, 50, 100]
/** spigots, and runs to swap with, that are tried: nearest first */
const MOST_SPIGOTS = 6, MOST_SWAPS = 4
const MOST_RIVALS = 3

/**
 * Cheapest first, by DEARNESS.
 * @param job with the runs that are laid and the one to be freed, no other that could not be laid
 * @param rivals ids of laid runs that are in its way
 * @param joistIds joists that are in its way, most first
 */
export function curesFor(context: CheckContext, job: Job, placed: PlacedRun, rivals: readonly string[], joistIds: readonly string[]): CureTry[] {
  const { run, type, from, to } = placed
  const tries: CureTry[] = []
  const ends = [['from', from], ['to', to]] as const
  const add = (cure: Cure, changed: Job, dearness: number, others: readonly string[] = []): void => {
    tries.push({ cure, job: changed, dearness: dearness + others.length * DEARNESS['each other run'], laysAgain: [run.id, ...others] })
  }
  for (const [end, at] of ends) {
    if (!isSpigot(at)) continue
    const like = context.assembly.spigots.filter((other) => other.equipment === at.equipment && other !== at && Math.abs(other.spigot.diameterMm - type.outerDiameterMm) <= SAME_SIZE_MM)
      .sort((a, b) => Math.hypot(...minus(a.at, at.at)) - Math.hypot(...minus(b.at, at.at)))
    const used = new Map(context.runs.flatMap(({ placed: one }) => [[one.from, one], [one.to, one]] as const))
    for (const other of like.filter((one) => !used.has(one)).slice(0, MOST_SPIGOTS)) {
      add({ kind: 'next-spigot', equipmentId: other.equipment.id, spigotId: other.spigot.id }, withRun(job, run.id, (one) => withEnd(one, end, other)), DEARNESS['next-spigot'])
    }
    const partners = like.flatMap((spigot) => {
      const partner = used.get(spigot)
      return partner === undefined || partner.run.locked === true || partner.run.id === run.id ? [] : [{ spigot, partner }]
    })
    for (const { spigot, partner } of partners.slice(0, MOST_SWAPS)) {
      const swapped = withRun(withRun(job, run.id, (one) => withEnd(one, end, spigot)), partner.run.id, (one) => withEnd(one, partner.from === spigot ? 'from' : 'to', at))
      add({ kind: 'swap-spigots', equipmentId: at.equipment.id, withRunId: partner.run.id }, swapped, DEARNESS['swap-spigots'], [partner.run.id])
    }
    if (Math.abs(at.spigot.diameterMm - type.outerDiameterMm) > SAME_SIZE_MM) {
      add({ kind: 'spigot-of-size', equipmentId: at.equipment.id, spigotId: at.spigot.id, diameterMm: type.outerDiameterMm }, withSpigots(job, [at], type.outerDiameterMm), DEARNESS['spigot-of-size'])
    }
  }
  for (const { equipment, byMm } of movesOf(from, to)) {
    const others = othersOn(job, equipment, run.id)
    if (others !== null) add({ kind: 'move', equipmentId: equipment.id, byMm }, moved(job, equipment, byMm), moveDearness(byMm), others)
  }
  const smaller = job.ductTypes.filter((other) => other.kind === type.kind && other.outerDiameterMm + 2 * other.insulationMm < type.outerDiameterMm + 2 * type.insulationMm)
    .sort((a, b) => b.outerDiameterMm - a.outerDiameterMm)
  for (const other of smaller) {
    const changed = withSpigots(withRun(job, run.id, (one) => ({ ...one, type: other.id })), [from, to].filter(isSpigot), other.outerDiameterMm)
    add({ kind: 'smaller-type', typeId: other.id }, changed, DEARNESS['smaller-type'])
  }
  for (const { cure, job: changed } of joistCures(job, joistIds)) add(cure, changed, DEARNESS['ask-maker'])
  for (const id of rivals.slice(0, MOST_RIVALS)) add({ kind: 'without', runIds: [id] }, { ...job, runs: job.runs.filter((one) => one.id !== id) }, DEARNESS.without)
  return tries.map((one, i) => ({ one, i })).sort((a, b) => a.one.dearness - b.one.dearness || a.i - b.i).map(({ one }) => one)
}

function moveDearness(byMm: Vec): number {
  return DEARNESS.move + Math.hypot(...byMm) / 10 * DEARNESS['move each 10 mm'] + (byMm[2] === 0 ? 0 : DEARNESS['move up or down'])
}

/** The same way, but so far only: a share of what lies between the next shorter move that is tried anyway, and this. Null where that is no other move. */
export function shorterMove(job: Job, { cure, laysAgain }: CureTry, share: number): CureTry | null {
  const equipment = cure.kind === 'move' ? job.equipment.find(({ id }) => id === cure.equipmentId) : undefined
  if (cure.kind !== 'move' || equipment === undefined) return null
  const size = Math.hypot(...cure.byMm), below = Math.max(0, ...(cure.byMm[2] === 0 ? MOVES_MM : LIFTS_MM).filter((mm) => mm < size - STEP_MM))
  const mm = Math.round((below + (size - below) * share) / STEP_MM) * STEP_MM
  const byMm = scaled(cure.byMm, mm / size)
  return mm <= below || mm >= size ? null : { cure: { ...cure, byMm }, job: moved(job, equipment, byMm), laysAgain, dearness: moveDearness(byMm) + (laysAgain.length - 1) * DEARNESS['each other run'] }
}

/** moves are told to so much, mm */
const STEP_MM = 5

/** What may be moved, and how: first into line where two spigots all but look at each other, then by rising distances. A unit stays. */
function movesOf(from: PlacedRun['from'], to: PlacedRun['to']): { readonly equipment: Equipment, readonly byMm: Vec }[] {
  const movable = [...new Set([from, to].flatMap((end) => isSpigot(end) && end.equipment.kind !== 'unit' ? [end.equipment] : []))]
  return [
    ...inLine(from, to),
    ...MOVES_MM.flatMap((mm) => movable.flatMap((equipment) => SIDEWAYS.map((way) => ({ equipment, byMm: scaled(way, mm) })))),
    ...LIFTS_MM.flatMap((mm) => movable.flatMap((equipment) => UP_AND_DOWN.map((way) => ({ equipment, byMm: scaled(way, mm) })))),
  ]
}

const SIDEWAYS: readonly Vec[] = [[1, 0, 0], [-1, 0, 0], [0, 1, 0], [0, -1, 0]], UP_AND_DOWN: readonly Vec[] = [[0, 0, 1], [0, 0, -1]]

function scaled(way: Vec, mm: number): Vec {
  return [way[0] * mm, way[1] * mm, way[2] * mm]
}

/** Spigots that all but look at each other: the one moved into line with the other. */
function inLine(from: PlacedRun['from'], to: PlacedRun['to']): { readonly equipment: Equipment, readonly byMm: Vec }[] {
  if (!isSpigot(from) || !isSpigot(to) || from.equipment.kind === 'unit' && to.equipment.kind === 'unit') return []
  const { axis } = from
  if (axis[0] * to.axis[0] + axis[1] * to.axis[1] + axis[2] * to.axis[2] > -0.999) return []
  const way = minus(to.at, from.at), along = way[0] * axis[0] + way[1] * axis[1] + way[2] * axis[2]
  const off: Vec = [way[0] - along * axis[0], way[1] - along * axis[1], way[2] - along * axis[2]]
  if (Math.hypot(...off) > MOVES_MM[MOVES_MM.length - 1] || Math.hypot(...off) < 1e-6) return []
  return to.equipment.kind === 'unit' ? [{ equipment: from.equipment, byMm: off }] : [{ equipment: to.equipment, byMm: scaled(off, -1) }]
}

/** Ids of the other runs that end on it; null where one of them is locked, so that it cannot be moved. */
function othersOn(job: Job, { id }: Equipment, runId: string): string[] | null {
  const others = job.runs.filter((run) => run.id !== runId && [run.from, run.to].some((end) => 'equipment' in end && end.equipment === id))
  return others.some(({ locked }) => locked === true) ? null : others.map((run) => run.id)
}

/** The equipment moved, and the ends of all runs on it with it. Packers are as much higher as it is. */
function moved(job: Job, { id }: Equipment, byMm: Vec): Job {
  const shift = (at: readonly number[]): [number, number, number] => [at[0] + byMm[0], at[1] + byMm[1], at[2] + byMm[2]]
  return {
    ...job,
    equipment: job.equipment.map((one) => one.id === id ? { ...one, centre: shift(one.centre), ...one.packerMm === undefined ? {} : { packerMm: Math.max(0, one.packerMm + byMm[2]) } } : one),
    runs: job.runs.map((run) => {
      const isFrom = 'equipment' in run.from && run.from.equipment === id, isTo = 'equipment' in run.to && run.to.equipment === id
      const last = run.waypoints.length - 1
      return isFrom || isTo ? { ...run, waypoints: run.waypoints.map((point, i) => isFrom && i === 0 || isTo && i === last ? { ...point, at: shift(point.at) } : point) } : run
    }),
  }
}

function withRun(job: Job, id: string, change: (run: Run) => Run): Job {
  return { ...job, runs: job.runs.map((run) => run.id === id ? change(run) : run) }
}

function withEnd(run: Run, end: 'from' | 'to', { equipment, spigot, at }: PlacedSpigot): Run {
  const index = end === 'from' ? 0 : run.waypoints.length - 1
  return { ...run, [end]: { equipment: equipment.id, spigot: spigot.id }, waypoints: run.waypoints.map((point, i) => i === index ? { ...point, at: [at[0], at[1], at[2]] } : point) }
}

function withSpigots(job: Job, which: readonly PlacedSpigot[], diameterMm: number): Job {
  const keys = new Set(which.map(({ equipment, spigot }) => `${equipment.id}/${spigot.id}`))
  return { ...job, equipment: job.equipment.map((one) => ({ ...one, spigots: one.spigots.map((spigot) => keys.has(`${one.id}/${spigot.id}`) ? { ...spigot, diameterMm } : spigot) })) }
}
