import { describe, expect, test } from 'vitest'
import { contextFor } from '#checks/context.ts'
import { cutList } from '#sheets/cutting/cutList.ts'
import { cutTables } from '#sheets/cutting/cutTables.ts'
import { USUAL } from '#sheets/options.ts'
import { assemblyOf, freeRun, jobOf, together, type Point, type RunInput } from '../checks/smallJob.ts'
import { assemble } from '#assembly/assemble.ts'

/** two boxes with a 40 mm and a 60 mm collar, and a run from one to the other */
function between(type: string, points: readonly Point[], more: Partial<RunInput> = {}) {
  const last = points.length - 1, way = (at: Point, to: Point): Point => [(to[0] - at[0]) / 100, (to[1] - at[1]) / 100, (to[2] - at[2]) / 100]
  const boxAt = (id: string, at: Point, to: Point, lengthMm: number) => {
    const axis = way(at, to), size = Math.hypot(...axis), out = axis.map((part) => part / size)
    return {
      id, name: `Box ${id}`, kind: 'manifold' as const, centre: at.map((value, k) => value - out[k] * (100 + lengthMm)) as Point, sizeMm: [200, 200, 200] as Point,
      spigots: [{ id: 's', at: out.map((part) => part * (100 + lengthMm)) as Point, axis: out as Point, diameterMm: type === 'r125' ? 125 : 90, lengthMm }],
    }
  }
  return jobOf({
    equipment: [boxAt('A', points[0], points[1], 40), boxAt('B', points[last], points[last - 1], 60)],
    runs: [{ id: 'R', name: 'Run R', type, from: { equipment: 'A', spigot: 's' }, to: { equipment: 'B', spigot: 's' }, waypoints: points.map((at) => ({ at })), ...more }],
  })
}
const cutsOf = (job: ReturnType<typeof jobOf>, more = {}) => cutList(contextFor(assemble(job)), { ...USUAL, ...more })

describe('bendable duct', () => {
  test('is cut to the centreline, both collars and the trim: 1 m, a bend of 180, 1 m', () => {
    const [cut] = cutsOf(between('d90', [[0, 0, 0], [1000, 0, 0], [1000, 1000, 0]]))
    // by hand: 820 + 180 * pi / 2 + 820 = 1922.743; 40 and 60 of collar, 100 of trim
    expect(cut.centrelineMm).toBeCloseTo(1922.743, 3)
    expect(cut).toMatchObject({ collarMm: [40, 60], trimMm: 100, cutMm: 2123, pieces: [], fittings: [], seals: 2, insulationMm: 0 })
    // one for every 600 mm begun
    expect(cut.supports).toBe(4)
  })
  test('in a sleeve has no collar to go over, and a trim of none adds none', () => {
    const [cut] = cutList(contextFor(assemblyOf(freeRun('A', [[0, 0, 0], [1500, 0, 0]]))), { ...USUAL, trimMm: 0 })
    expect(cut).toMatchObject({ cutMm: 1500, seals: 0, supports: 3 })
  })
})

describe('rigid duct', () => {
  test('is cut from shoulder to shoulder, with the fittings by angle and the insertions told: 125 mm, r 125, 40 mm inserted', () => {
    const [cut] = cutsOf(between('r125', [[0, 0, 0], [1000, 0, 0], [1000, 2000, 0], [1000 + 1500 * Math.SQRT1_2, 2000 + 1500 * Math.SQRT1_2, 0]]))
    const tan = 125 * Math.tan(Math.PI / 8)
    // by hand: 1000 - 125 and the 40 mm collar; 2000 - 125 - 125 tan 22.5; 1500 - 125 tan 22.5 and the 60 mm collar
    expect(cut.pieces.map(({ label, lengthMm, insertedMm }) => [label, lengthMm, ...insertedMm])).toEqual([
      ['R-1', expect.closeTo(915, 6), 40, 40], ['R-2', expect.closeTo(1875 - tan, 6), 40, 40], ['R-3', expect.closeTo(1560 - tan, 6), 40, 60],
    ])
    expect(cut.fittings.map(({ angleDeg }) => angleDeg)).toEqual([90, 45])
    // two spigots, two ends at each of two fittings
    expect(cut).toMatchObject({ seals: 6, couplers: 0, trimMm: 0 })
  })
  test('pieces, fittings and what they slide into add up to the run: straights and arcs are the centreline with both collars', () => {
    const [cut] = cutsOf(between('r125', [[0, 0, 0], [1000, 0, 0], [1000, 2000, 0], [1800, 2000, 0]]))
    expect(cut.pieces.reduce((sum, { lengthMm }) => sum + lengthMm, 0) + 2 * 125 * Math.PI / 2).toBeCloseTo(cut.centrelineMm + 100, 6)
  })
  test('longer than the stock is cut into equal pieces with couplers: 7 m and 100 mm of collars into three', () => {
    const [cut] = cutsOf(between('r125', [[0, 0, 0], [7000, 0, 0]]))
    expect(cut.pieces.map(({ label }) => label)).toEqual(['R-1a', 'R-1b', 'R-1c'])
    for (const { lengthMm } of cut.pieces) expect(lengthMm).toBeCloseTo(7100 / 3, 6)
    expect(cut).toMatchObject({ couplers: 2, seals: 6, supports: 10 })
  })
  test('is in pieces that go in between the joists: 660 mm of joists that leave 400', () => {
    const joists = {
      sections: [{ kind: 'open-web' as const, id: 's', name: '254', depthMm: 254, chordWidthMm: 97, chordHeightMm: 47, webPitchMm: 600, webWidthMm: 16, webThicknessMm: 2 }],
      joistFields: [{ id: 'F', name: 'field', section: 's', origin: [0, 0, 0] as Point, directionDeg: 0, centresMm: 600, lengthMm: 2400, joists: Array.from({ length: 6 }, (_, k) => ({ id: `J${k + 1}`, webFree: [{ fromMm: 0, toMm: 2400 }] })) }],
    }
    const [cut] = cutList(contextFor(assemblyOf(together(joists, freeRun('A', [[1200, -300, 127], [1200, 3300, 127]], { type: 'r125' })))), USUAL)
    const longest = cut.pieces[0].longestMm!
    expect(longest).toBeGreaterThan(300)
    expect(longest).toBeLessThan(1500)
    for (const { lengthMm } of cut.pieces) expect(lengthMm).toBeLessThanOrEqual(longest)
    expect(cut.pieces).toHaveLength(Math.ceil(3600 / longest))
  })
  test('with insulation has as much of it as the centreline is long', () => {
    const { equipment, runs } = between('d90', [[0, 0, 0], [1000, 0, 0]])
    const own = jobOf({
      equipment, runs: runs.map((run) => ({ ...run, type: 'lagged' })),
      ductTypes: [{ kind: 'rigid', id: 'lagged', name: 'Lagged 90', innerDiameterMm: 89, outerDiameterMm: 90, insulationMm: 25, fittings: [{ angleDeg: 90, radiusMm: 90 }] }],
    })
    expect(cutsOf(own)[0].insulationMm).toBe(1000)
  })
})

describe('the schedules', () => {
  const context = contextFor(assemble(between('r125', [[0, 0, 0], [1000, 0, 0], [1000, 2000, 0], [1800, 2000, 0]])))
  const tables = new Map(cutTables(context, USUAL).map((table) => [table.id, table]))
  test('count two bends of 90 degrees and six seals', () => {
    expect(tables.get('fittings')!.rows).toEqual([['125 mm rigid duct', 'bend', 90, 125, 2]])
    expect(tables.get('sundries')!.rows).toEqual([['125 mm rigid duct', 1, 6, 5, null, null]])
  })
  test('plan the cutting: 915 + 735 + 1750 needs two lengths of 3 m, said to be the fewest, the offcuts by name', () => {
    const { rows, notes } = tables.get('cutting-plan')!
    expect(notes[0]).toBe('125 mm rigid duct: 2 lengths of 3000 mm; fewer cannot do.')
    // 1750 + 915 and two cuts of 3 leave 329; 735 and a cut leave 2262
    expect(rows.map((row) => row.slice(3))).toEqual([['R-2 1750 + R-1 915', 'r125 length 1', expect.closeTo(329, 6)], ['R-3 735', 'r125 length 2', expect.closeTo(2262, 6)]])
  })
})
