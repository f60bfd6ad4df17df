/** Houses for the tests of the air: a unit, manifolds, rooms side by side, and plain runs between them. */
import { assemble } from '#assembly/assemble.ts'
import type { Assembly } from '#assembly/assembly.ts'
import { formatProblems, readJobValue, type Job, type JobInput } from '#model/index.ts'

type RoomInput = NonNullable<JobInput['rooms']>[number]
export type EquipmentInput = NonNullable<JobInput['equipment']>[number]
type RunInput = NonNullable<JobInput['runs']>[number]
type Airflow = NonNullable<EquipmentInput['airflow']>

/** One room of the house, by its use and the terminals in it. */
export interface RoomWish {
  readonly id: string
  readonly use: NonNullable<RoomInput['use']>
  readonly m2?: number
  readonly heightMm?: number
  /** length of the duct of each terminal, mm, two for two terminals; the air is supply unless the use is wet */
  readonly ductsMm?: readonly number[]
  readonly extracts?: boolean
  readonly airflow?: RoomInput['airflow']
  readonly undercutMm?: number
  readonly terminal?: Airflow
}

export const VALVE: NonNullable<Airflow['settings']> = [
  { setting: 20, flowLps: 10, dropPa: 5 }, { setting: 15, flowLps: 10, dropPa: 9 }, { setting: 10, flowLps: 10, dropPa: 25 },
  { setting: 5, flowLps: 10, dropPa: 90 }, { setting: 2, flowLps: 10, dropPa: 700 }, { setting: 0, flowLps: 10, dropPa: 9_000 },
]

const WET = new Set(['kitchen', 'utility', 'bathroom', 'wc'])
const SIDE = 10_000

/** Every run leaves its manifold straight along x; trunks are 1 m of 160. */
export function houseOf(wishes: readonly RoomWish[], more: Partial<JobInput> = {}, unit: Airflow = {}): Job {
  const rooms: RoomInput[] = [], equipment: EquipmentInput[] = [], runs: RunInput[] = []
  const spigots = { supply: [] as NonNullable<EquipmentInput['spigots']>, extract: [] as NonNullable<EquipmentInput['spigots']> }
  const manifoldX = { supply: 0, extract: 0 }, manifoldY = { supply: -2_000, extract: -4_000 }
  wishes.forEach(({ id, use, m2 = 12, heightMm = 2_400, ductsMm = [], extracts = WET.has(use), airflow, undercutMm, terminal }, i) => {
    const y = i * SIDE, width = m2 * 1e6 / 3_000
    rooms.push({
      id, name: `Room ${id}`, use, outline: [[0, y], [width, y], [width, y + 3_000], [0, y + 3_000]], floorMm: 0, ceilingMm: heightMm,
      doors: undercutMm === undefined ? [] : [{ at: [width, y + 1_500], widthMm: 760, undercutMm }], airflow,
    })
    const air = extracts ? 'extract' : 'supply'
    ductsMm.forEach((lengthMm, t) => {
      const name = `${id}-${t + 1}`, spigot = `${name}-s`
      const z = 2_500 + 200 * t, at: [number, number, number] = [manifoldX[air] + 500, manifoldY[air] + i * 300, z]
      spigots[air].push({ id: spigot, at: [500, i * 300, z - 2_000], axis: [1, 0, 0], diameterMm: 75 })
      equipment.push({ id: name, name: `Valve ${name}`, kind: 'plenum', centre: [at[0] + lengthMm + 100, at[1], z], sizeMm: [200, 200, 160], air, room: id, spigots: [{ id: 'in', at: [-100, 0, 0], axis: [-1, 0, 0], diameterMm: 75 }], airflow: terminal })
      const from = { equipment: `${air}-manifold`, spigot }, to = { equipment: name, spigot: 'in' }
      runs.push({ id: `R-${name}`, name: `Run ${name}`, type: 'd75', from, to, waypoints: [{ at }, { at: [at[0] + lengthMm, at[1], z] }] })
    })
  })
  const unitAt: [number, number, number] = [-3_000, -3_000, 1_000]
  equipment.push({ id: 'unit', name: 'Unit', kind: 'unit', centre: unitAt, sizeMm: [600, 600, 800], airflow: unit, spigots: [0, 1, 2, 3].map((k) => ({ id: `u${k}`, at: [100 * k, 0, 450], axis: [0, 0, 1], diameterMm: 160 })) })
  for (const [k, air] of (['supply', 'extract'] as const).entries()) {
    equipment.push({ id: `${air}-manifold`, name: `Manifold ${air}`, kind: 'manifold', centre: [manifoldX[air], manifoldY[air], 2_000], sizeMm: [300, 300, 200], air, spigots: [{ id: 'main', at: [-200, 0, 0], axis: [-1, 0, 0], diameterMm: 160 }, ...spigots[air]] })
    runs.push({ id: `R-${air}`, name: `Trunk ${air}`, type: 'd160', from: { equipment: 'unit', spigot: `u${k}` }, to: { equipment: `${air}-manifold`, spigot: 'main' }, waypoints: [{ at: [-1_200, manifoldY[air], 2_000] }, { at: [-200, manifoldY[air], 2_000] }] })
  }
  for (const [k, air] of (['intake', 'exhaust'] as const).entries()) {
    equipment.push({ id: air, name: `Hood ${air}`, kind: 'outdoor-terminal', centre: [-8_000 - 3_000 * k, 0, 3_000], sizeMm: [100, 200, 200], air, spigots: [{ id: 'c', at: [50, 0, 0], axis: [1, 0, 0], diameterMm: 160 }] })
    runs.push({ id: `R-${air}`, name: `Run ${air}`, type: 'd160', from: { equipment: 'unit', spigot: `u${2 + k}` }, to: { equipment: air, spigot: 'c' }, waypoints: [{ at: [-6_000, 3_000 * k, 3_000] }, { at: [-8_000, 3_000 * k, 3_000] }] })
  }
  return read({
    format: 'joistway-job', version: 1, name: 'A house for its air', rooms, equipment, runs,
    ductTypes: [
      { kind: 'semi-rigid', id: 'd75', name: 'Semi-rigid 75', innerDiameterMm: 63, outerDiameterMm: 75, minBendRadiusMm: 150 },
      { kind: 'rigid', id: 'd160', name: 'Rigid 160', innerDiameterMm: 160, outerDiameterMm: 161, fittings: [{ angleDeg: 90, radiusMm: 160 }] },
    ],
    ...more,
  })
}

export function read(input: JobInput): Job {
  const result = readJobValue(input)
  if (!result.ok) throw new Error(formatProblems(result))
  return result.job
}

export function assemblyOf(...house: Parameters<typeof houseOf>): Assembly {
  return assemble(houseOf(...house))
}

/** A family house: three bedrooms, two wet rooms, a kitchen. */
export const FAMILY: readonly RoomWish[] = [
  { id: 'living', use: 'living', m2: 25, ductsMm: [4_000, 6_000] }, { id: 'bed1', use: 'bedroom', m2: 14, ductsMm: [8_000] },
  { id: 'bed2', use: 'bedroom', m2: 12, ductsMm: [11_000] }, { id: 'bed3', use: 'bedroom', m2: 9, ductsMm: [13_000] },
  { id: 'kitchen', use: 'kitchen', m2: 14, ductsMm: [3_000, 5_000] }, { id: 'bath', use: 'bathroom', m2: 6, ductsMm: [9_000] },
  { id: 'ensuite', use: 'bathroom', m2: 5, ductsMm: [12_000] }, { id: 'wc', use: 'wc', m2: 2, ductsMm: [4_000] }, { id: 'utility', use: 'utility', m2: 5, ductsMm: [6_000] },
]
