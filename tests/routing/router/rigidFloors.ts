/** Jobs with rigid runs to lay, and what a laid one is made of, read from where it lies and not from the router. */
import { assemble } from '#assembly/assemble.ts'
import type { PlacedRun } from '#assembly/assembly.ts'
import { planCrossings } from '#routing/router/planCrossings.ts'
import { ARC, ELEMENT_STRIDE, KIND, LENGTH, RADIUS, TURN } from '#geometry/curve/centreline.ts'
import { usualPrices, type Job } from '#model/index.ts'
import { body } from '../threadField.ts'
import { jobOf, together, type EquipmentInput, type Point } from '../../checks/smallJob.ts'

type Fields = Parameters<typeof jobOf>[0]
export type FittingInput = { angleDeg: number, radiusMm: number, insertionMm: number }

/** of 125 mm duct, as long as it is wide */
export const fittings = (...anglesDeg: readonly number[]): FittingInput[] => anglesDeg.map((angleDeg) => ({ angleDeg, radiusMm: 125, insertionMm: 40 }))

export interface RigidEnds { readonly from: Point, readonly fromAxis: Point, readonly to: Point, readonly toAxis: Point, readonly fromKind?: EquipmentInput['kind'] }

/** Runs R1, R2 ... of 125 mm rigid duct, each from a mouth to a mouth, drawn straight, in a void 3 m high. */
export function rigidJob(ends: readonly RigidEnds[], list: readonly FittingInput[], ...more: readonly Fields[]): Job {
  return jobOf(together({
    zones: [{ id: 'z', name: 'Void', outline: [[-3000, -3000], [9000, -3000], [9000, 9000], [-3000, 9000]], undersideMm: 0, topMm: 3000 }],
    ductTypes: [{ kind: 'rigid', id: 'rigid', name: 'Rigid 125', innerDiameterMm: 124, outerDiameterMm: 125, fittings: [...list] }],
    equipment: ends.flatMap(({ from, fromAxis, to, toAxis, fromKind = 'plenum' }, k) => [body(`A${k + 1}`, fromKind, from, fromAxis, 125), body(`B${k + 1}`, 'plenum', to, toAxis, 125)]),
    runs: ends.map(({ from, to }, k) => ({ id: `R${k + 1}`, name: `Run ${k + 1}`, type: 'rigid', from: { equipment: `A${k + 1}`, spigot: '1' }, to: { equipment: `B${k + 1}`, spigot: '1' }, waypoints: [{ at: from }, { at: to }] })),
  }, ...more))
}

export const rigidRuns = (job: Job): PlacedRun[] => assemble(job).runs.filter(({ type }) => type.kind === 'rigid')

/** The job with its rigid runs free to be laid and drawn straight from end to end. */
export function rigidTakenUp(job: Job): { job: Job, ids: string[] } {
  const ids = rigidRuns(job).map(({ run }) => run.id as string)
  return { ids, job: { ...job, runs: job.runs.map((run) => ids.includes(run.id) ? { ...run, locked: false, waypoints: [run.waypoints[0], run.waypoints.at(-1)!] } : run) } }
}

/** What is wrong with the making of a rigid run: turns that no listed fitting makes, legs that do not hold what slides into them. */
export function unmade({ type, centreline: { elements, count }, run }: PlacedRun, straightsMm: readonly [number, number] = [0, 0]): string[] {
  if (type.kind !== 'rigid') return [`${run.id} is not rigid`]
  const wrong: string[] = [], slidesIn: number[] = [], legs: number[] = []
  let leg = 0
  for (let e = 0; e < count * ELEMENT_STRIDE; e += ELEMENT_STRIDE) {
    if (elements[e + KIND] !== ARC) {
      leg += elements[e + LENGTH]
      continue
    }
    const deg = elements[e + TURN] * 180 / Math.PI
    const fitting = type.fittings.find(({ angleDeg, radiusMm }) => Math.abs(angleDeg - deg) < 0.46 && Math.abs(radiusMm - elements[e + RADIUS]) < 1e-6)
    if (fitting === undefined) wrong.push(`${run.id}: no fitting of ${deg} degrees and ${elements[e + RADIUS]} mm`)
    slidesIn.push(fitting?.insertionMm ?? 0)
    legs.push(leg)
    leg = 0
  }
  legs.push(leg)
  if (slidesIn.length > 0) legs.forEach((mm, i) => {
    const needed = i === 0 ? Math.max(straightsMm[0], slidesIn[0]) : i === slidesIn.length ? Math.max(straightsMm[1], slidesIn[i - 1]) : slidesIn[i - 1] + slidesIn[i]
    if (mm < needed - 1e-3) wrong.push(`${run.id}: leg ${i + 1} is ${mm} mm, its fittings and straight want ${needed}`)
  })
  return wrong
}

/** Length and the usual prices of bends and of passing over one another, mm. */
export function worthOf(runs: readonly PlacedRun[]): number {
  return runs.reduce((sum, { centreline, bends }) => sum + centreline.lengthMm + usualPrices.bendMm * bends.length, usualPrices.crossingMm * planCrossings(runs).length)
}

/** The floor with its open runs in rigid duct of the same size, elbows as tight as the duct is wide. */
export function inRigidDuct(floor: Job): Job {
  return {
    ...floor,
    ductTypes: floor.ductTypes.map(({ id, name, innerDiameterMm, outerDiameterMm, insulationMm }) => ({
      kind: 'rigid', id, name, innerDiameterMm, outerDiameterMm, insulationMm, fittings: [90, 45, 30, 15].map((angleDeg) => ({ angleDeg, radiusMm: outerDiameterMm, insertionMm: 30 })),
    })),
  }
}
