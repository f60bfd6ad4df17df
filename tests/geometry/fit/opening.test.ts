import { describe, expect, it } from 'vitest'
import { BOTTOM_CHORD, FAR_END, NEAR_END, openingsBetween, TOP_CHORD, type Band, type Opening } from '#geometry/fit/opening.ts'
import { openingFromHalfPlanes, openingFromPolygon } from '#geometry/fit/halfPlanes.ts'
import { largestStraight } from '#geometry/fit/largestDuct.ts'

const clear = { x0: 0, x1: 1800, y0: 47, y1: 207, n0: -36, n1: 36 }
const band = (x0: number, y0: number, x1: number, y1: number, widthMm = 40, n0 = -2, n1 = 2): Band => ({ x0, y0, x1, y1, widthMm, n0, n1 })
const out = new Float64Array(3)
const diameter = (opening: Opening) => { largestStraight(opening, out); return out[0] }
const has = ({ verticesXy: v }: Opening, x: number, y: number) => v.every((_, i) => {
  if (i % 2 === 1) return true
  const j = (i + 2) % v.length
  return (v[j] - v[i]) * (y - v[i + 1]) - (v[j + 1] - v[i + 1]) * (x - v[i]) >= -1e-6
})
const totalArea = (openings: Opening[]) => openings.reduce((sum, { areaMm2 }) => sum + areaMm2, 0)

describe('openings between the members of a joist', () => {
  it('a joist without webs is one rectangle, whose members are the chords and the ends', () => {
    const [only, ...rest] = openingsBetween(clear, [])
    expect(rest).toHaveLength(0)
    expect(only.areaMm2).toBeCloseTo(1800 * 160, 6)
    expect([...only.members].sort((a, b) => b - a)).toEqual([BOTTOM_CHORD, TOP_CHORD, NEAR_END, FAR_END])
    expect(diameter(only)).toBeCloseTo(160, 9)
    expect(out[1]).toBeCloseTo(900, 9)
  })

  it('an upright post leaves a rectangle on either hand, numbered from the datum end', () => {
    const openings = openingsBetween(clear, [band(600, 47, 600, 207)])
    expect(openings.map(({ number, areaMm2 }) => [number, Math.round(areaMm2)])).toEqual([[1, 580 * 160], [2, 1180 * 160]])
  })

  it('thin Vs at a 600 pitch in a clear height of 160 leave triangles that take a 150 duct', () => {
    // 340-340-600 triangle: area 48000, half perimeter 640, incircle radius 75 (Euclid IV.4)
    const bands: Band[] = []
    for (let x = 0; x < 1800; x += 600) bands.push(band(x, 47, x + 300, 207, 1e-5), band(x + 300, 207, x + 600, 47, 1e-5))
    const openings = openingsBetween(clear, bands)
    expect(openings.map(({ number }) => number)).toEqual([1, 2, 3, 4, 5, 6, 7])
    for (const opening of openings.slice(1, -1)) expect(diameter(opening)).toBeCloseTo(150, 4)
    expect(totalArea(openings)).toBeCloseTo(1800 * 160, 1)
  })

  it('webs of real width: areas are what the bands leave, and no opening holds a point of a band', () => {
    const bands: Band[] = []
    for (let x = -150; x < 1800; x += 600) bands.push(band(x, 47, x + 300, 207), band(x + 300, 207, x + 600, 47))
    const openings = openingsBetween(clear, bands)
    expect(openings.map(({ number }) => number)).toEqual(openings.map((_, i) => i + 1))
    let inBand = 0, inOpening = 0, both = 0, total = 0
    for (let x = 1.31; x < 1800; x += 3.137) for (let y = 48.73; y < 207; y += 3.319) {
      const covered = bands.some((b) => {
        const length = Math.hypot(b.x1 - b.x0, b.y1 - b.y0)
        return Math.abs((x - b.x0) * (b.y1 - b.y0) - (y - b.y0) * (b.x1 - b.x0)) / length < b.widthMm / 2
      && x > Math.min(b.x0, b.x1) - 60 && x < Math.max(b.x0, b.x1) + 60
      })
      const open = openings.some((opening) => has(opening, x, y))
      total++
      if (covered) inBand++
      if (open) inOpening++
      if (covered && open) both++
    }
    expect(both).toBe(0)
    // what is neither is less than an opening for a 1 mm duct: the sharp notches between bands over a node
    expect(total - inBand - inOpening).toBeLessThan(0.002 * total)
  })

  it('bands that cross leave four openings, and several at one node leave the fan between them', () => {
    const crossed = openingsBetween({ ...clear, x1: 400 }, [band(0, 47, 400, 207, 10), band(0, 207, 400, 47, 10)])
    expect(crossed).toHaveLength(4)
    const fan = openingsBetween({ ...clear, x1: 800 }, [band(400, 47, 100, 207, 20), band(400, 47, 400, 207, 20), band(400, 47, 700, 207, 20)])
    expect(fan).toHaveLength(4)
    // either side of the post is the mirror of the other
    expect(diameter(fan[1])).toBeCloseTo(diameter(fan[2]), 9)
    expect(diameter(fan[0])).toBeCloseTo(diameter(fan[3]), 9)
  })

  it('a band cut off at the end of the joist still closes its opening', () => {
    const [first, second] = openingsBetween({ ...clear, x1: 500 }, [band(340, 47, 520, 207)])
    expect(second).toBeDefined()
    expect([...first.members]).not.toContain(FAR_END)
    expect([...second.members]).toContain(FAR_END)
    expect(openingsBetween(clear, [band(-400, 47, -100, 207), band(-300, 100, -50, 104)])).toHaveLength(1)
  })

  it('a diagonal that ends on a post leaves the bay beyond the post whole', () => {
    const openings = openingsBetween({ ...clear, x1: 1200 }, [band(600, 47, 600, 207, 20), band(300, 47, 600, 127, 20)])
    expect(openings).toHaveLength(3)
    expect(openings[2].areaMm2).toBeCloseTo(590 * 160, 6)
  })

  it('a post that stops halfway leaves the two sides and the space over it', () => {
    const openings = openingsBetween({ ...clear, x1: 600 }, [band(300, 47, 300, 100, 20)])
    expect(openings.map((opening) => Math.round(opening.areaMm2)).sort((a, b) => a - b)).toEqual([290 * 160, 290 * 160, 600 * 107])
    // a duct over it needs room that the sides do not give
    const narrow = openingsBetween({ ...clear, x1: 200 }, [band(100, 47, 100, 100, 20)])
    expect(narrow.map((opening) => diameter(opening)).sort((a, b) => a - b)).toEqual([90, 90, 107])
  })

  it('plates on both faces give each its own edge and depth', () => {
    const faces = (x0: number, y0: number, x1: number, y1: number, shift = 0) => [
      band(x0, y0, x1, y1, 40, 36, 38), band(x0 + shift, y0, x1 + shift, y1, 40, -38, -36)]
    const level = openingsBetween({ ...clear, x1: 600 }, [...faces(0, 47, 300, 207), ...faces(300, 207, 600, 47)])
    expect(level).toHaveLength(3)
    expect([...level[1].members].filter((member) => member >= 0).sort()).toEqual([0, 1, 2, 3])
    // the plate behind stands 30 mm further back: it does not bound the view, but a slanting duct would meet it
    const staggered = openingsBetween(clear, [...faces(900, 47, 900, 207, -30)])
    expect(staggered).toHaveLength(2)
    expect([...staggered[1].members].filter((member) => member >= 0).sort()).toEqual([0, 1])
    expect(staggered[1].areaMm2).toBeCloseTo((1800 - 920) * 160, 6)
  })

  it('nothing is made of nonsense', () => {
    expect(openingsBetween({ ...clear, x1: -1 }, [])).toEqual([])
    expect(openingsBetween({ ...clear, x1: NaN }, [])).toEqual([])
    expect(openingsBetween({ ...clear, x1: 0.9 }, [])).toEqual([])
    expect(openingsBetween(clear, [band(5, 5, 5, 5), band(NaN, 0, 1, 1), band(100, 47, 100, 207, -4)])).toHaveLength(1)
  })
})

describe('an opening from half-planes', () => {
  it('gives the corners counter-clockwise and the area, whatever the order and length of the normals', () => {
    const opening = openingFromHalfPlanes([0, 2, 8, 0, 0, -1, 0, 0, 0, 0, 3, 0, 9, -1, 1, 0, -1, 0, 0, 0, 5, 0, 90, 0, 0])
    expect(opening.areaMm2).toBeCloseTo(12, 12)
    expect(opening.verticesXy).toHaveLength(8)
    expect([...opening.members]).toContain(4)
  })

  it('is empty when it is not closed, has nothing inside, or a number is not finite', () => {
    for (const halfPlanes of [[1, 0, 1, 0, 0], [1, 0, 1, 0, 0, 0, 1, 1, 0, 0, -1, 0, 1, 0, 0], [1, 0, NaN, 0, 0], [0, 0, 1, 0, 0], []]) {
      const opening = openingFromHalfPlanes(halfPlanes)
      expect(opening.verticesXy).toHaveLength(0)
      expect(opening.areaMm2).toBe(0)
      expect(diameter(opening)).toBe(0)
    }
    expect(diameter(openingFromPolygon([0, 0, 10, 0, 20, 0]))).toBe(0)
    expect(diameter(openingFromPolygon([0, 0, 0, 10, 10, 0]))).toBe(0)
  })
})
