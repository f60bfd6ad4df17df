/** What fits through openings: the largest duct square on and askew, straight through ten joists, and several ducts side by side. */
import { openingsBetween, type Opening } from '#geometry/fit/opening.ts'
import { openingFromPolygon } from '#geometry/fit/halfPlanes.ts'
import { largestOblique, largestStraight } from '#geometry/fit/largestDuct.ts'
import { fitMix, largestEqual } from '#geometry/fit/fitMix.ts'
import { largestThrough, largestThroughSquare } from '#geometry/fit/largestThrough.ts'
import { bestStraightThrough } from '#geometry/fit/bestStraightThrough.ts'
import { between, seeded, type Draw } from '../oracle/drawnElements.ts'
import type { Bench } from './bench.ts'
import { sideBySide } from './measure.ts'
import type { Cell } from './table.ts'

const SEED = 17, MANY = 500, JOISTS = 10

export const openings: Bench = {
  name: 'openings',
  run() {
    const draw = seeded(SEED)
    const triangles = Array.from({ length: MANY }, () => openingFromPolygon([0, 0, between(draw, 250, 700), 0, between(draw, 100, 500), between(draw, 120, 300)], 48, 50))
    const convex = Array.from({ length: MANY }, () => openingFromPolygon(roundish(draw), 48, 50))
    const joists = Array.from({ length: JOISTS }, () => joistOpenings(between(draw, 0, 600)))
    const offsets = joists.map((_, i) => 400 * i)
    // one opening of each joist, in line with those of the others
    const series = Array.from({ length: 50 }, () => {
      const x = between(draw, 500, 9_500)
      return joists.map((all) => all.reduce((best, opening) => Math.abs(middleOf(opening) - x) < Math.abs(middleOf(best) - x) ? opening : best))
    })
    const shears = Array.from({ length: MANY }, () => [between(draw, -1, 1), between(draw, -0.2, 0.2)] as const)
    const out = new Float64Array(9)
    const rows: Cell[][] = []
    const add = (what: string, count: number, work: (i: number) => unknown): void => {
      const [{ medianMs, leastMs, failed }] = sideBySide([{ name: what, work: () => { for (let i = 0; i < count; i++) work(i) } }])
      rows.push([what, count, 1e6 * medianMs / count, 1e6 * leastMs / count, failed ?? ''])
    }
    add('triangle, square on', MANY, (i) => largestStraight(triangles[i], out))
    add('any convex opening (5 to 8 sides), square on', MANY, (i) => largestStraight(convex[i], out))
    add('triangle, askew', MANY, (i) => largestOblique(triangles[i], shears[i][0], shears[i][1], out))
    add('any convex opening, askew', MANY, (i) => largestOblique(convex[i], shears[i][0], shears[i][1], out))
    add('through ten joists, square on', series.length, (i) => largestThroughSquare(series[i], out))
    add('through ten joists, axis free to tilt', series.length, (i) => largestThrough(series[i], offsets, out))
    add('which openings of ten joists, axis free to tilt', 1, () => bestStraightThrough(joists, offsets))
    add('two equal ducts in one opening', 50, (i) => largestEqual(triangles[i], 2, out))
    add('three equal ducts in one opening', 20, (i) => largestEqual(triangles[i], 3, out))
    add('a mix of 90, 75 and 63 mm', 20, (i) => fitMix(triangles[i], [90, 75, 63]))
    add('openings of one 10 m joist, from its webs', 5, (i) => joistOpenings(100 * i + 1))
    return [{ title: 'Openings: ns each', head: ['what', 'different ones', 'median', 'least', ''], rows }]
  },
}

/** Five to eight corners on an ellipse, so convex. */
function roundish(draw: Draw): number[] {
  const count = 5 + Math.floor(draw() * 4), a = between(draw, 100, 300), b = between(draw, 60, 150)
  return Array.from({ length: count }, (_, i) => {
    const turn = 2 * Math.PI * (i + between(draw, 0, 0.7)) / count
    return [a * Math.cos(turn), b * Math.sin(turn)]
  }).flat()
}

function joistOpenings(firstMm: number): Opening[] {
  const bands = []
  for (let k = -2; k < 34; k++) {
    const x = firstMm + 300 * k
    for (const [n0, n1] of [[48.5, 50.5], [-50.5, -48.5]]) {
      bands.push(k % 2 === 0 ? { x0: x, y0: 47, x1: x + 300, y1: 257, widthMm: 40, n0, n1 } : { x0: x, y0: 257, x1: x + 300, y1: 47, widthMm: 40, n0, n1 })
    }
  }
  return openingsBetween({ x0: 0, x1: 10_000, y0: 47, y1: 257, n0: -48.5, n1: 48.5 }, bands.filter(({ x0, x1 }) => x0 >= 0 && x1 <= 10_000))
}

function middleOf({ verticesXy }: Opening): number {
  let sum = 0
  for (let i = 0; i < verticesXy.length; i += 2) sum += verticesXy[i]
  return 2 * sum / verticesXy.length
}
