/** Jobs with runs that no one has threaded yet: drawn straight from spigot to spigot, through webs and one another. */
import type { JobInput } from '#model/index.ts'
import { loftInput } from '../app/threadBench.ts'

type Place = [number, number, number]

export interface ValveBox { readonly id: string, readonly name: string, readonly x: number }

export const THREE_BOXES: readonly ValveBox[] = [['Left', 775], ['Middle', 1_275], ['Right', 1_775]].map(([name, x]) => ({ id: `V-${name}`, name: `${name} valve box`, x: Number(x) }))

/** The loft with three spigots in a row, so far apart, valve boxes over them, and no run yet. */
export function emptyLoftInput(apartMm = 180, boxes = THREE_BOXES): JobInput {
  const input = loftInput()
  const [manifold, valve] = input.equipment!
  const spigots = [-apartMm, 0, apartMm].map((x, i) => ({ id: `s${i + 1}`, at: [x, 140, 0] as Place, axis: [0, 1, 0] as Place, diameterMm: 90 }))
  return { ...input, equipment: [{ ...manifold, spigots }, ...boxes.map(({ id, name, x }) => ({ ...valve, id, name, centre: [x, 2_300, 2_500] as Place }))], runs: [] }
}

/** The same with two runs whose ducts would cross. */
export function openLoftInput(): JobInput {
  const runs = [['s1', 2], ['s3', 0]] as const
  return {
    ...emptyLoftInput(),
    runs: runs.map(([spigot, box], i) => ({
      id: `R${i + 1}`, name: `Run ${i + 1}`, type: 'D1', from: { equipment: 'M1', spigot }, to: { equipment: THREE_BOXES[box].id, spigot: 'a' },
      waypoints: [{ at: [795 + 360 * i, -60, 2_500] as Place }, { at: [THREE_BOXES[box].x, 2_160, 2_500] as Place }],
    })),
  }
}
