/** Jobs with runs that no one has threaded yet: drawn straight from spigot to spigot, through webs and one another. */
import type { JobInput } from '#model/index.ts'
import { loftInput } from '../app/threadBench.ts'

type Place = [number, number, number]

/** The loft with three spigots in a row and three valve boxes over them, and two runs whose ducts would cross. */
export function openLoftInput(): JobInput {
  const input = loftInput()
  const [manifold, valve] = input.equipment!
  const spigots = [-180, 0, 180].map((x, i) => ({ id: `s${i + 1}`, at: [x, 140, 0] as Place, axis: [0, 1, 0] as Place, diameterMm: 90 }))
  const boxes = [['Left', 775], ['Middle', 1_275], ['Right', 1_775]] as const
  const valves = boxes.map(([name, x]) => ({ ...valve, id: `V-${name}`, name: `${name} valve box`, centre: [x, 2_300, 2_500] as Place }))
  const runs = [['s1', 2], ['s3', 0]] as const
  return {
    ...input, equipment: [{ ...manifold, spigots }, ...valves],
    runs: runs.map(([spigot, box], i) => ({
      id: `R${i + 1}`, name: `Run ${i + 1}`, type: 'D1', from: { equipment: 'M1', spigot }, to: { equipment: valves[box].id, spigot: 'a' },
      waypoints: [{ at: [795 + 360 * i, -60, 2_500] as Place }, { at: [boxes[box][1], 2_160, 2_500] as Place }],
    })),
  }
}
