/**
 * Slow, obviously right references for tests: signed distance of one point to one solid, written from the definition
 * and sharing no code with src, and the least of it along a leg or an arc by bracketing.
 */
import { BOX, CYLINDER, PRISM, TUBE, type SolidKind } from '#geometry/solid/solidSet.ts'
import { ARC, CENTRE_X, END_X, KIND, LENGTH, RADIAL_X, RADIUS, START_X, TANGENT_X, TURN } from '#geometry/curve/centreline.ts'

type Point = readonly [number, number, number]
const dot = (a: readonly number[], b: readonly number[]) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
const minus = (a: readonly number[], b: readonly number[]): Point => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]

/** Signed distance to a solid swept straight: `plan` signed across it, `along` signed past its ends (both negative inside). */
const swept = (plan: number, along: number) =>
  plan <= 0 && along <= 0 ? Math.max(plan, along) : Math.hypot(Math.max(plan, 0), Math.max(along, 0))

/** Signed distance of a point, mm, negative inside. */
export type SignedDistance = (p: Point) => number

export const boxDistance = (data: ArrayLike<number>, s = 0): SignedDistance => {
  const d = Array.from({ length: 15 }, (_, i) => data[s + i])
  const u = d.slice(6, 9), v = d.slice(9, 12), w = d.slice(12, 15)
  return (p) => {
    const r = minus(p, d)
    const x = Math.abs(dot(r, u)) - d[3], y = Math.abs(dot(r, v)) - d[4], z = Math.abs(dot(r, w)) - d[5]
    if (x <= 0 && y <= 0 && z <= 0) return Math.max(x, y, z)
    return Math.hypot(Math.max(x, 0), Math.max(y, 0), Math.max(z, 0))
  }
}

export const cylinderDistance = (data: ArrayLike<number>, s = 0): SignedDistance => {
  const d = Array.from({ length: 8 }, (_, i) => data[s + i])
  const axis = d.slice(3, 6)
  return (p) => {
    const r = minus(p, d)
    const z = dot(r, axis)
    return swept(Math.hypot(r[0] - z * axis[0], r[1] - z * axis[1], r[2] - z * axis[2]) - d[6], Math.abs(z) - d[7])
  }
}

/** The rings of a packed prism as lists of (u, v) points. */
export const ringsOf = (data: ArrayLike<number>, s: number): [number, number][][] => {
  const rings: [number, number][][] = []
  let at = s + 15
  for (let ring = 0; ring < data[s + 14]; ring++) {
    const count = data[at++]
    rings.push(Array.from({ length: count }, (_, i) => [data[at + 2 * i], data[at + 2 * i + 1]]))
    at += 2 * count
  }
  return rings
}

const pointToSegment2 = (x: number, y: number, a: readonly number[], b: readonly number[]) => {
  const ex = b[0] - a[0], ey = b[1] - a[1]
  const square = ex * ex + ey * ey
  const t = square === 0 ? 0 : Math.min(1, Math.max(0, ((x - a[0]) * ex + (y - a[1]) * ey) / square))
  return Math.hypot(x - a[0] - t * ex, y - a[1] - t * ey)
}

export const prismDistance = (data: ArrayLike<number>, s = 0): SignedDistance => {
  const d = Array.from({ length: 14 }, (_, i) => data[s + i])
  const u = d.slice(3, 6), v = d.slice(6, 9), wAxis = d.slice(9, 12)
  const walls = ringsOf(data, s).flatMap((ring) => ring.map((b, i) => ({ a: ring[(i + ring.length - 1) % ring.length], b })))
  return (p) => {
    const r = minus(p, d)
    const x = dot(r, u), y = dot(r, v), w = dot(r, wAxis)
    let least = Infinity, inside = false
    for (const { a, b } of walls) {
      least = Math.min(least, pointToSegment2(x, y, a, b))
      if (a[1] > y !== b[1] > y && x < a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0])) inside = !inside
    }
    return swept(inside ? -least : least, Math.max(d[12] - w, w - d[13]))
  }
}

export const signedDistance = (kind: SolidKind, data: ArrayLike<number>, s = 0): SignedDistance => {
  if (kind === BOX) return boxDistance(data, s)
  if (kind === CYLINDER) return cylinderDistance(data, s)
  if (kind === PRISM) return prismDistance(data, s)
  throw new Error(`signedDistance: kind ${kind === TUBE ? 'tube' : kind} has no reference here`)
}

/** The point of a packed element `part` (0..1) of the way along. */
export const elementPoint = (el: ArrayLike<number>, e: number, part: number): Point => {
  if (el[e + KIND] !== ARC) {
    return [0, 1, 2].map((i) => el[e + START_X + i] + part * (el[e + END_X + i] - el[e + START_X + i])) as unknown as Point
  }
  const c = Math.cos(part * el[e + TURN]) * el[e + RADIUS], n = Math.sin(part * el[e + TURN]) * el[e + RADIUS]
  return [0, 1, 2].map((i) => el[e + CENTRE_X + i] + c * el[e + RADIAL_X + i] + n * el[e + TANGENT_X + i]) as unknown as Point
}

/**
 * Brackets the least value of a signed distance along an element. A signed distance changes no faster than one moves, so
 * a stretch can hide nothing lower than its middle value less half its length; stretches that might are halved.
 * @returns mm: the truth lies in [low, high], and high was attained at `part` of the way along
 */
export const bracketLeast = (
  el: ArrayLike<number>, e: number, distance: SignedDistance, toleranceMm: number, mostSamples: number,
): { low: number, high: number, part: number } => {
  const length = el[e + LENGTH]
  let high = Infinity, part = 0
  const look = (t: number) => {
    const value = distance(elementPoint(el, e, t))
    if (value < high) { high = value; part = t }
    return value
  }
  look(0)
  look(1)
  let pieces = [{ middle: 0.5, value: look(0.5) }]
  let half = 0.5
  for (let samples = 3; pieces.length > 0; half /= 2) {
    const bound = high
    pieces = pieces.filter((piece) => piece.value - half * length < bound - toleranceMm)
    if (pieces.length * 2 + samples > mostSamples) break
    samples += pieces.length * 2
    pieces = pieces.flatMap(({ middle }) => [middle - half / 2, middle + half / 2].map((t) => ({ middle: t, value: look(t) })))
  }
  const low = Math.min(high - toleranceMm, ...pieces.map((piece) => piece.value - half * length))
  return { low, high, part }
}
