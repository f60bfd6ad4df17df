/** A void full of members of every kind and a few runs laid without looking: seeded, so that a failure can be met again. */
import type { JobInput } from '#model/index.ts'
import { freeRun, OPEN_WEB, together, type Point } from '../checks/smallJob.ts'
import { seeded as seededRandom } from '../oracle/seeded.ts'

export { seededRandom }

export function crowdedJob(seed: number): Partial<Omit<JobInput, 'format' | 'version'>> {
  const random = seededRandom(seed)
  const between = (low: number, high: number): number => low + random() * (high - low)
  const point = (): Point => [between(0, 3000), between(0, 3000), between(60, 200)]
  const solids: NonNullable<JobInput['solids']> = Array.from({ length: 12 }, (_, i) => {
    const [x, y, z] = point()
    const size = (): number => between(20, 160)
    const shapes = [
      { kind: 'box' as const, centre: [x, y, z] as Point, sizeMm: [size(), size(), size()] as Point, rotationDeg: [between(-90, 90), between(-90, 90), between(-90, 90)] as Point },
      { kind: 'cylinder' as const, from: [x, y, 0] as Point, to: [x, y + 1, 300] as Point, diameterMm: size() },
      { kind: 'tube' as const, points: [[x, y, z], [x + 300, y, z], [x + 300, y + 300, z + 20]] as Point[], diameterMm: between(10, 30), bendRadiusMm: 60 },
      { kind: 'prism' as const, outline: [[x, y], [x + 300, y], [x + 300, y + 60], [x + 60, y + 60], [x + 60, y + 300], [x, y + 300]] as [number, number][], bottomMm: 20, topMm: 120 },
    ]
    return { id: `O${i}`, name: `thing ${i}`, class: 'other' as const, shape: shapes[i % 4] }
  })
  const runs = Array.from({ length: 8 }, (_, i) => {
    // short runs, so that some are clear; loose sleeves that hold the ends and little else
    const a = point(), aim = between(0, 2 * Math.PI), step = between(220, 420)
    const along = (k: number, side: number): Point => [a[0] + k * step * Math.cos(aim) - side * Math.sin(aim), a[1] + k * step * Math.sin(aim) + side * Math.cos(aim), a[2]]
    const { runs: own, sleeves } = freeRun(`R${i}`, [along(0, 0), along(1, between(-150, 150)), along(2, 0)])
    return { runs: own, sleeves: sleeves.map((sleeve) => ({ ...sleeve, diameterMm: 700, lengthMm: 1 })) }
  })
  return together(
    { name: `crowded ${seed}`, solids, sections: [OPEN_WEB] },
    {
      joistFields: [{
        id: 'F', name: 'field', section: OPEN_WEB.id, origin: [0, 0, 0], directionDeg: 0, centresMm: 1000, lengthMm: 3000,
        joists: Array.from({ length: 3 }, (_, i) => ({ id: `J${i + 1}`, firstNodeMm: between(0, 600), flip: random() < 0.5 })),
      }],
      zones: [{ id: 'Z', name: 'void', outline: [[-1000, -1000], [4000, -1000], [4000, 4000], [-1000, 4000]], undersideMm: -200, topMm: 460 }],
    },
    ...runs,
  )
}
