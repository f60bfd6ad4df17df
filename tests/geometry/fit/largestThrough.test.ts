import { describe, expect, it } from 'vitest'
import { bestStraightThrough } from '#geometry/fit/bestStraightThrough.ts'
import { openingFromHalfPlanes, openingFromPolygon } from '#geometry/fit/halfPlanes.ts'
import { crossingFit, largestStraight } from '#geometry/fit/largestDuct.ts'
import { ceilingThrough, largestThrough, largestThroughAt, largestThroughSquare, lastCeiling } from '#geometry/fit/largestThrough.ts'
import { openingsBetween, type Band, type Opening } from '#geometry/fit/opening.ts'
import { mostByCorners } from '../../oracle/fitLinearProgramme.ts'
import { deepestReach, randomOpening, seededNumbers } from '../../oracle/fitSample.ts'

const seed = 20260303
const out = new Float64Array(5), other = new Float64Array(5)
const rectangle = (x: number, y: number, w: number, h: number, n0 = 0, n1 = 0) => openingFromPolygon([x, y, x + w, y, x + w, y + h, x, y + h], n0, n1)

/** A series of openings about an axis of its own. */
function series(random: () => number, count: number, edges: number, depth: number): { openings: Opening[], offsets: number[] } {
  const lean = [random() - 0.5, 0.4 * (random() - 0.5)], offsets = Array.from({ length: count }, (_, i) => 400 * i + 50 * random())
  const openings = offsets.map((z) => {
    const halfPlanes = randomOpening(random, edges, depth)
    for (let e = 0; e < halfPlanes.length; e += 5) halfPlanes[e + 2] += z * (lean[0] * halfPlanes[e] + lean[1] * halfPlanes[e + 1])
    return openingFromHalfPlanes(halfPlanes)
  })
  return { openings, offsets }
}

/** Rows over (cx, cy, r) at a slope, from the clearance rule in its plainest form. */
const rowsAt = (openings: Opening[], offsets: number[], sx: number, sy: number) => openings.flatMap(({ edges, edgeCount }, i) => (
  Array.from({ length: edgeCount }, (_, e) => {
    const [ax, ay, b, n0, n1] = edges.subarray(5 * e, 5 * e + 5)
    const t = ax * sx + ay * sy
    return [ax, ay, Math.hypot(1, t), b - Math.max((offsets[i] + n0) * t, (offsets[i] + n1) * t)]
  })))

describe(`the largest straight duct through a series of joists (seed ${seed})`, () => {
  it('square to the joists, through openings set sideways and up, is what all of them leave', () => {
    const openings = [rectangle(0, 0, 300, 160), rectangle(100, 20, 300, 160), rectangle(180, -10, 300, 160)]
    largestThroughSquare(openings, out)
    expect(out[0]).toBeCloseTo(120, 9)
    expect(out[2]).toBeCloseTo(85, 9)
    largestThroughSquare([openings[0]], out)
    largestStraight(openings[0], other)
    expect([...out.subarray(0, 3)]).toEqual([...other.subarray(0, 3)])
  })

  it('square to the joists it is the answer of a linear programme solved corner by corner', () => {
    const random = seededNumbers(seed)
    for (let n = 0; n < 60; n++) {
      const openings = Array.from({ length: 2 + n % 4 }, () => openingFromHalfPlanes(randomOpening(random, 4 + n % 2, 0)))
      const plain = mostByCorners(rowsAt(openings, openings.map(() => 0), 0, 0), [0, 0, 1])
      largestThroughSquare(openings, out)
      expect(out[0]).toBeCloseTo(Math.max(0, 2 * plain!.value), 7)
    }
  })

  it('at a given slope likewise', () => {
    const random = seededNumbers(seed + 1)
    for (let n = 0; n < 40; n++) {
      const { openings, offsets } = series(random, 2 + n % 3, 4, 70)
      const sx = random() - 0.5, sy = random() - 0.5
      const plain = mostByCorners(rowsAt(openings, offsets, sx, sy), [0, 0, 1])
      largestThroughAt(openings, offsets, sx, sy, out)
      expect(out[0]).toBeCloseTo(Math.max(0, 2 * plain!.value), 7)
    }
  })

  it('the quick ceiling is its linear programme solved corner by corner', () => {
    const random = seededNumbers(seed + 2)
    for (let n = 0; n < 12; n++) {
      const { openings, offsets } = series(random, 2, 4, 0)
      const rows = openings.flatMap(({ edges, edgeCount }, i) => Array.from({ length: edgeCount }, (_, e) => {
        const [ax, ay, b, n0] = edges.subarray(5 * e, 5 * e + 4)
        return [ax, ay, (offsets[i] + n0) * ax, (offsets[i] + n0) * ay, 1, b]
      }))
      const steep = [1, -1].flatMap((sign) => [[0, 0, sign, 0, 0, 1], [0, 0, 0, sign, 0, 1]])
      expect(ceilingThrough(openings, offsets)).toBeCloseTo(Math.max(0, 2 * mostByCorners([...rows, ...steep], [0, 0, 0, 0, 1])!.value), 6)
    }
  })

  it('tilted: two thin plates with the hole of one higher give a slope and a closed form', () => {
    // slots of height h, the second up by u at distance z: at slope u/z each slot passes h / sqrt(1 + (u/z)^2)
    const openings = [rectangle(-500, 0, 1000, 100), rectangle(-500, 90, 1000, 100)]
    largestThrough(openings, [0, 300], out)
    // the best slope trades the drift off against the foreshortening: maximise (h - |u - z m|) / sqrt(1 + m^2) over m
    let best = 0
    for (let m = 0; m <= 0.3; m += 1e-6) best = Math.max(best, (100 - Math.abs(90 - 300 * m)) / Math.hypot(1, m))
    expect(out[0]).toBeCloseTo(best, 6)
    expect(out[4]).toBeCloseTo(0.3, 5)
    largestThroughSquare(openings, other)
    expect(other[0]).toBeCloseTo(10, 9)
  })

  it('tilted it is what a search over all slopes finds, the best centre at each solved corner by corner', () => {
    const random = seededNumbers(seed + 3)
    for (let n = 0; n < 5; n++) {
      const { openings, offsets } = series(random, 2 + n % 2, 4, 80)
      largestThrough(openings, offsets, out)
      expect(lastCeiling() - out[0]).toBeLessThan(1.1e-6)
      let found = -Infinity, midX = 0, midY = 0
      // no lesser hills (see the proof at the function), so zooming in on the best of a grid is a search
      for (let width = 1; width > 1e-7; width *= 0.5) {
        let nextX = midX, nextY = midY
        for (let i = -3; i <= 3; i++) for (let j = -3; j <= 3; j++) {
          const sx = midX + width * i / 3, sy = midY + width * j / 3
          if (Math.abs(sx) > 1 || Math.abs(sy) > 1) continue
          const value = 2 * mostByCorners(rowsAt(openings, offsets, sx, sy), [0, 0, 1])!.value
          if (value > found) { found = value; nextX = sx; nextY = sy }
        }
        midX = nextX
        midY = nextY
      }
      expect(out[0]).toBeGreaterThan(found - 1.1e-6)
      expect(out[0]).toBeLessThan(found + 1e-3)
    }
  })

  it('is really there: every crossing takes it, and the sampled surface of the cylinder keeps out of every member', () => {
    const random = seededNumbers(seed + 4)
    for (let n = 0; n < 60; n++) {
      const { openings, offsets } = series(random, 2 + n % 9, 4 + n % 3, 80)
      largestThrough(openings, offsets, out)
      largestThroughSquare(openings, other)
      expect(out[0]).toBeGreaterThan(other[0] - 1e-9)
      expect(out[0]).toBeGreaterThan(0)
      const [diameter, x, y, sx, sy] = out
      let least = Infinity
      openings.forEach((opening, i) => {
        crossingFit(opening, x + offsets[i] * sx, y + offsets[i] * sy, sx, sy, other)
        least = Math.min(least, 2 * other[0])
        if (n < 6) expect(deepestReach(opening, x + offsets[i] * sx, y + offsets[i] * sy, sx, sy, diameter / 2, 360, 2)).toBeLessThan(1e-8)
      })
      expect(least).toBeCloseTo(diameter, 7)
      expect(lastCeiling()).toBeLessThan(diameter + 1.1e-6)
      // leaving out a joist never makes it smaller
      largestThrough(openings.slice(1), offsets.slice(1), other)
      expect(other[0]).toBeGreaterThan(diameter - 1.1e-6)
    }
  })

  it('openings of every shape, needles and doubled members among them, always give a finite, proved answer', () => {
    const random = seededNumbers(seed + 6)
    const odd = (size: number): Opening => {
      const halfPlanes = randomOpening(random, 3 + Math.floor(random() * 6), 90)
      for (let e = 0; e < halfPlanes.length; e += 5) {
        const kind = random()
        if (kind < 0.2) halfPlanes[e + 2] = random() * 1e-6
        else if (kind < 0.4) halfPlanes.push(...halfPlanes.slice(e, e + 2), halfPlanes[e + 2] + (random() < 0.5 ? 0 : 1e-10), -50, 50)
        else if (kind < 0.5) { halfPlanes[e] = Math.round(halfPlanes[e]); halfPlanes[e + 1] = halfPlanes[e] === 0 ? 1 : 0 }
        if (halfPlanes.length > 60) break
      }
      return openingFromHalfPlanes(halfPlanes.map((v, i) => i % 5 > 1 ? size * v : v))
    }
    for (let n = 0; n < 1500; n++) {
      const size = [1e-3, 1, 1, 30][n % 4]
      const openings = Array.from({ length: 1 + n % 4 }, () => odd(size)), offsets = openings.map((_, i) => i * 400 * random())
      largestThrough(openings, offsets, out)
      largestThroughSquare(openings, other)
      expect(Number.isFinite(out[0] + out[1] + out[2] + out[3] + out[4])).toBe(true)
      expect(out[0]).toBeGreaterThanOrEqual(other[0] - 1e-9 * size)
      expect(lastCeiling() - out[0]).toBeLessThan(1.1e-6)
      openings.forEach((opening, i) => {
        if (out[0] === 0) return
        crossingFit(opening, out[1] + offsets[i] * out[3], out[2] + offsets[i] * out[4], out[3], out[4], other)
        expect(2 * other[0]).toBeGreaterThan(out[0] - 1e-8 * Math.max(1, size))
      })
    }
  })

  it('where no straight line passes, or there is no opening, nothing does', () => {
    largestThrough([rectangle(0, 0, 100, 100), rectangle(900, 0, 100, 100), rectangle(0, 0, 100, 100)], [0, 400, 800], out)
    expect([...out]).toEqual([0, 0, 0, 0, 0])
    expect(lastCeiling()).toBe(0)
    largestThrough([], [], out)
    expect(out[0]).toBe(0)
    largestThrough([rectangle(0, 0, 100, 100), openingFromHalfPlanes([])], [0, 400], out)
    expect(out[0]).toBe(0)
    largestThrough([rectangle(0, 0, 100, 100)], [NaN], out)
    expect(out[0]).toBe(0)
    largestThroughSquare([], out)
    expect(out[0]).toBe(0)
  })
})

describe('which openings a straight duct takes', () => {
  const joist = (shift: number, length: number): Opening[] => {
    const bands: Band[] = []
    for (let i = 0, x = shift - 600; x < length + 300; x += 300, i++) for (const n of [36, -38]) {
      bands.push({ x0: x, y0: i % 2 === 0 ? 47 : 207, x1: x + 300, y1: i % 2 === 0 ? 207 : 47, widthMm: 40, n0: n, n1: n + 2 })
    }
    return openingsBetween({ x0: 0, x1: length, y0: 47, y1: 207, n0: -36, n1: 36 }, bands)
  }

  it('is the best of every combination tried in turn', () => {
    const random = seededNumbers(seed + 5)
    for (let n = 0; n < 5; n++) {
      const joists = Array.from({ length: 3 }, () => joist(600 * random(), 1500))
      const offsets = [0, 400, 800]
      const found = bestStraightThrough(joists, offsets)
      let best = 0
      for (const a of joists[0]) for (const b of joists[1]) for (const c of joists[2]) {
        largestThrough([a, b, c], offsets, out)
        best = Math.max(best, out[0])
      }
      expect(found.proved).toBe(true)
      expect(found.diameterMm).toBeGreaterThan(best - 2.1e-6)
      expect(found.diameterMm).toBeLessThan(best + 2.1e-6)
      // and it passes where it says
      const [x, y, sx, sy] = found.axis
      found.chosen.forEach((pick, i) => {
        crossingFit(joists[i][pick], x + offsets[i] * sx, y + offsets[i] * sy, sx, sy, other)
        expect(2 * other[0]).toBeGreaterThan(found.diameterMm - 1e-7)
      })
    }
  })

  it('aligned joists: straight on through the widest, square however many joists', () => {
    const joists = Array.from({ length: 10 }, () => joist(150, 3000))
    const { diameterMm, chosen, proved } = bestStraightThrough(joists, joists.map((_, i) => 400 * i))
    expect(proved).toBe(true)
    expect(new Set(chosen).size).toBe(1)
    largestStraight(joists[0][chosen[0]], out)
    expect(diameterMm).toBeCloseTo(out[0], 5)
  })

  it('kept square when no slope is allowed; order of the joists is no matter', () => {
    const joists = [joist(0, 1800), joist(90, 1800), joist(40, 1800)]
    const square = bestStraightThrough(joists, [0, 400, 800], { steepest: 0 })
    expect(Math.abs(square.axis[2]) + Math.abs(square.axis[3])).toBe(0)
    largestThroughSquare(square.chosen.map((pick, i) => joists[i][pick]), out)
    expect(square.diameterMm).toBeCloseTo(out[0], 6)
    const free = bestStraightThrough(joists, [0, 400, 800])
    expect(free.diameterMm).toBeGreaterThanOrEqual(square.diameterMm - 2.1e-6)
    const turned = bestStraightThrough([joists[2], joists[0], joists[1]], [800, 0, 400])
    expect(turned.diameterMm).toBeCloseTo(free.diameterMm, 5)
  })

  it('says so when it stops early, and passes nothing where a joist has no opening', () => {
    const joists = Array.from({ length: 6 }, (_, i) => joist(97 * i, 3000))
    expect(bestStraightThrough(joists, [0, 400, 800, 1200, 1600, 2000], { mostChoices: 20 }).proved).toBe(false)
    expect(bestStraightThrough([joists[0], []], [0, 400])).toEqual({ diameterMm: 0, chosen: [], axis: [0, 0, 0, 0], proved: true })
    expect(bestStraightThrough([], []).diameterMm).toBe(0)
  })
})
