import { Ray, Vector3 } from 'three'
import { describe, expect, test } from 'vitest'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import { rayDistance } from '#geometry/ray/rayDistance.ts'
import { SolidSetBuilder } from '#geometry/solid/build.ts'
import { distanceToSolid } from '#geometry/solid/inside.ts'
import { BOX, CYLINDER, PRISM, type SolidKind, type SolidSet } from '#geometry/solid/solidSet.ts'
import { between, direction, seeded, type Draw, type Vec } from '../../oracle/drawnElements.ts'
import { peerBox, peerCylinder, peerPrism, type PeerShape } from '../../oracle/peerShapes.ts'
import { setOf } from '../../oracle/placedShapes.ts'

const UPRIGHT = [1, 0, 0, 0, 1, 0, 0, 0, 1]
const tube = (points: number[], bendMm: number, radius: number): SolidSet => {
  const builder = new SolidSetBuilder()
  builder.addTube(centrelineThrough(points, points.filter((_, i) => i % 3 === 0).map(() => bendMm)).centreline, radius)
  return builder.build()
}

describe('a ray', () => {
  test('meets a box at its face, leaves it from inside, and misses beside it', () => {
    const builder = new SolidSetBuilder()
    builder.addBox([0, 0, 0], [100, 50, 20], UPRIGHT)
    const set = builder.build()
    expect(rayDistance(set, 0, [0, 0, 100], [0, 0, -1])).toBe(80)
    expect(rayDistance(set, 0, [0, 0, 0], [0, 0, -1])).toBe(20)
    expect(rayDistance(set, 0, [0, 60, 100], [0, 0, -1])).toBe(Infinity)
    expect(rayDistance(set, 0, [0, 0, 100], [0, 0, 1])).toBe(Infinity)
  })

  test('meets the crown of a bend: torus of 180 and 45', () => {
    const set = tube([0, 0, 0, 1000, 0, 0, 1000, 1000, 0], 180, 45)
    const s = Math.SQRT1_2 * 180
    expect(rayDistance(set, 0, [820 + s, 180 - s, 500], [0, 0, -1])).toBeCloseTo(455, 9)
    // from the centre of the bend out to its inner side
    expect(rayDistance(set, 0, [820, 180, 0], [Math.SQRT1_2, -Math.SQRT1_2, 0])).toBeCloseTo(135, 9)
    // from within the duct up
    expect(rayDistance(set, 0, [500, 0, 0], [0, 0, 1])).toBeCloseTo(45, 12)
    // from within along it, out through the round end
    expect(rayDistance(set, 0, [500, 0, 0], [-1, 0, 0])).toBeCloseTo(545, 9)
  })

  test('passes under the bend where the duct is not', () => {
    expect(rayDistance(tube([0, 0, 0, 1000, 0, 0, 1000, 1000, 0], 180, 45), 0, [820, 180, 500], [0, 0, -1])).toBe(Infinity)
  })
})

const SHAPES: readonly (readonly [string, SolidKind, (draw: Draw) => PeerShape])[] = [['box', BOX, peerBox], ['cylinder', CYLINDER, peerCylinder], ['prism', PRISM, peerPrism]]

describe.each(SHAPES)('rays at a %s', (_name, kind, drawShape) => {
  test.each([1, 2, 3])('meet it where a mesh library says (seed %i)', (seed) => {
    const draw = seeded(seed * 101 + kind)
    let hits = 0, misses = 0
    for (let n = 0; n < 200; n++) {
      const shape = drawShape(draw), set = setOf(kind, shape.data)
      const origin: Vec = [between(draw, -300, 300), between(draw, -300, 300), between(draw, -300, 300)]
      // half of them aimed at the middle, so that enough hit
      const way = n % 2 === 0 ? direction(draw) : aimed(origin, draw)
      const mm = rayDistance(set, 0, origin, way)
      const hit = shape.mesh.raycastFirst(new Ray(new Vector3(...origin), new Vector3(...way)), 2)
      const isInside = distanceToSolid(set, 0, ...origin, foot) < 0
      // facets lie within a round surface: past its silhouette they are missed, and a grazing ray meets them late
      const slack = kind === CYLINDER ? 40 * shape.facetMm : 0.01
      if (mm === Infinity) {
        misses++
        expect(hit === null || kind !== PRISM && isInside, `case ${n} misses`).toBe(true)
        continue
      }
      hits++
      expect(Math.abs(distanceToSolid(set, 0, origin[0] + mm * way[0], origin[1] + mm * way[1], origin[2] + mm * way[2], foot)), `case ${n} lies on it`).toBeLessThan(1e-6)
      if (hit !== null) expect(Math.abs(hit.distance - mm), `case ${n}`).toBeLessThan(slack)
      else expect(kind, `case ${n}: only a faceted cylinder is missed`).toBe(CYLINDER)
    }
    console.log(`seed ${seed}: ${hits} hits, ${misses} misses`)
    expect(hits).toBeGreaterThan(60)
    expect(misses).toBeGreaterThan(20)
  })
})

describe('rays at a bent pipe', () => {
  test.each([1, 2, 3, 4])('meet its surface first where a march by its own distance does (seed %i)', (seed) => {
    const draw = seeded(seed + 500)
    let hits = 0
    for (let n = 0; n < 120; n++) {
      const p = (): number => between(draw, -300, 300)
      const radius = between(draw, 20, 60)
      const points = Array.from({ length: 12 }, p)
      const set = tube(points, between(draw, 0, 120), radius)
      const origin: Vec = [p(), p(), p()]
      // half of them aimed at a place near its middle leg, so that enough hit
      const way = n % 2 === 0 ? direction(draw) : aimed(origin, draw, [3, 4, 5].map((k) => (points[k] + points[k + 3]) / 2) as Vec)
      const start = distanceToSolid(set, 0, ...origin, foot)
      if (Math.abs(start) < 0.5) continue
      const mm = rayDistance(set, 0, origin, way)
      // sphere tracing (Hart 1996): no step can pass the surface, outside; inside, the depth is that below the nearest leg's own surface
      if (start < 0) {
        expect(mm).toBeGreaterThanOrEqual(-start - 1e-9)
        expect(Math.abs(distanceToSolid(set, 0, origin[0] + mm * way[0], origin[1] + mm * way[1], origin[2] + mm * way[2], foot))).toBeLessThan(1e-6)
        continue
      }
      let t = 0
      for (let step = 0; step < 4000 && t < 3000; step++) {
        const left = distanceToSolid(set, 0, origin[0] + t * way[0], origin[1] + t * way[1], origin[2] + t * way[2], foot)
        if (left < 1e-7) break
        t += left
      }
      if (t >= 3000) expect(mm, `case ${n} misses`).toBe(Infinity)
      else if (mm !== Infinity || t < 2999) {
        expect(mm, `case ${n}`).toBeGreaterThan(t - 1e-3)
        // a graze is met to within the square root of the march's last step
        expect(mm - t, `case ${n}`).toBeLessThan(0.05)
        hits++
      }
    }
    console.log(`seed ${seed}: ${hits} hits`)
    expect(hits).toBeGreaterThan(30)
  })
})

const foot = new Float64Array(3)

function aimed(origin: Vec, draw: Draw, at: Vec = [0, 0, 0]): Vec {
  const to = origin.map((v, k) => at[k] + between(draw, -40, 40) - v), size = Math.hypot(...to)
  return to.map((v) => v / size) as Vec
}
