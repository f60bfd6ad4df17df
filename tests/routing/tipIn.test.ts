/** The longest piece that can be tipped in: against published closed forms, against every tilt looked at, and against a search of all places and tilts. */
import { describe, expect, it } from 'vitest'
import { longestTipped, type TipJoist, type TipSpace } from '#routing/tipIn.ts'
import { goesIn, halfStepMm, overlaps, type Rect } from '../oracle/tipSearch.ts'
import { seeded } from '../oracle/seeded.ts'

const SEED = 2_718

const joist = (from: number, { width = 101, depth = 304, chord = 47, open = true } = {}): TipJoist => ({
  from, to: from + width, undersideMm: 0, topMm: depth, open: open ? [chord, depth - chord] : null,
})
/** Joists at 400 mm with 299 mm between them; the nearer one is drawn out backwards, so that nothing comes up behind it. */
const FLOOR: TipSpace = { near: joist(-5000, { width: 5000 }), beyond: [joist(299), joist(699), joist(1099)], deckMm: 304 }
/** A passage straight up, `up` wide, that turns into a level one, `level` high: no upper chord, no edge to go under. */
const corner = (up: number, level: number): TipSpace => ({
  near: { from: -10, to: 0, undersideMm: -50_000, topMm: 50_000, open: null },
  beyond: [{ from: up, to: up + 50_000, undersideMm: -50_000, topMm: level, open: [0, level] }], deckMm: level,
})

const rectsOf = ({ near, beyond, deckMm }: TipSpace): Rect[] => [
  ...[near, ...beyond].flatMap(({ from, to, undersideMm, topMm, open }): Rect[] => open === null ? [[from, to, undersideMm, topMm]] : [[from, to, undersideMm, open[0]], [from, to, open[1], topMm]]),
  [-2e4, 2e4, deckMm, deckMm + 2e4],
]

describe('the longest piece that can be tipped in', () => {
  it('is the ladder round a corner: (a^2/3 + b^2/3)^3/2 for one without thickness', () => {
    // a textbook problem of calculus; for passages of 27 and 64 it is 125
    expect(longestTipped(corner(27, 64), 1e-6)).toBeCloseTo(125, 4)
    expect(longestTipped(corner(1000, 1000), 1e-6)).toBeCloseTo(1000 * 2 ** 1.5, 3)
  })

  it('is 2 (a sqrt 2 - d) for one of thickness d round a corner between passages of equal width a', () => {
    // least of a / cos t + a / sin t - 2 d / sin 2t, which lies at 45 degrees
    for (const d of [50, 200, 500]) expect(longestTipped(corner(600, 600), d)).toBeCloseTo(2 * (600 * Math.SQRT2 - d), 4)
  })

  it('is the least over all tilts of a / cos t + b / sin t - 2 d / sin 2t for passages of any width', () => {
    const [a, b, d] = [500, 350, 120]
    let least = Infinity
    for (let k = 1; k < 200_000; k++) {
      const t = Math.PI / 2 * k / 200_000
      least = Math.min(least, a / Math.cos(t) + b / Math.sin(t) - 2 * d / Math.sin(2 * t))
    }
    expect(longestTipped(corner(a, b), d)).toBeCloseTo(least, 4)
  })

  it('under an open edge it need only tilt until it goes under that, and may be longer for it', () => {
    // the nearer joist reaches 40 mm below the level of the corner: the strip of 80 goes clear under it at asin(80 / hypot(400, 40)) + atan(40 / 400)
    const d = 80, gap = 400, level = 400, height = 40, under = Math.asin(d / Math.hypot(gap, height)) + Math.atan(height / gap)
    const space: TipSpace = { near: { from: -100, to: 0, undersideMm: -height, topMm: level, open: null }, beyond: [{ from: gap, to: gap + 50_000, undersideMm: -height, topMm: level, open: [0, level] }], deckMm: level }
    const at = (t: number): number => gap / Math.cos(t) + level / Math.sin(t) - 2 * d / Math.sin(2 * t)
    // the formula still falls at that tilt, so the last tilt asked for decides
    expect(at(under)).toBeLessThan(at(under - 0.01))
    expect(longestTipped(space, d)).toBeCloseTo(at(under), 4)
    expect(longestTipped(space, d)).toBeGreaterThan(longestTipped(corner(gap, level), d))
  })

  it('a duct as thick as the gap, or too thick for the opening, does not go in; a piece as long as the gap always does', () => {
    expect(longestTipped(FLOOR, 211)).toBe(0)
    expect(longestTipped({ ...FLOOR, beyond: [joist(299, { chord: 10 })] }, 280)).toBeGreaterThanOrEqual(299)
    expect(longestTipped({ near: joist(-101), beyond: [joist(150), joist(402)], deckMm: 304 }, 200)).toBeLessThanOrEqual(150)
    for (const d of [60, 100, 150, 200]) expect(longestTipped(FLOOR, d)).toBeGreaterThanOrEqual(299)
  })

  it('thinner duct, wider gaps, deeper openings and one joist fewer never make it shorter', () => {
    for (let d = 60; d < 200; d += 10) expect(longestTipped(FLOOR, d)).toBeGreaterThanOrEqual(longestTipped(FLOOR, d + 10))
    const wider = (gap: number): number => longestTipped({ near: joist(-101), beyond: [joist(gap), joist(gap + 101 + gap)], deckMm: 304 }, 125)
    for (const gap of [250, 299, 350, 449]) expect(wider(gap + 40)).toBeGreaterThan(wider(gap))
    const deeper = (depth: number): number => longestTipped({ near: joist(-101, { depth }), beyond: [joist(299, { depth })], deckMm: depth }, 125)
    for (const depth of [254, 304, 373]) expect(deeper(depth + 40)).toBeGreaterThan(deeper(depth))
    expect(longestTipped({ ...FLOOR, beyond: [FLOOR.beyond[0]] }, 80)).toBeGreaterThanOrEqual(longestTipped(FLOOR, 80))
    expect(longestTipped({ ...FLOOR, beyond: [FLOOR.beyond[0], { ...FLOOR.beyond[1], open: null }] }, 80)).toBeLessThanOrEqual(longestTipped(FLOOR, 80))
  })

  it(`0.01 mm less passes every tilt that is looked at, lying on the corner and pushed back; 0.05 mm more meets something, seed ${SEED}`, () => {
    const random = seeded(SEED)
    let judged = 0
    for (let k = 0; k < 25; k++) {
      const gap = 250 + 250 * random(), chord = 30 + 40 * random(), depth = 220 + 180 * random(), d = 60 + 90 * random()
      const space: TipSpace = { near: joist(-101, { depth, chord }), beyond: [joist(gap, { depth, chord }), joist(2 * gap + 101, { depth, chord })], deckMm: depth }
      if (d > depth - 2 * chord) continue
      judged++
      const rects = rectsOf(space), longest = longestTipped(space, d)
      const under = Math.asin(d / Math.hypot(gap, chord)) + Math.atan(chord / gap)
      const tilts = Array.from({ length: 3000 }, (_, i) => under * i / 2999 * (1 - 1e-7))
      // the foot slides back along the strip that lies on the corner until it meets the nearer joist: found here by trying
      const backs = tilts.map((tilt) => {
        const touches = (back: number): boolean => overlaps({ lengthMm: back, diameterMm: d }, gap - back * Math.cos(tilt), chord - back * Math.sin(tilt), tilt, rects[0], 1e-9)
        let low = 0, high = 3 * gap
        for (let i = 0; i < 50; i++) {
          const middle = (low + high) / 2
          if (touches(middle)) high = middle
          else low = middle
        }
        return low
      })
      const passes = (lengthMm: number): boolean => {
        for (const [i, tilt] of tilts.entries()) {
          const c = Math.cos(tilt), n = Math.sin(tilt)
          // it stands between the two joists altogether
          if (lengthMm * c + d * n <= gap) return true
          if (rects.some((rect) => overlaps({ lengthMm, diameterMm: d }, gap - backs[i] * c, chord - backs[i] * n, tilt, rect, 1e-6))) return false
        }
        return true
      }
      expect(passes(longest - 0.01), `case ${k}`).toBe(true)
      expect(passes(longest + 0.05), `case ${k}`).toBe(false)
    }
    expect(judged).toBeGreaterThan(15)
  })

  it.each([[100], [150]])('a search of all places and tilts finds a way for a somewhat shorter piece of %i mm, and none for a somewhat longer one', (diameterMm) => {
    const longest = longestTipped(FLOOR, diameterMm), rects = rectsOf(FLOOR), lattice = { stepMm: 4, stepDeg: 0.7 }
    const shorter = { lengthMm: 0.72 * longest, diameterMm }, longer = { lengthMm: 1.14 * longest, diameterMm }
    expect(goesIn(shorter, rects, 47, lattice, -halfStepMm(shorter, lattice))).toBe(true)
    expect(goesIn(longer, rects, 47, lattice, halfStepMm(longer, lattice))).toBe(false)
  })
})
