import { describe, expect, test } from 'vitest'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import { SolidSetBuilder } from '#geometry/solid/build.ts'
import { UPRIGHT, axesAlong, axesOfRotation } from '#geometry/solid/rotation.ts'
import { BOX, CYLINDER, PRISM, TUBE } from '#geometry/solid/solidSet.ts'
import { between, direction, seeded } from '../../oracle/drawnElements.ts'
import { ringsOf } from '../../oracle/solidDistance.ts'

const bounds = (fill: (builder: SolidSetBuilder) => void) => {
  const builder = new SolidSetBuilder()
  fill(builder)
  return Array.from(builder.build().bounds)
}

describe('turning', () => {
  test.each([
    [[0, 0, 90], [0, 1, 0, -1, 0, 0, 0, 0, 1]], [[90, 0, 0], [1, 0, 0, 0, 0, 1, 0, -1, 0]], [[0, 90, 0], [0, 0, -1, 0, 1, 0, 1, 0, 0]],
    [[0, 0, -450], [0, -1, 0, 1, 0, 0, 0, 0, 1]], [[180, 0, 180], [-1, 0, 0, 0, 1, 0, 0, 0, -1]], [[90, 90, 90], [0, 0, -1, 0, 1, 0, 1, 0, 0]],
  ])('%j degrees about x, y, z is exact', ([x, y, z], axes) => {
    axesOfRotation(x, y, z).forEach((v, k) => expect(v + 0).toBe(axes[k]))
  })

  test('30 degrees about z takes x to cos 30, sin 30', () => {
    const [ux, uy, uz] = axesOfRotation(0, 0, 30)
    expect([ux, uy, uz]).toEqual([expect.closeTo(Math.sqrt(3) / 2, 15), expect.closeTo(0.5, 15), -0])
  })

  test('axes along any direction are square, right-handed and upright', () => {
    const draw = seeded(3)
    for (let i = 0; i < 500; i++) {
      const towards = i < 2 ? [0, 0, i === 0 ? 5 : -5] : direction(draw)
      const [ux, uy, uz, vx, vy, vz, wx, wy, wz] = axesAlong(towards)
      const length = Math.hypot(...towards)
      expect(Math.hypot(ux - towards[0] / length, uy - towards[1] / length, uz - towards[2] / length)).toBeLessThan(1e-15)
      expect(Math.hypot(uy * vz - uz * vy - wx, uz * vx - ux * vz - wy, ux * vy - uy * vx - wz)).toBeLessThan(1e-14)
      if (i >= 2) {
        expect(vz).toBeCloseTo(0, 14)
        expect(wz).toBeGreaterThan(0)
      }
    }
    expect(() => axesAlong([0, 0, 0])).toThrow(/^axesAlong: /)
  })
})

describe('bounds', () => {
  test('a box turned 45 degrees reaches its diagonal', () => {
    const r = Math.SQRT1_2 * 30
    expect(bounds((b) => b.addBox([100, 0, 0], [10, 20, 5], axesOfRotation(0, 0, 45)))).toEqual([100 - r, -r, -5, 100 + r, r, 5].map((x) => expect.closeTo(x, 10)))
  })

  test('an upright cylinder is as wide as its diameter; a slanting one more than its axis', () => {
    expect(bounds((b) => b.addCylinder([1, 2, 3], [0, 0, 1], 55, 400))).toEqual([-54, -53, -397, 56, 57, 403])
    const s = Math.SQRT1_2
    expect(bounds((b) => b.addCylinder([0, 0, 0], [s, 0, s], 10, 100))).toEqual([-110 * s, -10, -110 * s, 110 * s, 10, 110 * s].map((x) => expect.closeTo(x, 10)))
  })

  test('a prism turned and lifted', () => {
    expect(bounds((b) => b.addPrism([0, 0, 100], axesOfRotation(0, 0, 90), -5, 30, [[0, 0, 200, 0, 200, 50]]))).toEqual([-50, 0, 95, 0, 200, 130])
  })

  test('a run with its bends', () => {
    const { centreline } = centrelineThrough([0, 0, 0, 500, 0, 0, 500, 600, 0], [0, 180, 0])
    expect(bounds((b) => b.addTube(centreline, 45))).toEqual([-45, -45, -45, 545, 645, 45])
  })
})

test('rings may be given either way round, closed or with corners repeated', () => {
  const builder = new SolidSetBuilder()
  builder.addPrism([0, 0, 0], UPRIGHT, 0, 10, [[0, 0, 0, 100, 0, 100, 100, 100, 100, 0, 0, 0], [20, 20, 40, 20, 40, 40, 20, 20, 20, 20]])
  const { data } = builder.build()
  const area = (ring: [number, number][]) => ring.reduce((sum, [x, y], i) => sum + x * ring[(i + 1) % ring.length][1] - y * ring[(i + 1) % ring.length][0], 0) / 2
  expect(ringsOf(data, 0).map((ring) => [ring.length, area(ring)])).toEqual([[4, 10_000], [3, -200]])
})

test('thousands of solids of every kind keep their numbers and order', () => {
  const builder = new SolidSetBuilder(), draw = seeded(5)
  const { centreline } = centrelineThrough([0, 0, 0, 500, 0, 0, 500, 600, 0], [0, 180, 0])
  const sizes = Array.from({ length: 4000 }, () => between(draw, 1, 100))
  const indices = sizes.map((size, i) => {
    if (i % 4 === BOX) return builder.addBox([size, 0, 0], [size, size, size], UPRIGHT)
    if (i % 4 === PRISM) return builder.addPrism([size, 0, 0], UPRIGHT, 0, size, [[0, 0, size, 0, size, size]])
    if (i % 4 === CYLINDER) return builder.addCylinder([size, 0, 0], [1, 0, 0], size, size)
    return builder.addTube(centreline, size)
  })
  const set = builder.build()
  expect(indices).toEqual(sizes.map((_, i) => i))
  expect([builder.count, set.count, set.kind.length, set.offset.length, set.bounds.length]).toEqual([4000, 4000, 4000, 4001, 24000])
  sizes.forEach((size, i) => expect([set.kind[i], set.data[set.offset[i]]]).toEqual([i % 4, size]))
  expect(set.offset[4000]).toBe(set.data.length)
  expect(TUBE).toBe(3)
})

test('a set once built does not change when more is added', () => {
  const builder = new SolidSetBuilder()
  builder.addBox([0, 0, 0], [1, 1, 1], UPRIGHT)
  const first = builder.build()
  builder.addBox([9, 9, 9], [1, 1, 1], UPRIGHT)
  expect([first.count, first.data.length, builder.build().count]).toEqual([1, 15, 2])
})
