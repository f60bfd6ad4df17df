import { describe, expect, test } from 'vitest'
import { boxesDepthMm } from '#geometry/apart/boxesDepth.ts'
import { solidsApart } from '#geometry/apart/solidsApart.ts'
import { SolidSetBuilder } from '#geometry/solid/build.ts'
import { axesOfRotation } from '#geometry/solid/rotation.ts'
import { seeded } from '../../oracle/seeded.ts'

type Vec = readonly [number, number, number]
interface Box { readonly centre: Vec, readonly half: Vec, readonly turnDeg: Vec }
const setOf = (...boxes: readonly Box[]) => {
  const builder = new SolidSetBuilder()
  for (const { centre, half, turnDeg } of boxes) builder.addBox(centre, half, axesOfRotation(...turnDeg))
  return builder.build()
}
const depth = (a: Box, b: Box): number => boxesDepthMm(setOf(a, b), 0, setOf(a, b), 1)

/** Corners of a box, by their signs. */
function cornersOf({ centre, half, turnDeg }: Box): Vec[] {
  const axes = axesOfRotation(...turnDeg)
  return Array.from({ length: 8 }, (_, bits) => [0, 1, 2].map((k) => centre[k] + [0, 1, 2].reduce((sum, m) => sum + (bits >> m & 1 ? 1 : -1) * half[m] * axes[3 * m + k], 0)) as unknown as Vec)
}

/** How far b must go along one direction, either way, to leave a, by the shadows of their corners on it. */
function wayOutMm(a: readonly Vec[], b: readonly Vec[], d: Vec): number {
  const shadow = (corners: readonly Vec[]) => corners.map((c) => c[0] * d[0] + c[1] * d[1] + c[2] * d[2])
  const [sa, sb] = [shadow(a), shadow(b)]
  return Math.min(Math.max(...sa) - Math.min(...sb), Math.max(...sb) - Math.min(...sa))
}

describe('how deep two boxes stand in each other', () => {
  const upright = (centre: Vec, half: Vec): Box => ({ centre, half, turnDeg: [0, 0, 0] })

  test('square to each other: the least of the three overlaps', () => {
    expect(depth(upright([0, 0, 0], [100, 50, 20]), upright([140, 30, 25], [50, 40, 10]))).toBeCloseTo(5, 12)
    expect(depth(upright([0, 0, 0], [100, 50, 20]), upright([0, 0, 0], [1, 1, 1]))).toBeCloseTo(21, 12)
  })

  test('a corner turned 45 degrees into a face: how far the corner is in', () => {
    const turned: Box = { centre: [100 + 50 * Math.SQRT2 - 7, 0, 0], half: [50, 50, 20], turnDeg: [0, 0, 45] }
    expect(depth(upright([0, 0, 0], [100, 100, 100]), turned)).toBeCloseTo(7, 10)
  })

  test('two edges crossed: by the gap between the edges, which no face tells', () => {
    // each an edge of a beam turned 45 degrees about its length, one along x with its edge up, one along y with its edge down
    const r = 50 * Math.SQRT2
    const below: Box = { centre: [0, 0, 0], half: [500, 50, 50], turnDeg: [45, 0, 0] }, above: Box = { centre: [0, 0, 2 * r - 4], half: [50, 500, 50], turnDeg: [0, 45, 0] }
    expect(depth(below, above)).toBeCloseTo(4, 10)
  })

  test('apart is below 0, flush is 0', () => {
    expect(depth(upright([0, 0, 0], [10, 10, 10]), upright([25, 0, 0], [10, 10, 10]))).toBeLessThan(0)
    expect(depth(upright([0, 0, 0], [10, 10, 10]), upright([20, 3, 3], [10, 10, 10]))).toBeCloseTo(0, 12)
  })

  test.each([11, 12, 13])('thrown at random: no direction of ten thousand leads out sooner, and one nearly as soon (seed %i)', (seed) => {
    const draw = seeded(seed)
    const thrown = (): Box => ({ centre: [draw() * 60, draw() * 60, draw() * 60], half: [10 + draw() * 60, 10 + draw() * 60, 10 + draw() * 60], turnDeg: [draw() * 360, draw() * 360, draw() * 360] })
    const golden = Math.PI * (3 - Math.sqrt(5))
    let seen = 0
    for (let k = 0; k < 60; k++) {
      const a = thrown(), b = thrown(), deep = depth(a, b)
      if (deep <= 0) continue
      seen++
      const ca = cornersOf(a), cb = cornersOf(b)
      let soonest = Infinity
      for (let i = 0; i < 10_000; i++) {
        const z = 1 - (2 * i + 1) / 10_000, r = Math.sqrt(1 - z * z)
        soonest = Math.min(soonest, wayOutMm(ca, cb, [r * Math.cos(golden * i), r * Math.sin(golden * i), z]))
      }
      expect(soonest).toBeGreaterThan(deep - 1e-9)
      // directions lie within 0.02 rad of each other, and a corner at most some 250 mm from the other body's middle
      expect(soonest).toBeLessThan(deep + 0.02 * 250)
      // and the search for the nearest surfaces, which knows nothing of this, finds them overlapping
      expect(solidsApart(setOf(a, b), 0, setOf(a, b), 1).distanceMm).toBe(-deep)
    }
    expect(seen).toBeGreaterThan(20)
  })
})
