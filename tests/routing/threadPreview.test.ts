import { describe, expect, test } from 'vitest'
import { contextFor } from '#checks/index.ts'
import { largestBeside } from '#geometry/fit/largestBeside.ts'
import { openingFromPolygon } from '#geometry/fit/halfPlanes.ts'
import { gatePreview } from '#routing/threadPreview.ts'
import { assemblyOf, freeRun, oneJoist, together } from '../checks/smallJob.ts'
import { seededRandom } from './crowdedJob.ts'
import { typeOf } from './threadField.ts'

const through = (x: number, z: number) => freeRun('R1', [[x, -1000, z], [x, 1000, z]])
const preview = (fields: Parameters<typeof assemblyOf>[0], typeId = 'd90') => {
  const context = contextFor(assemblyOf(fields))
  // the triangle about x 300, see smallJob.ts
  const { number } = context.assembly.joists[0].openings.find(({ opening: { edges, edgeCount } }) => {
    for (let e = 0; e < edgeCount * 5; e += 5) if (edges[e] * 300 + edges[e + 1] * 118 > edges[e + 2]) return false
    return true
  })!
  return gatePreview(context, typeOf(context, typeId), 'J1', number)!
}

describe('an opening before it is clicked', () => {
  test('empty, has its incircle less the duct to spare: 141.5 - 90', () => {
    const { largestMm, roomLeftMm, spareMm, passing, words, opening } = preview(oneJoist())
    expect([largestMm, roomLeftMm, spareMm]).toEqual([141.5, 141.5, 51.5].map((v) => expect.closeTo(v, 9)))
    expect(passing).toEqual([])
    expect(words).toBe(`joist J1, opening ${opening} takes 141.5 mm. 90.0 mm leaves 51.5 mm to spare.`)
  })

  test('less what the job keeps clear all round', () => {
    const kept = preview(together(oneJoist(), { settings: { clearanceMm: 5 } }))
    expect(kept.spareMm).toBeCloseTo(41.5, 9)
    expect(kept.words).toContain('90.0 mm and 5.0 mm clear all round leaves 41.5 mm to spare')
  })

  const ductType = (outerDiameterMm: number) => ({ ductTypes: [{ kind: 'semi-rigid' as const, id: 'other', name: 'other duct', innerDiameterMm: 50, outerDiameterMm, minBendRadiusMm: 400 }] })

  test('with a duct in its middle, tells what is left in the corner beside it', () => {
    const { roomLeftMm, spareMm, passing, fitsIfOthersMove, words } = preview(together(oneJoist(), through(300, 47 + 70.75)))
    expect(passing).toEqual([{ runId: 'R1', name: 'Run R1', diameterMm: 90 }])
    // both centres lie on the corner's bisector, r / sin(half the corner) from it: (70.75 - r) / sin = 45 + r
    const sine = Math.sin(Math.atan2(160, 300) / 2)
    expect(roomLeftMm).toBeCloseTo(2 * (70.75 - 45 * sine) / (1 + sine), 9)
    expect(spareMm).toBeCloseTo(roomLeftMm - 90, 9)
    expect(fitsIfOthersMove).toBeNull()
    expect(words).toMatch(/Run R1 in it leaves 96\.3 mm\. 90\.0 mm leaves 6\.3 mm to spare\.$/)
  })

  test('a duct that would fit if the other made room is told so', () => {
    const { fitsIfOthersMove, spareMm, words } = preview(together(oneJoist(), through(300, 47 + 70.75), ductType(100)), 'other')
    expect(spareMm).toBeCloseTo(-3.7, 1)
    expect(fitsIfOthersMove).toBe(true)
    expect(words).toMatch(/100\.0 mm is 3\.7 mm too much\. All would fit if the others were moved\.$/)
  })

  test('and one that would not fit beside it wherever they lay', () => {
    // with 138 as near the far corner as it goes, 87 mm is left in this one: by the same bisector
    const { fitsIfOthersMove, words } = preview(together(oneJoist(), through(300, 47 + 70.75), ductType(138)), 'other')
    expect(fitsIfOthersMove).toBe(false)
    expect(words).toMatch(/too much\. They would not fit together wherever they lay\.$/)
  })
})

describe('the largest duct beside others', () => {
  test('in a corner left by one round in a square: the circle in the corner, (sqrt(2) - 1) / (sqrt(2) + 1) of its radius', () => {
    const square = openingFromPolygon([0, 0, 100, 0, 100, 100, 0, 100])
    const { diameterMm, x, y } = largestBeside(square, [{ x: 50, y: 50, keptMm: 50 }])
    expect(diameterMm).toBeCloseTo(100 * (Math.SQRT2 - 1) / (Math.SQRT2 + 1), 9)
    expect(Math.abs(x - 50)).toBeCloseTo(Math.abs(y - 50), 9)
  })

  test.each([1, 2, 3, 4, 5, 6])('no place of a fine grid has more room (seed %i)', (seed) => {
    const random = seededRandom(seed), between = (low: number, high: number): number => low + random() * (high - low)
    for (let n = 0; n < 12; n++) {
      const count = 3 + Math.floor(4 * random())
      const opening = openingFromPolygon(Array.from({ length: count }, (_, i) => {
        const turn = 2 * Math.PI * (i + 0.6 * random()) / count
        return [150 * Math.cos(turn), 100 * Math.sin(turn)]
      }).flat())
      if (opening.edgeCount === 0) continue
      const ducts = Array.from({ length: 1 + Math.floor(3 * random()) }, () => ({ x: between(-80, 80), y: between(-60, 60), keptMm: between(10, 60) }))
      const found = largestBeside(opening, ducts)
      const room = (x: number, y: number): number => {
        let least = Infinity
        for (let e = 0; e < 5 * opening.edgeCount; e += 5) least = Math.min(least, opening.edges[e + 2] - opening.edges[e] * x - opening.edges[e + 1] * y)
        for (const duct of ducts) least = Math.min(least, Math.hypot(x - duct.x, y - duct.y) - duct.keptMm)
        return least
      }
      if (found.diameterMm > 0) expect(room(found.x, found.y)).toBeCloseTo(found.diameterMm / 2, 9)
      let best = 0
      for (let x = -150; x <= 150; x += 1.5) for (let y = -100; y <= 100; y += 1.5) best = Math.max(best, room(x, y))
      expect(found.diameterMm / 2, `seed ${seed}, case ${n}`).toBeGreaterThanOrEqual(best - 1e-9)
      // room changes no faster than one moves: the grid comes within half its diagonal
      expect(found.diameterMm / 2).toBeLessThanOrEqual(best + 1.07)
    }
  })
})
