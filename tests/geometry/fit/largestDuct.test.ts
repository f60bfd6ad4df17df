import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { openingFromHalfPlanes, openingFromPolygon } from '#geometry/fit/halfPlanes.ts'
import { crossingFit, largestOblique, largestStraight } from '#geometry/fit/largestDuct.ts'
import type { Opening } from '#geometry/fit/opening.ts'
import { deepestReach, randomOpening, seededNumbers } from '../../oracle/fitSample.ts'

const out = new Float64Array(3), other = new Float64Array(3)
const straight = (vertices: number[]) => { largestStraight(openingFromPolygon(vertices), out); return out[0] }
const at = (opening: Opening, sx: number, sy: number) => { largestOblique(opening, sx, sy, out); return out[0] }
const seed = 20260301
const coordinate = fc.double({ min: -500, max: 500, noNaN: true })
const triangle = fc.array(coordinate, { minLength: 6, maxLength: 6 }).map((v) => {
  const area = (v[2] - v[0]) * (v[5] - v[1]) - (v[3] - v[1]) * (v[4] - v[0])
  return area < 0 ? [v[0], v[1], v[4], v[5], v[2], v[3]] : v
}).filter((v) => {
  const a = Math.hypot(v[2] - v[0], v[3] - v[1]), b = Math.hypot(v[4] - v[2], v[5] - v[3]), c = Math.hypot(v[0] - v[4], v[1] - v[5])
  return (v[2] - v[0]) * (v[5] - v[1]) - (v[3] - v[1]) * (v[4] - v[0]) > 0.01 * Math.max(a, b, c) ** 2
})
const check = { seed, numRuns: 400 }

describe(`the largest duct straight on (seed ${seed})`, () => {
  it('in a triangle its radius is the area over half the perimeter', () => { // Euclid, Elements IV.4
    fc.assert(fc.property(triangle, (v) => {
      const a = Math.hypot(v[2] - v[0], v[3] - v[1]), b = Math.hypot(v[4] - v[2], v[5] - v[3]), c = Math.hypot(v[0] - v[4], v[1] - v[5])
      const area = ((v[2] - v[0]) * (v[5] - v[1]) - (v[3] - v[1]) * (v[4] - v[0])) / 2
      expect(straight(v)).toBeCloseTo(4 * area / (a + b + c), 8)
    }), check)
  })

  it('in a right-angled triangle its diameter is the legs together less the long side', () => {
    for (const [a, b] of [[3, 4], [5, 12], [160, 300], [1, 1000], [0.001, 500]]) {
      expect(straight([0, 0, a, 0, 0, b])).toBeCloseTo(a + b - Math.hypot(a, b), 8)
    }
  })

  it('in a rectangle it is the short side, in the middle of the long one; turned, moved and mirrored alike', () => {
    expect(straight([0, 0, 400, 0, 400, 160, 0, 160])).toBeCloseTo(160, 10)
    expect([out[1], out[2]]).toEqual([expect.closeTo(200, 9), expect.closeTo(80, 9)])
    fc.assert(fc.property(fc.double({ min: 1, max: 900, noNaN: true }), fc.double({ min: 1, max: 900, noNaN: true }),
      fc.double({ min: 0, max: 6.3, noNaN: true }), coordinate, (w, h, turn, x) => {
        const c = Math.cos(turn), s = Math.sin(turn)
        const corners = [0, 0, w, 0, w, h, 0, h].map((_, i, v) => i % 2 === 0 ? x + c * v[i] - s * v[i + 1] : s * v[i - 1] + c * v[i])
        expect(straight(corners)).toBeCloseTo(Math.min(w, h), 8)
        expect(out[1]).toBeCloseTo(x + (c * w - s * h) / 2, 5)
      }), check)
  })

  it('in a regular polygon it is the inscribed circle', () => {
    for (let n = 3; n <= 40; n++) {
      const v = Array.from({ length: 2 * n }, (_, i) => 100 * (i % 2 === 0 ? Math.cos : Math.sin)(2 * Math.PI * (i >> 1) / n + 0.1))
      expect(straight(v)).toBeCloseTo(200 * Math.cos(Math.PI / n), 9)
    }
  })

  // values: Chebyshev centres by linear programming, checked by area over half perimeter where triangles
  it.each<[string, number[], number]>([
    ['3-4-5', [0, 0, 3, 0, 0, 4], 1],
    ['13-14-15', [0, 0, 14, 0, 5, 12], 4],
    ['equilateral of side 2', [0, 0, 2, 0, 1, Math.sqrt(3)], 0.577350269],
    ['base 600 height 160', [0, 0, 600, 0, 300, 160], 75],
    ['base 600 height 210', [0, 0, 600, 0, 300, 210], 94.566669],
    ['trapezoid 700/100 height 160', [0, 0, 700, 0, 400, 160, 300, 160], 80],
    ['trapezoid 200/40 height 160: 100 over the golden ratio', [0, 0, 200, 0, 120, 160, 80, 160], 200 / (1 + Math.sqrt(5))],
    ['(0,0) (6,0) (2,4) (0,4)', [0, 0, 6, 0, 2, 4, 0, 4], 6 - 3 * Math.sqrt(2)],
    ['parallelogram 200 x 160, shear 80', [0, 0, 200, 0, 280, 160, 80, 160], 80],
    ['rectangle 4 x 2', [0, 0, 4, 0, 4, 2, 0, 2], 1],
    ['hexagon of side 1', [1, 0, 0.5, Math.sqrt(0.75), -0.5, Math.sqrt(0.75), -1, 0, -0.5, -Math.sqrt(0.75), 0.5, -Math.sqrt(0.75)], 0.866025404],
  ])('%s', (_name, vertices, radius) => {
    expect(straight(vertices) / 2).toBeCloseTo(radius, 6)
  })

  it('in the middle where a whole line of centres serves', () => {
    expect(straight([0, 0, 700, 0, 400, 160, 300, 160])).toBeCloseTo(160, 9)
    expect(out[1]).toBeCloseTo(350, 9)
  })

  it('never more with one more member, grows as the opening grows, and is measured at the centre given', () => {
    const random = seededNumbers(seed)
    for (let n = 0; n < 3000; n++) {
      const halfPlanes = randomOpening(random, 4 + Math.floor(random() * 9), 80)
      const opening = openingFromHalfPlanes(halfPlanes)
      const sx = random() * 2 - 1, sy = random() - 0.5
      const before = at(opening, sx, sy), [, cx, cy] = out
      if (before > 0) {
        const edge = crossingFit(opening, cx, cy, sx, sy, other)
        expect(2 * other[0]).toBeCloseTo(before, 9)
        expect(edge).toBeGreaterThanOrEqual(0)
      }
      const t = random() * 7
      const more = openingFromHalfPlanes([...halfPlanes, Math.cos(t), Math.sin(t), random() * 100, -10, 10])
      expect(at(more, sx, sy)).toBeLessThanOrEqual(before + 1e-9)
      const grown = openingFromHalfPlanes(halfPlanes.map((v, i) => i % 5 === 2 ? v + 3 : v))
      const after = at(grown, sx, sy)
      if (before > 0) expect(after).toBeGreaterThan(before)
      // every member 3 mm back: straight on it is exactly 6 mm more
      if (before > 0) { largestStraight(opening, out); largestStraight(grown, other); expect(other[0] - out[0]).toBeCloseTo(6, 9) }
      const scaled = openingFromHalfPlanes(halfPlanes.map((v, i) => i % 5 > 1 ? 7 * v : v))
      expect(at(scaled, sx, sy)).toBeCloseTo(7 * before, 7)
      const mirrored = openingFromHalfPlanes(halfPlanes.map((v, i) => i % 5 === 0 ? -v : v))
      expect(at(mirrored, -sx, sy)).toBeCloseTo(before, 8)
    }
  })

  it('a needle, a sliver and far-off coordinates give a number that is really there', () => {
    for (const v of [[0, 0, 1000, 0, 500, 1e-6], [0, 0, 1e5, 0, 1e5, 1e-3], [1e6, 1e6, 1e6 + 3, 1e6, 1e6, 1e6 + 4]]) {
      const opening = openingFromPolygon(v)
      largestStraight(opening, out)
      expect(Number.isFinite(out[0] + out[1] + out[2])).toBe(true)
      crossingFit(opening, out[1], out[2], 0, 0, other)
      expect(2 * other[0]).toBeGreaterThanOrEqual(out[0] - 1e-9)
    }
    expect(out[0]).toBeCloseTo(2, 6)
  })
})

describe('the largest duct at a slant', () => {
  it('at 45 degrees in plan through a thin square plate hole it is the side over root 2', () => {
    // the slanting section is an ellipse of half-axes r*sqrt(2) and r
    const hole = openingFromHalfPlanes([1, 0, 50, 0, 0, -1, 0, 50, 0, 0, 0, 1, 50, 0, 0, 0, -1, 50, 0, 0])
    expect(at(hole, 1, 0)).toBeCloseTo(100 / Math.SQRT2, 10)
    expect(at(hole, 0, 1)).toBeCloseTo(100 / Math.SQRT2, 10)
    // thick posts 20 across: the ends of the crossing drift by 20 in all: 2 r sqrt 2 = 100 - 20
    const posts = openingFromHalfPlanes([1, 0, 50, -10, 10, -1, 0, 50, -10, 10, 0, 1, 50, -36, 36, 0, -1, 50, -36, 36])
    expect(at(posts, 1, 0)).toBeCloseTo(80 / Math.SQRT2, 10)
    // and up through the chords, 72 across: 2 r sqrt 2 = 100 - 72
    expect(at(posts, 0, 1)).toBeCloseTo(28 / Math.SQRT2, 10)
  })

  it('between posts that stand at different depths it can be larger than straight on', () => {
    const staggered = openingFromHalfPlanes([1, 0, 50, 30, 32, -1, 0, 50, -32, -30, 0, 1, 500, -36, 36, 0, -1, 500, -36, 36])
    expect(at(staggered, 0, 0)).toBeCloseTo(100, 9)
    expect(at(staggered, -0.3, 0)).toBeGreaterThan(100)
  })

  it('touches and does not pass: the surface of the 3D cylinder, sampled, reaches the members and no further', () => {
    const random = seededNumbers(seed + 1)
    for (let n = 0; n < 120; n++) {
      const opening = openingFromHalfPlanes(randomOpening(random, 4 + Math.floor(random() * 6), 90))
      const sx = 2 * random() - 1, sy = 2 * random() - 1
      const diameter = at(opening, sx, sy), [, cx, cy] = out
      if (diameter === 0) continue
      const reach = deepestReach(opening, cx, cy, sx, sy, diameter / 2, 1440, 4)
      expect(reach).toBeLessThan(1e-9)
      expect(reach).toBeGreaterThan(-diameter * 1e-5)
      // no better centre within reach: every small move makes it worse
      for (let k = 0; k < 12; k++) {
        const t = 2 * Math.PI * k / 12
        crossingFit(opening, cx + 0.5 * Math.cos(t), cy + 0.5 * Math.sin(t), sx, sy, other)
        expect(2 * other[0]).toBeLessThanOrEqual(diameter + 1e-9)
      }
    }
  })
})

describe('the largest duct on a given axis', () => {
  const triangle345 = openingFromPolygon([0, 0, 300, 0, 0, 400], -5, 5)
  it('gives its radius, and the member it touches first', () => {
    const edge = crossingFit(triangle345, 100, 30, 0, 0, out)
    expect(out[0]).toBe(30)
    expect(triangle345.members[edge]).toBe(0)
  })

  it('an axis inside a member has a negative radius: how far it is in', () => {
    crossingFit(triangle345, 100, -7, 0, 0, out)
    expect(out[0]).toBe(-7)
  })

  it('what is not finite, or no opening, touches nothing and is no size', () => {
    expect(crossingFit(triangle345, NaN, 0, 0, 0, out)).toBe(-1)
    expect(out[0]).toBe(0)
    expect(crossingFit(openingFromHalfPlanes([]), 0, 0, 0, 0, out)).toBe(-1)
    expect(at(triangle345, NaN, 0)).toBe(0)
    expect(at(triangle345, Infinity, 0)).toBe(0)
  })
})
