import { describe, expect, test } from 'vitest'
import { contextFor } from '#checks/index.ts'
import { clearancesAt, stripOf, type FreeWay } from '#checks/strip.ts'
import { distanceToSolid } from '#geometry/solid/inside.ts'
import { pointAt } from '#geometry/curve/measure.ts'
import { assemble } from '#assembly/assemble.ts'
import { crowdedJob, seededRandom } from '../routing/crowdedJob.ts'
import { assemblyOf, box, freeRun, jobOf, oneJoist, together } from './smallJob.ts'

const contextOf = (...fields: Parameters<typeof assemblyOf>[0][]) => contextFor(assemblyOf(together(...fields)))
const through = (x: number, z: number, id = 'R1') => freeRun(id, [[x, -1000, z], [x, 1000, z]])
const zone = (undersideMm: number, topMm: number, x0 = -500, x1 = 2500, id = 'Z') => ({ id, name: `zone ${id}`, outline: [[x0, -2000], [x1, -2000], [x1, 2000], [x0, 2000]] as [number, number][], undersideMm, topMm })

describe('the run strip', () => {
  test('is the run unrolled: stations against heights, exact at every leg and bend', () => {
    const context = contextOf(freeRun('R1', [[0, 0, 100], [1000, 0, 100], [1000, 1000, 100], [1000, 2000, 600]]))
    const strip = stripOf(context, 0)
    const { centreline, bends } = context.runs[0].placed
    expect(strip.lengthMm).toBe(centreline.lengthMm)
    expect(strip.centre[0]).toEqual({ stationMm: 0, heightMm: 100 })
    expect(strip.centre.at(-1)).toEqual({ stationMm: centreline.lengthMm, heightMm: 600 })
    const point = [0, 0, 0]
    for (const { stationMm, heightMm } of strip.centre) {
      pointAt(centreline, stationMm, point)
      expect(heightMm).toBeCloseTo(point[2], 9)
    }
    // between the points drawn, the true height strays by no more than is said
    for (let i = 1; i < strip.centre.length; i++) {
      const a = strip.centre[i - 1], b = strip.centre[i]
      for (const share of [0.25, 0.5, 0.75]) {
        pointAt(centreline, a.stationMm + share * (b.stationMm - a.stationMm), point)
        expect(Math.abs(point[2] - a.heightMm - share * (b.heightMm - a.heightMm))).toBeLessThan(strip.sampledWithinMm)
      }
    }
    expect(strip.bends.map(({ radiusMm, leastMm, ok }) => [radiusMm, leastMm, ok])).toEqual([[180, 180, true], [180, 180, true]])
    expect(strip.bends.map(({ stationMm }) => stationMm)).toEqual(bends.map(({ stationMm }) => stationMm))
    expect(strip.bends[0].turnDeg).toBeCloseTo(90, 9)
    expect(strip.bends[0].fromMm).toBeCloseTo(820, 9)
    expect(strip.bends[0].toMm).toBeCloseTo(820 + 90 * Math.PI, 9)
  })

  test('a bend tighter than the duct takes is marked', () => {
    const run = freeRun('R1', [[0, 0, 0], [1000, 0, 0], [1000, 1000, 0]])
    const tight = { ...run, runs: run.runs.map((r) => ({ ...r, waypoints: r.waypoints.map((w, i) => i === 1 ? { ...w, radiusMm: 120 } : w) })) }
    expect(stripOf(contextOf(tight), 0).bends[0]).toMatchObject({ radiusMm: 120, leastMm: 180, ok: false })
  })

  test('a joist is drawn as its opening: from the bottom chord at 47 up to the webs, 47 + 8 / 15 * distance from the foot of the web', () => {
    // the sloping sides rise 160 in 300 and stand 8 * 17 / 15 lower than their centrelines: see smallJob.ts
    const { crossings: [crossing] } = stripOf(contextOf(through(200, 100), oneJoist()), 0)
    const high = 47 + 200 * 160 / 300 - 8 * 17 / 15
    expect(crossing.open.map((open) => [open!.lowMm, open!.highMm])).toEqual(Array.from({ length: 3 }, () => [47, high].map((v) => expect.closeTo(v, 9))))
    expect(crossing.open[1]!.below.part).toBe('bottom-chord')
    expect(crossing.open[1]!.above.part).toMatch(/^web-\d+-(left|right)$/)
    expect([crossing.undersideMm, crossing.topMm]).toEqual([0, 254])
    // chords 97 wide and a plate of 2 on each face: 50.5 either side of the middle plane
    expect([crossing.fromMm, crossing.toMm]).toEqual([1000 - 50.5, 1000 + 50.5].map((v) => expect.closeTo(v, 6)))
  })

  test('a slanting run meets the opening elsewhere at either face', () => {
    const { crossings: [crossing] } = stripOf(contextOf(freeRun('R1', [[100, -1000, 90], [300, 1000, 90]]), oneJoist()), 0)
    const high = (x: number) => 47 + x * 160 / 300 - 8 * 17 / 15
    expect(crossing.open.map((open) => open!.highMm)).toEqual([200 - 5.05, 200, 200 + 5.05].map((x) => expect.closeTo(high(x), 6)))
  })

  test('a declared hole is drawn as the chord of its round', () => {
    const timber = oneJoist({ kind: 'solid-timber', id: 's', name: '47 x 220', depthMm: 220, widthMm: 47 })
    const { crossings: [crossing] } = stripOf(contextOf(through(812, 110), timber, { holes: [{ id: 'H1', joist: 'J1', alongMm: 800, heightMm: 110, diameterMm: 110 }] }), 0)
    const half = Math.sqrt(55 ** 2 - 12 ** 2)
    expect(crossing.open[1]).toMatchObject({ lowMm: expect.closeTo(110 - half, 9), highMm: expect.closeTo(110 + half, 9) })
  })

  test('the ceiling zones over which it lies, with their heights, change where it passes from one to the next', () => {
    const { zones } = stripOf(contextOf(freeRun('R1', [[0, 0, 100], [2000, 0, 100]]), { zones: [zone(-60, 254, -500, 800, 'A'), zone(0, 300, 800, 2500, 'B')] }), 0)
    expect(zones).toEqual([
      { fromMm: 0, toMm: expect.closeTo(800, 1), id: 'A', name: 'zone A', undersideMm: -60, topMm: 254 },
      { fromMm: expect.closeTo(800, 1), toMm: 2000, id: 'B', name: 'zone B', undersideMm: 0, topMm: 300 },
    ])
  })

  test('runs that pass near are told with the clear distance and how much higher they lie', () => {
    const strip = stripOf(contextOf(freeRun('R1', [[0, 0, 0], [2000, 0, 0]]), freeRun('R2', [[1200, -800, 150], [1200, 800, 150]]), freeRun('R3', [[0, 500, 0], [2000, 500, 0]])), 0)
    expect(strip.near).toHaveLength(1)
    expect(strip.near[0]).toMatchObject({ run: { id: 'R2' }, clearanceMm: expect.closeTo(60, 9), higherMm: expect.closeTo(150, 9), stationMm: expect.closeTo(1200, 6) })
  })
})

describe('what is free round a run', () => {
  const free = ({ freeMm, part }: FreeWay) => [freeMm, part?.id]

  test('above, below, left and right, each to the first surface that way', () => {
    const context = contextOf(
      freeRun('R1', [[0, 0, 0], [2000, 0, 0]]), freeRun('R2', [[1000, 200, -500], [1000, 200, 500]]),
      box('beam', 'beam', [1000, 0, 145], [200, 400, 100]), { zones: [zone(-120, 500)] },
    )
    const { above, below, leftOf, rightOf, up, left } = clearancesAt(context, 0, 1000)
    expect(up).toEqual({ x: 0, y: 0, z: 1 })
    expect(left).toEqual({ x: 0, y: 1, z: 0 })
    expect(free(above)).toEqual([expect.closeTo(50, 9), 'beam'])
    expect(free(below)).toEqual([expect.closeTo(75, 9), 'Z'])
    expect(below.part?.name).toBe('the underside of zone Z')
    expect(free(leftOf)).toEqual([expect.closeTo(110, 9), 'R2'])
    expect(free(rightOf)).toEqual([expect.closeTo(1955, 9), 'Z'])
    expect(above.at).toEqual({ x: 1000, y: 0, z: expect.closeTo(95, 9) })
  })

  test('nothing that way is said as nothing', () => {
    const { above, leftOf } = clearancesAt(contextOf(freeRun('R1', [[0, 0, 0], [2000, 0, 0]])), 0, 1000)
    expect([above, leftOf]).toEqual([{ freeMm: null, part: null, at: null }, { freeMm: null, part: null, at: null }])
  })

  test('a member within the duct is told below nothing', () => {
    const { above } = clearancesAt(contextOf(freeRun('R1', [[0, 0, 0], [2000, 0, 0]]), box('beam', 'beam', [1000, 0, 80], [200, 400, 100])), 0, 1000)
    expect(free(above)).toEqual([expect.closeTo(-15, 9), 'beam'])
    const inside = clearancesAt(contextOf(freeRun('R1', [[0, 0, 0], [2000, 0, 0]]), box('beam', 'beam', [1000, 0, 0], [200, 400, 100])), 0, 1000)
    expect(free(inside.above)).toEqual([-45, 'beam'])
  })

  test('in an opening: to the bottom chord and the web over it', () => {
    const context = contextOf(through(200, 95), oneJoist())
    expect(free(clearancesAt(context, 0, 1000).below)).toEqual([expect.closeTo(95 - 47 - 45, 9), 'J1'])
    // between the plates nothing stands over the duct but the top chord; the plate of the near face is 48.5 to 50.5 from the middle
    expect(clearancesAt(context, 0, 1000).above).toMatchObject({ freeMm: expect.closeTo(207 - 95 - 45, 9), part: { part: 'top-chord' } })
    const { above } = clearancesAt(context, 0, 1000 - 49.5)
    expect(above.part?.part).toMatch(/^web-/)
    expect(above.freeMm).toBeCloseTo(47 + 200 * 160 / 300 - 8 * 17 / 15 - 95 - 45, 9)
  })

  test.each([11, 12, 13, 14])('in a crowded void no part lies in the way before the one that is named (seed %i)', (seed) => {
    const context = contextFor(assemble(jobOf(crowdedJob(seed))))
    const random = seededRandom(seed), { solids } = context.assembly
    let told = 0
    context.runs.forEach(({ placed, contacts }, runIndex) => {
      for (let n = 0; n < 6; n++) {
        const at = clearancesAt(context, runIndex, random() * placed.centreline.lengthMm)
        for (const [way, sign, { freeMm, part }] of [[at.up, 1, at.above], [at.up, -1, at.below], [at.left, 1, at.leftOf], [at.left, -1, at.rightOf]] as const) {
          const reachMm = (freeMm ?? 600) + placed.outerRadiusMm
          const mayTouch = (i: number) => (contacts.get(i) ?? []).some(({ fromMm, toMm }) => at.stationMm >= fromMm && at.stationMm <= toMm)
          let deepest = Infinity
          for (let k = 0; k < 40; k++) {
            const t = sign * reachMm * (k / 40 - 1e-6)
            const [x, y, z] = [at.at.x + t * way.x, at.at.y + t * way.y, at.at.z + t * way.z]
            if (Math.abs(t) < 1e-3) continue
            for (let i = 0; i < solids.count; i++) if (!mayTouch(i)) deepest = Math.min(deepest, distanceToSolid(solids, i, x, y, z, foot))
          }
          expect(deepest, `before ${part?.name}, run ${runIndex} at ${at.stationMm}`).toBeGreaterThan(-1e-6)
          if (freeMm !== null) told++
        }
      }
    })
    expect(told).toBeGreaterThan(20)
  })
})

const foot = new Float64Array(3)
