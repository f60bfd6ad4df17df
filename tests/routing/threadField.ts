/** Small fields of joists between a unit and a plenum, for the tests of threading. */
import { contextFor, type CheckContext } from '#checks/index.ts'
import type { DuctType, RunEnd } from '#model/index.ts'
import { assemblyOf, OPEN_WEB, together, type EquipmentInput, type Point } from '../checks/smallJob.ts'

export const body = (id: string, kind: EquipmentInput['kind'], mouth: Point, axis: Point, diameterMm = 90): EquipmentInput => ({
  id, name: id, kind, centre: mouth.map((v, k) => v - 140 * axis[k]) as Point, sizeMm: [200, 200, 200],
  spigots: [{ id: '1', at: axis.map((v) => 140 * v) as Point, axis, diameterMm }],
})

export const SECTION = { ...OPEN_WEB, depthMm: 304 } as typeof OPEN_WEB

type Fields = Parameters<typeof assemblyOf>[0]
type JoistInput = NonNullable<Fields['joistFields']>[number]['joists'][number]

/** Joists along x, 6000 long, their undersides at z 0, the first on y 0, 400 apart. */
export function fieldContext(joists: readonly JoistInput[], equipment: readonly EquipmentInput[], ...more: readonly Fields[]): CheckContext {
  return contextFor(assemblyOf(together({ sections: [SECTION] }, {
    joistFields: [{ id: 'F', name: 'field', section: SECTION.id, origin: [0, 0, 0], directionDeg: 0, centresMm: 400, lengthMm: 6000, joists: [...joists] }],
    equipment: [...equipment],
  }, ...more)))
}

export const end = (equipment: string): RunEnd => ({ equipment, spigot: '1' }) as RunEnd
export const typeOf = (context: CheckContext, id: string): DuctType => context.assembly.job.ductTypes.find((type) => type.id === id)!

/** The opening of a joist whose largest duct sits nearest to x, of those that take more than 100 mm. */
export function openingNear(context: CheckContext, joistId: string, x: number): number {
  const { openings } = context.assembly.joists.find(({ id }) => id === joistId)!
  const middles = openings.map(({ number, opening }) => {
    let low = Infinity, high = -Infinity
    for (let i = 0; i < opening.verticesXy.length; i += 2) [low, high] = [Math.min(low, opening.verticesXy[i]), Math.max(high, opening.verticesXy[i])]
    return { number, x: (low + high) / 2, area: opening.areaMm2 }
  })
  return middles.filter(({ area }) => area > 20_000).sort((a, b) => Math.abs(a.x - x) - Math.abs(b.x - x))[0].number
}
