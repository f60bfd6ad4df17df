import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { straightRun } from '#geometry/curve/build.ts'
import type { Centreline } from '#geometry/curve/centreline.ts'
import { directionAt, moved, pointAt, reversed } from '#geometry/curve/measure.ts'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import { largestInRound } from '#geometry/envelope/largestInRound.ts'
import { spareInRound } from '#geometry/envelope/spareInRound.ts'
import { stretchInRound } from '#geometry/envelope/stretchInRound.ts'
import { seeded } from './zoneGrid.ts'

const ORIGIN = [0, 0, 0], UP_Z = [0, 0, 1]

/** Largest radius by trying points all round the cylinder, in the sections at n0, n1 and between: never below the true one. */
function sampledLargest(R: number, n0: number, n1: number, cx: number, cy: number, sx: number, sy: number): number {
  const long = Math.hypot(sx, sy, 1), steep = Math.hypot(sx, sy)
  const [ux, uy] = steep > 0 ? [sx / steep, sy / steep] : [1, 0]
  let least = Infinity
  for (const n of [n0, (n0 + n1) / 2, n1]) {
    const px = cx + n * sx, py = cy + n * sy
    for (let i = 0; i < 20_000; i++) {
      const t = i * Math.PI / 10_000, a = Math.cos(t) * long, b = Math.sin(t)
      // the cylinder's surface r = 1 where this section cuts it; |p + r w| = R gives r
      const wx = a * ux - b * uy, wy = a * uy + b * ux
      const ww = wx * wx + wy * wy, pw = px * wx + py * wy, rest = R * R - px * px - py * py
      least = Math.min(least, (-pw + Math.sqrt(pw * pw + ww * rest)) / ww)
    }
  }
  return least
}

describe('the largest straight duct through a round hole', () => {
  it('square through the hole it is the radius less the offset', () => {
    expect(largestInRound(60, -20, 20, 3, 4, 0, 0)).toBe(55)
    expect(largestInRound(60, -20, 20, 30, -80, 0, 0)).toBeCloseTo(-25.44, 2)
  })

  it('through a hole in a thin plate, at a slant of 45 degrees through the middle, it is R cos 45', () => {
    // the section of a cylinder by a plane: half axes r and r / cos (slant)
    expect(largestInRound(60, 0, 0, 0, 0, 1, 0)).toBeCloseTo(60 * Math.SQRT1_2, 5)
  })

  it('a slant and an offset in one line add up: R = n s + r sqrt(1 + s^2)', () => {
    // farthest along the slant, as long as the ellipse's end is the point that touches
    expect(largestInRound(60, -20, 20, 0, 0, 0.1, 0)).toBeCloseTo((60 - 2) / Math.sqrt(1.01), 5)
  })

  const seed = 4_711
  it(`is the radius found by trying points all round it (seed ${seed})`, () => {
    const random = seeded(seed), between = (a: number, b: number) => a + (b - a) * random()
    for (let k = 0; k < 150; k++) {
      const R = between(20, 120), half = between(0, 60), steep = between(0, 0.6), turn = between(0, 7)
      const c = between(0, R / 4), off = between(0, 7)
      const args = [R, -half, between(-half, half), c * Math.cos(off), c * Math.sin(off), steep * Math.cos(turn), steep * Math.sin(turn)] as const
      if (args[0] <= Math.hypot(args[3], args[4]) + half * steep) continue
      const found = largestInRound(...args), sampled = sampledLargest(...args)
      expect(found).toBeLessThanOrEqual(sampled + 1e-9)
      // 20,000 points: off by at most curvature * (3e-4)^2 / 8
      expect(sampled - found).toBeLessThan(5e-6)
    }
  })

  it('refuses a hole without radius', () => {
    expect(() => largestInRound(0, 0, 1, 0, 0, 0, 0)).toThrow('largestInRound')
  })
})

/** A run near the hole: straight, or with a bend in or near it. */
function randomRun(random: () => number): Centreline {
  const between = (a: number, b: number) => a + (b - a) * random()
  const corner = [between(-15, 15), between(-15, 15), between(-120, 120)]
  const before = [between(-60, 60), between(-60, 60), -400], after = [between(-150, 150), between(-150, 150), between(300, 400)]
  return centrelineThrough([...before, ...corner, ...after], [0, random() < 0.2 ? 0 : between(90, 900), 0]).centreline
}

const radialOf = (p: ArrayLike<number>) => Math.hypot(p[0], p[1])

describe('where a run lies in a round hole', () => {
  it('a slanting run enters at the face and leaves through the wall where Pythagoras says', () => {
    // 3-4-5: along (0.6, 0, 0.8) from (0, 0, -100); hole half length 50, radius 60
    const run = straightRun([0, 0, -100], [300, 0, 300])
    const [stretch, ...rest] = stretchInRound(run, ORIGIN, UP_Z, 50, 60)
    expect(rest).toEqual([])
    expect(stretch.fromMm).toBeCloseTo(62.5, 9)
    expect(stretch.toMm).toBeCloseTo(100, 9)
  })

  it('a run that goes by the hole has no stretch in it', () => {
    expect(stretchInRound(straightRun([100, 0, -100], [100, 0, 100]), ORIGIN, UP_Z, 50, 60)).toEqual([])
    expect(spareInRound(straightRun([0, 0, 60], [0, 0, 100]), ORIGIN, UP_Z, 50, 60, 0, 40)).toBe(Infinity)
  })

  const seed = 90_210
  it(`holds at stations tried all along it, and its ends are on a face, on the wall or the run's own (seed ${seed})`, () => {
    const random = seeded(seed), p = [0, 0, 0]
    for (let n = 0; n < 200; n++) {
      const run = randomRun(random), half = 10 + 90 * random(), radius = 25 + 60 * random()
      const stretches = stretchInRound(run, ORIGIN, UP_Z, half, radius)
      for (let s = 0; s < run.lengthMm; s += 3.7) {
        pointAt(run, s, p)
        const isIn = Math.abs(p[2]) <= half && radialOf(p) <= radius
        expect(stretches.some(({ fromMm, toMm }) => s >= fromMm && s <= toMm), `run ${n} at ${s}`).toBe(isIn)
      }
      for (const s of stretches.flatMap(({ fromMm, toMm }) => [fromMm, toMm])) {
        pointAt(run, s, p)
        const off = Math.min(Math.abs(Math.abs(p[2]) - half), Math.abs(radialOf(p) - radius), s, run.lengthMm - s)
        expect(off, `run ${n} at ${s}`).toBeLessThan(1e-9)
      }
    }
  })
})

describe('how thick a duct may be where it passes a round hole', () => {
  const spareOf = (run: Centreline, half: number, radius: number, where?: number[]) => {
    const [stretch] = stretchInRound(run, ORIGIN, UP_Z, half, radius)
    return stretch ? spareInRound(run, ORIGIN, UP_Z, half, radius, stretch.fromMm, stretch.toMm, where) : Infinity
  }

  it('square through, it is the radius less the offset', () => {
    expect(spareOf(straightRun([3, 4, -300], [3, 4, 300]), 40, 60)).toBeCloseTo(55, 12)
  })

  it('a bend lying along the hole touches at the faces and not in the middle', () => {
    // centre (200, 0, 0), radius 200, through the middle of the hole; at the face 200 - sqrt(200^2 - 40^2) = 4.0408 off; the rim is the far side
    const run = centrelineThrough([200, 0, -200, 0, 0, -200, 0, 0, 200, 200, 0, 200], [0, 200, 200, 0]).centreline
    const offset = 200 - Math.sqrt(200 * 200 - 40 * 40)
    // rim at (60, 0, 40): distance to the arc is 200 less its distance from the centre
    expect(spareOf(run, 40, 60)).toBeCloseTo(Math.min(60 - offset, 200 - Math.hypot(200 - 60, 40)), 9)
  })

  const seed = 31_337
  it(`a straight duct gets what the cylinder through the hole gets (seed ${seed})`, () => {
    const random = seeded(seed), between = (a: number, b: number) => a + (b - a) * random()
    for (let n = 0; n < 200; n++) {
      const half = between(0.5, 80), radius = between(25, 80), sx = between(-0.4, 0.4), sy = between(-0.4, 0.4)
      const cx = between(-8, 8), cy = between(-8, 8)
      const run = straightRun([cx - 400 * sx, cy - 400 * sy, -400], [cx + 400 * sx, cy + 400 * sy, 400])
      const cylinder = largestInRound(radius, -half, half, cx, cy, sx, sy)
      if (cylinder <= 0) continue
      expect(Math.abs(spareOf(run, half, radius) - cylinder), `run ${n}`).toBeLessThan(2e-6)
    }
  })

  it(`a duct of that size stays in the hole and one 0.2 mm thicker does not, bends and all (seed ${seed + 1})`, () => {
    const random = seeded(seed + 1), p = [0, 0, 0], d = [0, 0, 0]
    let bent = 0
    for (let n = 0; n < 30; n++) {
      const run = randomRun(random), half = 10 + 60 * random(), radius = 40 + 40 * random()
      const stretches = stretchInRound(run, ORIGIN, UP_Z, half, radius)
      const where = [0, 0, 0, 0], spare = spareOf(run, half, radius, where)
      // only clean passages, and no thicker than the bend allows
      if (stretches.length !== 1 || spare < 5 || spare > 60) continue
      if (run.count > 1) bent++
      pointAt(run, where[0], p)
      expect(p).toEqual(where.slice(1))
      let widest = 0, widestThicker = 0
      for (let s = stretches[0].fromMm - 1.5 * radius; s < stretches[0].toMm + 1.5 * radius; s += 0.4) {
        if (s < 0 || s > run.lengthMm) continue
        pointAt(run, s, p)
        directionAt(run, s, d)
        const a = Math.hypot(d[2], d[0]), e = [d[2] / a, 0, -d[0] / a]
        const f = [d[1] * e[2] - d[2] * e[1], d[2] * e[0] - d[0] * e[2], d[0] * e[1] - d[1] * e[0]]
        for (let t = 0; t < 2 * Math.PI; t += Math.PI / 90) {
          const c = Math.cos(t), q = Math.sin(t)
          const wx = c * e[0] + q * f[0], wy = c * e[1] + q * f[1], wz = c * e[2] + q * f[2]
          if (Math.abs(p[2] + spare * wz) <= half) widest = Math.max(widest, Math.hypot(p[0] + spare * wx, p[1] + spare * wy))
          const r = spare + 0.2
          if (Math.abs(p[2] + r * wz) <= half) widestThicker = Math.max(widestThicker, Math.hypot(p[0] + r * wx, p[1] + r * wy))
        }
      }
      expect(widest, `run ${n}`).toBeLessThanOrEqual(radius + 1e-9)
      expect(widestThicker, `run ${n}`).toBeGreaterThan(radius)
    }
    expect(bent).toBeGreaterThan(8)
  })

  it(`finds the tightest of stations tried every 0.1 mm, in the hole and at its rims (seed ${seed + 2})`, () => {
    const random = seeded(seed + 2), p = [0, 0, 0]
    for (let n = 0; n < 200; n++) {
      const run = randomRun(random), half = 10 + 60 * random(), radius = 40 + 40 * random()
      const [stretch] = stretchInRound(run, ORIGIN, UP_Z, half, radius)
      if (!stretch) continue
      let tightest = Infinity
      for (let s = Math.max(stretch.fromMm - 2 * radius, 0); s < Math.min(stretch.toMm + 2 * radius, run.lengthMm); s += 0.1) {
        pointAt(run, s, p)
        const past = Math.abs(p[2]) - half
        if (past > 0) tightest = Math.min(tightest, Math.hypot(radius - radialOf(p), past))
        else if (s >= stretch.fromMm && s <= stretch.toMm) tightest = Math.min(tightest, radius - radialOf(p))
      }
      const spare = spareInRound(run, ORIGIN, UP_Z, half, radius, stretch.fromMm, stretch.toMm)
      expect(spare, `run ${n}`).toBeLessThanOrEqual(tightest + 1e-9)
      expect(tightest - spare, `run ${n}`).toBeLessThan(0.06)
    }
  })

  it('does not change when run and hole are moved together, or the run is walked from its other end', () => {
    const angle = fc.double({ min: -3, max: 3, noNaN: true }), shift = fc.double({ min: -10_000, max: 10_000, noNaN: true })
    fc.assert(fc.property(fc.integer({ min: 1, max: 1e6 }), angle, angle, shift, shift, (seed, a, b, x, y) => {
      const run = randomRun(seeded(seed)), half = 40, radius = 70
      const [ca, sa, cb, sb] = [Math.cos(a), Math.sin(a), Math.cos(b), Math.sin(b)]
      // turned about z, then about x
      const axes = [ca, sa * cb, sa * sb, -sa, ca * cb, ca * sb, 0, -sb, cb]
      const there = moved(run, [...axes, x, y, 2400]), axis = axes.slice(6)
      const [stretch] = stretchInRound(there, [x, y, 2400], axis, half, radius)
      if (!stretch) return
      const here = spareOf(run, half, radius)
      expect(spareInRound(there, [x, y, 2400], axis, half, radius, stretch.fromMm, stretch.toMm)).toBeCloseTo(here, 6)
      const back = reversed(run)
      if (stretchInRound(run, ORIGIN, UP_Z, half, radius).length === 1) expect(spareOf(back, half, radius)).toBeCloseTo(here, 6)
    }), { seed: 8, numRuns: 200 })
  })
})
