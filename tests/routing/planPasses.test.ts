/** Which of two runs lies lower where they pass: by hand, and against points close together along both. */
import { describe, expect, it } from 'vitest'
import { pointAt } from '#geometry/curve/measure.ts'
import { planPasses } from '#routing/planPasses.ts'
import { assemblyOf, freeRun, together, type Point } from '../checks/smallJob.ts'
import { seeded } from '../oracle/seeded.ts'

const SEED = 8_412

const runsOf = (...courses: readonly (readonly Point[])[]) => assemblyOf(together(...courses.map((points, k) => freeRun(`R${k}`, points)))).runs
const passesOf = (...courses: readonly (readonly Point[])[]) => planPasses(runsOf(...courses))

describe('passes in plan', () => {
  it('of two level ducts that cross, the one 100 mm lower lies under the other, at the place where they cross', () => {
    expect(passesOf([[0, 0, 200], [2000, 0, 200]], [[700, -500, 100], [700, 900, 100]])).toEqual([
      { lower: 1, upper: 0, isCrossing: true, at: [700, 0], lowerStationMm: 500, upperStationMm: 700, riseMm: 100 },
    ])
  })

  it('a sloping duct counts with its height where it crosses', () => {
    // falls from 300 to 0 over 3 m: at x 2500 it is at 50, under the other’s 100; at x 500 it is at 250, over it
    const falling: Point[] = [[0, 0, 300], [3000, 0, 0]]
    const [pass] = passesOf(falling, [[2500, -400, 100], [2500, 400, 100]])
    expect([pass.lower, pass.upper]).toEqual([0, 1])
    expect(pass.riseMm).toBeCloseTo(50, 9)
    expect(passesOf(falling, [[500, -400, 100], [500, 400, 100]])[0].lower).toBe(1)
  })

  it('a duct that crosses twice is met twice, once under and once over', () => {
    const wave: Point[] = [[0, -600, 100], [0, 600, 100], [1200, 600, 300], [1200, -600, 300]]
    const passes = passesOf([[-500, 0, 200], [2000, 0, 200]], wave)
    expect(passes.map(({ lower, upper, isCrossing }) => [lower, upper, isCrossing])).toEqual([[1, 0, true], [0, 1, true]])
    expect(passes[0].at[0]).toBeCloseTo(0, 9)
    expect(passes[1].at[0]).toBeCloseTo(1200, 9)
  })

  it('a bend is met where its arc runs, not at its corner', () => {
    // corner at 0,0 with radius 180: the arc from (-180, 0) to (0, 180) about (-180, 180); at y 60 it is at x = -180 + sqrt(180^2 - 120^2) = -45.836
    const [pass] = passesOf([[-900, 0, 200], [0, 0, 200], [0, 900, 200]], [[-600, 60, 80], [600, 60, 80]])
    expect(pass.at[0]).toBeCloseTo(-180 + Math.sqrt(180 ** 2 - 120 ** 2), 2)
    expect(pass.lower).toBe(1)
  })

  it('ducts one above the other for a way are one pass, however many legs and bends that takes', () => {
    const course = (z: number, aside: number): Point[] => [[0, aside, z], [1500, aside, z], [1500, 1200, z], [3000, 1200, z]]
    const passes = passesOf(course(100, 0), course(220, 20))
    expect(passes).toHaveLength(1)
    expect(passes[0].lower).toBe(0)
    // and with the second to the side of the first all along, 20 mm, they do not even cross
    const aside: Point[] = [[0, 20, 220], [1480, 20, 220], [1480, 1220, 220], [3000, 1220, 220]]
    expect(passesOf(course(100, 0), aside).map(({ lower, isCrossing }) => [lower, isCrossing])).toEqual([[0, false]])
  })

  it('ducts beside each other do not pass, though one lies a little higher', () => {
    // 90 mm ducts 100 mm apart in plan
    expect(passesOf([[0, 0, 100], [2000, 0, 100]], [[0, 100, 130], [2000, 100, 130]])).toEqual([])
    // nor where one only comes up to the side of the other
    expect(passesOf([[0, 0, 100], [2000, 0, 100]], [[500, 60, 220], [500, 900, 220]])).toEqual([])
  })

  it('an upright duct is lower than what crosses over its top, and neither where it is passed at its side', () => {
    const upright: Point[] = [[500, 0, -900], [500, 0, 100]]
    expect(passesOf(upright, [[0, 0, 300], [1000, 0, 300]]).map(({ lower, riseMm }) => [lower, riseMm])).toEqual([[0, 200]])
    expect(passesOf(upright, [[0, 0, -300], [1000, 0, -300]])).toEqual([])
  })

  it(`random runs with bends: the same crossings as points 5 mm apart find, with the same one lower, seed ${SEED}`, () => {
    const random = seeded(SEED)
    const draw = (): Point[] => Array.from({ length: 4 }, (): Point => [3000 * random(), 3000 * random(), 400 * random()])
    let crossings = 0
    for (let k = 0; k < 200; k++) {
      const runs = runsOf(draw(), draw())
      if (runs.some(({ bends }) => bends.some(({ radiusMm, askedMm }) => radiusMm < askedMm))) continue
      const found = planPasses(runs).filter(({ isCrossing }) => isCrossing)
      const [a, b] = runs.map(({ centreline }) => {
        const count = Math.ceil(centreline.lengthMm / 5)
        return Array.from({ length: count + 1 }, (_, i): Point => {
          const at: Point = [0, 0, 0]
          pointAt(centreline, centreline.lengthMm * i / count, at)
          return at
        })
      })
      const seen: { x: number, y: number, lower: number }[] = []
      for (let i = 0; i + 1 < a.length; i++) {
        for (let j = 0; j + 1 < b.length; j++) {
          const hit = crossing(a[i], a[i + 1], b[j], b[j + 1])
          if (hit !== null) seen.push(hit)
        }
      }
      // two crossings so near that the ducts have no room between them are one pass: compared where they are not
      const sparse = seen.every((p, i) => seen.every((q, j) => i === j || Math.hypot(p.x - q.x, p.y - q.y) > 200))
      if (!sparse) continue
      crossings += seen.length
      expect(found, `pair ${k}`).toHaveLength(seen.length)
      for (const { x, y, lower } of seen) expect(found.some(({ at, lower: other }) => Math.hypot(at[0] - x, at[1] - y) < 5 && other === lower), `pair ${k} at ${x} ${y}`).toBe(true)
    }
    expect(crossings).toBeGreaterThan(60)
  })
})

function crossing(a: Point, b: Point, c: Point, d: Point): { x: number, y: number, lower: number } | null {
  const ux = b[0] - a[0], uy = b[1] - a[1], vx = d[0] - c[0], vy = d[1] - c[1], facing = ux * vy - uy * vx
  if (facing === 0) return null
  const s = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / facing, t = ((c[0] - a[0]) * uy - (c[1] - a[1]) * ux) / facing
  if (!(s >= 0 && s < 1 && t >= 0 && t < 1)) return null
  return { x: a[0] + s * ux, y: a[1] + s * uy, lower: a[2] + s * (b[2] - a[2]) < c[2] + t * (d[2] - c[2]) ? 0 : 1 }
}
