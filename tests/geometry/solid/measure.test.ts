import { describe, expect, test } from 'vitest'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import { SolidSetBuilder } from '#geometry/solid/build.ts'
import { distanceToSolid } from '#geometry/solid/inside.ts'
import { measureSolid } from '#geometry/solid/measure.ts'
import { UPRIGHT, axesOfRotation } from '#geometry/solid/rotation.ts'
import { axes, between, seeded } from '../../oracle/drawnElements.ts'
import { drawBox, drawCylinder, drawPrism } from '../../oracle/drawnSolids.ts'
import { pointToElement } from '../../oracle/curveDistance.ts'
import { signedDistance } from '../../oracle/solidDistance.ts'
import { BOX, CYLINDER, PRISM, type SolidKind } from '#geometry/solid/solidSet.ts'

const setOf = (add: (b: SolidSetBuilder) => unknown) => {
  const builder = new SolidSetBuilder()
  add(builder)
  return builder.build()
}
const measured = (add: (b: SolidSetBuilder) => unknown) => measureSolid(setOf(add), 0)

describe('volume and surface', () => {
  test('a chord 97 x 47 x 10 000', () => {
    expect(measured((b) => b.addBox([1, 2, 3], [5000, 48.5, 23.5], axesOfRotation(0, 0, 33)))).toMatchObject({
      volumeMm3: 97 * 47 * 10_000, areaMm2: 2 * (97 * 47 + 97 * 10_000 + 47 * 10_000),
    })
  })

  test('a slab with a square hole', () => {
    expect(measured((b) => b.addPrism([0, 0, 0], UPRIGHT, -20, 180, [[0, 0, 1000, 0, 1000, 600, 0, 600], [100, 100, 300, 100, 300, 200, 100, 200]]))).toMatchObject({
      volumeMm3: (600_000 - 20_000) * 200, areaMm2: 2 * 580_000 + (3200 + 600) * 200,
    })
  })

  test('a stack', () => {
    expect(measured((b) => b.addCylinder([0, 0, 0], [0, 0, 1], 55, 600)).volumeMm3).toBeCloseTo(Math.PI * 55 ** 2 * 1200, 3)
    expect(measured((b) => b.addCylinder([0, 0, 0], [0, 0, 1], 55, 600)).areaMm2).toBeCloseTo(2 * Math.PI * 55 * 1200 + 2 * Math.PI * 55 ** 2, 5)
  })

  test('a bent run, by the path of its section\'s centre', () => { // Pappus of Alexandria's centroid theorem, Collection, book 7
    const { centreline } = centrelineThrough([0, 0, 0, 1000, 0, 0, 1000, 800, 0], [0, 180, 0])
    const path = 820 + 180 * Math.PI / 2 + 620
    const { volumeMm3, areaMm2, endsVolumeMm3, endsAreaMm2 } = measured((b) => b.addTube(centreline, 45))
    expect(volumeMm3).toBeCloseTo(Math.PI * 45 ** 2 * path, 3)
    expect(areaMm2).toBeCloseTo(2 * Math.PI * 45 * path, 5)
    expect(endsVolumeMm3).toBeCloseTo(4 / 3 * Math.PI * 45 ** 3, 5)
    expect(endsAreaMm2).toBeCloseTo(4 * Math.PI * 45 ** 2, 5)
  })

  test('a run\'s volume is the volume of the points near its centreline, counted (seed 21)', () => {
    const draw = seeded(21)
    const { centreline } = centrelineThrough([0, 0, 0, 400, 0, 0, 400, 400, 0], [0, 150, 0])
    const set = setOf((b) => b.addTube(centreline, 60)), out = [0, 0, 0]
    const [x0, y0, z0, x1, y1, z1] = set.bounds, count = 60_000
    let hits = 0
    for (let i = 0; i < count; i++) if (distanceToSolid(set, 0, between(draw, x0, x1), between(draw, y0, y1), between(draw, z0, z1), out) < 0) hits++
    const { volumeMm3, endsVolumeMm3 } = measureSolid(set, 0), box = (x1 - x0) * (y1 - y0) * (z1 - z0)
    const share = (volumeMm3 + endsVolumeMm3) / box
    // five standard deviations of a count
    expect(Math.abs(hits / count - share)).toBeLessThan(5 * Math.sqrt(share * (1 - share) / count))
  })
})

describe('distance of a point (seed 22)', () => {
  const near = [0, 0, 0]
  test.each<[string, SolidKind, typeof drawBox]>([['a box', BOX, drawBox], ['a cylinder', CYLINDER, drawCylinder], ['a prism', PRISM, drawPrism]])(
    '%s: as the definition says, and the nearest point lies on the surface at that distance', (_, kind, drawSolid) => {
      const draw = seeded(22)
      let inside = 0
      for (let i = 0; i < 2000; i++) {
        const data = drawSolid(draw, [0, 0, 0], 100, axes(draw))
        const set = { count: 1, kind: Uint8Array.of(kind), offset: Uint32Array.of(0, data.length), data, bounds: new Float64Array(6) }
        const p: [number, number, number] = [between(draw, -150, 150), between(draw, -150, 150), between(draw, -150, 150)]
        if (i % 10 === 0) p.fill(0)
        const distance = distanceToSolid(set, 0, ...p, near)
        expect(distance).toBeCloseTo(signedDistance(kind, data)(p), 9)
        expect(Math.hypot(p[0] - near[0], p[1] - near[1], p[2] - near[2])).toBeCloseTo(Math.abs(distance), 9)
        expect(signedDistance(kind, data)(near as [number, number, number])).toBeCloseTo(0, 9)
        if (distance < 0) inside++
      }
      expect(inside).toBeGreaterThan(50)
    })

  test('a run: the distance to its centreline less its radius', () => {
    const draw = seeded(23)
    for (let i = 0; i < 1000; i++) {
      const { centreline } = centrelineThrough(Array.from({ length: 9 }, () => between(draw, -200, 200)), [0, 80, 0])
      const set = setOf((b) => b.addTube(centreline, 30))
      const p: [number, number, number] = [between(draw, -250, 250), between(draw, -250, 250), between(draw, -250, 250)]
      if (i % 10 === 0) p.splice(0, 3, ...(Array.from(centreline.elements.subarray(1, 4)) as [number, number, number]))
      let least = Infinity
      for (let e = 0; e < centreline.elements.length; e += 20) least = Math.min(least, pointToElement(centreline.elements, e, p))
      const distance = distanceToSolid(set, 0, ...p, near)
      expect(distance).toBeCloseTo(least - 30, 8)
      expect(Math.hypot(p[0] - near[0], p[1] - near[1], p[2] - near[2])).toBeCloseTo(Math.abs(distance), 8)
    }
  })
})
