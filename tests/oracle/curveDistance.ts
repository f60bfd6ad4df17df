/** Slow, obviously right references for distances between centrelines, sharing no code with src. */
import { ARC, CENTRE_X, END_X, KIND, RADIAL_X, START_X, TANGENT_X, TURN, RADIUS } from '#geometry/curve/centreline.ts'
import { elementPoint } from './solidDistance.ts'

type Point = readonly [number, number, number]
const apart = (a: Point, b: Point) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2])

/** Distance from a point to a packed leg or arc: the least over the foot of the perpendicular, if it lies on the element, and both ends. */
export const pointToElement = (el: ArrayLike<number>, e: number, p: Point): number => {
  const start = elementPoint(el, e, 0), end = elementPoint(el, e, 1)
  const ends = Math.min(apart(p, start), apart(p, end))
  if (el[e + KIND] !== ARC) {
    const d = [0, 1, 2].map((k) => el[e + END_X + k] - el[e + START_X + k])
    const square = d.reduce((sum, x) => sum + x * x, 0)
    const part = square === 0 ? 0 : d.reduce((sum, x, k) => sum + x * (p[k] - el[e + START_X + k]), 0) / square
    return part > 0 && part < 1 ? apart(p, elementPoint(el, e, part)) : ends
  }
  const along = (at: number) => [0, 1, 2].reduce((sum, k) => sum + (p[k] - el[e + CENTRE_X + k]) * el[e + at + k], 0)
  const turn = Math.atan2(along(TANGENT_X), along(RADIAL_X))
  const part = (turn < 0 ? turn + 2 * Math.PI : turn) / el[e + TURN]
  return part <= 1 ? apart(p, elementPoint(el, e, part)) : ends
}

/** A packed arc (or leg: one piece) as straight pieces, and the furthest any of them strays from it: the sagitta. */
export const chordsOf = (el: ArrayLike<number>, e: number, pieces: number): { points: Point[], sagittaMm: number } => {
  if (el[e + KIND] !== ARC) return { points: [elementPoint(el, e, 0), elementPoint(el, e, 1)], sagittaMm: 0 }
  return {
    points: Array.from({ length: pieces + 1 }, (_, i) => elementPoint(el, e, i / pieces)),
    sagittaMm: el[e + RADIUS] * (1 - Math.cos(el[e + TURN] / pieces / 2)),
  }
}

/** Least distance between two chains of straight pieces, each pair measured by `segments` unless its midpoints are plainly too far apart. */
export const leastOfChains = (
  a: readonly Point[], b: readonly Point[], segments: (a0: Point, a1: Point, b0: Point, b1: Point) => number,
): number => {
  const halves = (points: readonly Point[]) => points.slice(1).map((p, i) => ({
    from: points[i], to: p, half: apart(points[i], p) / 2,
    middle: [0, 1, 2].map((k) => (points[i][k] + p[k]) / 2) as unknown as Point,
  }))
  const pairs = halves(a).flatMap((p) => halves(b).map((q) => {
    const middles = apart(p.middle, q.middle)
    return { p, q, low: middles - p.half - q.half, middles }
  }))
  // the distance between two middles is attained, so a pair that cannot come below the least of them cannot win
  const attained = Math.min(...pairs.map((pair) => pair.middles))
  return Math.min(...pairs.filter((pair) => pair.low <= attained).map(({ p, q }) => segments(p.from, p.to, q.from, q.to)))
}
