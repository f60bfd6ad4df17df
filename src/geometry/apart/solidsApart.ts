/**
 * The least distance between two solids, exact as the clearance kernels are.
 *
 * A tube is its centreline less its radius. Of the others, the nearest two points can be found with one of them on an edge, a rim or
 * (two cylinders side on) the common perpendicular of the axes: two faces that face each other squarely do so up to where one of them ends. So edges,
 * as legs, and rims, as whole turns, are measured against the other solid, both ways. Where bodies overlap an edge or a rim
 * of one is in the other, or a rod goes right through a face, which its axis tells. How deep an overlap is these do not tell: for two boxes
 * their separating axes do.
 */
import { ANSWER_SIZE, ON_CURVE_X, ON_SOLID_X, PAIR_ANSWER_SIZE, elementDistance, elementsDistance } from '../clearance/index.ts'
import { writeArc, writeLeg } from '../curve/build.ts'
import { ELEMENT_STRIDE } from '../curve/centreline.ts'
import { ringsOf } from '../solid/degenerate.ts'
import { axesAlong } from '../solid/rotation.ts'
import { BOX, CYLINDER, PRISM, TUBE } from '../solid/solidSet.ts'
import { ANSWER_ERROR_MM } from '../tolerance.ts'
import { boxesDepthMm } from './boxesDepth.ts'
import { smallerBy } from './smallerBy.ts'
import type { SolidSet } from '../solid/solidSet.ts'

export interface Apart {
  /** surface to surface, mm; 0 when they touch, less when they overlap */
  readonly distanceMm: number
  /** whether a distance below 0 is the depth of the overlap, for two boxes the shortest way apart; only for those and where one of the two is a tube */
  readonly depthIsExact: boolean
  /** on the first one's surface and on the second's; when they overlap a place where they do */
  readonly onFirst: readonly [number, number, number]
  readonly onSecond: readonly [number, number, number]
}

interface Best { mm: number, first: [number, number, number], second: [number, number, number] }

const scratch = new Float64Array(ELEMENT_STRIDE), answer = new Float64Array(ANSWER_SIZE), pair = new Float64Array(PAIR_ANSWER_SIZE)

export function solidsApart(a: SolidSet, i: number, b: SolidSet, j: number): Apart {
  const best: Best = { mm: Infinity, first: [0, 0, 0], second: [0, 0, 0] }
  const tubeA = a.kind[i] === TUBE, tubeB = b.kind[j] === TUBE
  if (tubeA && tubeB) betweenTubes(a, i, b, j, best)
  else if (tubeA) tubeAgainst(a, i, b, j, false, best)
  else if (tubeB) tubeAgainst(b, j, a, i, true, best)
  else {
    eachEdge(a, i, () => take(b, j, false, best))
    eachEdge(b, j, () => take(a, i, true, best))
    if (a.kind[i] === CYLINDER && b.kind[j] === CYLINDER) sideOn(a, i, b, j, best)
  }
  const isTube = tubeA || tubeB
  if (a.kind[i] === BOX && b.kind[j] === BOX) {
    const depthMm = boxesDepthMm(a, i, b, j)
    if (depthMm > ANSWER_ERROR_MM) return { distanceMm: -depthMm, depthIsExact: true, onFirst: best.first, onSecond: best.second }
  }
  // bodies whose faces lie flush may overlap though no edge is within: a hair smaller, its edges are
  if (!isTube && Math.abs(best.mm) <= ANSWER_ERROR_MM && overlapsStill(a, i, b, j)) best.mm = -HAIR_MM
  return { distanceMm: best.mm, depthIsExact: isTube, onFirst: best.first, onSecond: best.second }
}

/** How much smaller a body is made to tell touching from overlapping, mm: ten times what an answer may be wrong by. */
const HAIR_MM = 10 * ANSWER_ERROR_MM

function overlapsStill(a: SolidSet, i: number, b: SolidSet, j: number): boolean {
  const smaller = smallerBy(a, i, HAIR_MM)
  if (smaller === null) return false
  const best: Best = { mm: Infinity, first: [0, 0, 0], second: [0, 0, 0] }
  eachEdge(smaller, 0, () => take(b, j, false, best))
  eachEdge(b, j, () => take(smaller, 0, true, best))
  if (a.kind[i] === CYLINDER && b.kind[j] === CYLINDER) sideOn(smaller, 0, b, j, best)
  return best.mm < -HAIR_MM / 2
}

/** The element in `scratch` against a solid. */
function take(set: SolidSet, solidIndex: number, swapped: boolean, best: Best): void {
  const mm = elementDistance(scratch, 0, set, solidIndex, best.mm, answer)
  if (!(mm < best.mm)) return
  best.mm = mm
  write(best, answer, swapped, 0, 0)
}

/** Points out of an answer, each moved from its centreline to its tube's surface. */
function write(best: Best, from: Float64Array, swapped: boolean, curveRadius: number, otherRadius: number): void {
  const gap = [0, 1, 2].map((k) => from[ON_SOLID_X + k] - from[ON_CURVE_X + k]), size = Math.hypot(gap[0], gap[1], gap[2])
  const one: [number, number, number] = [0, 0, 0], two: [number, number, number] = [0, 0, 0]
  for (let k = 0; k < 3; k++) {
    const unit = size > 0 ? gap[k] / size : 0
    // within the other solid its surface is the far side of the duct's own
    one[k] = from[ON_CURVE_X + k] + (from[0] < 0 ? -1 : 1) * unit * curveRadius
    two[k] = from[ON_SOLID_X + k] - unit * otherRadius
  }
  best.first = swapped ? two : one
  best.second = swapped ? one : two
}

function tubeAgainst(tubes: SolidSet, tube: number, set: SolidSet, solidIndex: number, swapped: boolean, best: Best): void {
  const { data } = tubes, s = tubes.offset[tube], radius = data[s]
  let least = Infinity
  for (let n = 0, e = s + 2; n < data[s + 1]; n++, e += ELEMENT_STRIDE) {
    const mm = elementDistance(data, e, set, solidIndex, least, answer)
    if (!(mm < least)) continue
    least = mm
    write(best, answer, swapped, radius, 0)
  }
  best.mm = least - radius
}

function betweenTubes(a: SolidSet, i: number, b: SolidSet, j: number, best: Best): void {
  const s = a.offset[i], o = b.offset[j], radiusA = a.data[s], radiusB = b.data[o]
  let least = Infinity
  for (let n = 0, e = s + 2; n < a.data[s + 1]; n++, e += ELEMENT_STRIDE) {
    for (let m = 0, f = o + 2; m < b.data[o + 1]; m++, f += ELEMENT_STRIDE) {
      const mm = elementsDistance(a.data, e, b.data, f, least, pair)
      if (!(mm < least)) continue
      least = mm
      write(best, pair, false, radiusA, radiusB)
    }
  }
  best.mm = least - radiusA - radiusB
}

/** Writes each edge, rim and axis of a box, prism or cylinder to `scratch`, and calls `visit`. */
function eachEdge(set: SolidSet, solidIndex: number, visit: () => void): void {
  const { data } = set, s = set.offset[solidIndex]
  switch (set.kind[solidIndex]) {
    case BOX: return boxEdges(data, s, visit)
    case PRISM: return prismEdges(data, s, visit)
    case CYLINDER: return rims(data, s, visit)
    default: throw new Error(`eachEdge: solid ${solidIndex} is a tube, or of no known kind`)
  }
}

function boxEdges(data: Float64Array, s: number, visit: () => void): void {
  const at = (u: number, v: number, w: number, k: number): number => data[s + k] + u * data[s + 3] * data[s + 6 + k] + v * data[s + 4] * data[s + 9 + k] + w * data[s + 5] * data[s + 12 + k]
  for (const p of [-1, 1]) {
    for (const q of [-1, 1]) {
      for (const [from, to] of [[[-1, p, q], [1, p, q]], [[p, -1, q], [p, 1, q]], [[p, q, -1], [p, q, 1]]]) {
        const [a, b, c] = from, [d, e, f] = to
        writeLeg(scratch, 0, at(a, b, c, 0), at(a, b, c, 1), at(a, b, c, 2), at(d, e, f, 0), at(d, e, f, 1), at(d, e, f, 2), 0)
        visit()
      }
    }
  }
}

function prismEdges(data: Float64Array, s: number, visit: () => void): void {
  const at = (u: number, v: number, w: number, k: number): number => data[s + k] + u * data[s + 3 + k] + v * data[s + 6 + k] + w * data[s + 9 + k]
  const edge = (u0: number, v0: number, w0: number, u1: number, v1: number, w1: number): void => {
    writeLeg(scratch, 0, at(u0, v0, w0, 0), at(u0, v0, w0, 1), at(u0, v0, w0, 2), at(u1, v1, w1, 0), at(u1, v1, w1, 1), at(u1, v1, w1, 2), 0)
    visit()
  }
  const bottom = data[s + 12], top = data[s + 13]
  for (const ring of ringsOf(data, s)) {
    for (let i = 0; i < ring.length; i += 2) {
      const j = (i + 2) % ring.length
      edge(ring[i], ring[i + 1], bottom, ring[i], ring[i + 1], top)
      edge(ring[i], ring[i + 1], bottom, ring[j], ring[j + 1], bottom)
      edge(ring[i], ring[i + 1], top, ring[j], ring[j + 1], top)
    }
  }
}

function rims(data: Float64Array, s: number, visit: () => void): void {
  const axis = data.subarray(s + 3, s + 6), radius = data[s + 6], half = data[s + 7]
  const axes = axesAlong(axis)
  for (const side of [-half, half]) {
    const centre = [data[s] + side * axis[0], data[s + 1] + side * axis[1], data[s + 2] + side * axis[2]]
    writeArc(scratch, 0, centre, axes.slice(3, 6), axes.slice(6, 9), radius, 2 * Math.PI, 0)
    visit()
  }
  axisOf(data, s, scratch)
  visit()
}

function axisOf(data: Float64Array, s: number, out: Float64Array): void {
  const half = data[s + 7], [x, y, z] = [data[s + 3] * half, data[s + 4] * half, data[s + 5] * half]
  writeLeg(out, 0, data[s] - x, data[s + 1] - y, data[s + 2] - z, data[s] + x, data[s + 1] + y, data[s + 2] + z, 0)
}

/** Two rods whose sides face each other: where the common perpendicular of the axes meets both between their ends, the sides are nearest there. */
function sideOn(a: SolidSet, i: number, b: SolidSet, j: number, best: Best): void {
  const s = a.offset[i], o = b.offset[j]
  const ax = [a.data[s + 3], a.data[s + 4], a.data[s + 5]], bx = [b.data[o + 3], b.data[o + 4], b.data[o + 5]]
  const gap = [0, 1, 2].map((k) => b.data[o + k] - a.data[s + k])
  const dot = (p: readonly number[], q: readonly number[]): number => p[0] * q[0] + p[1] * q[1] + p[2] * q[2]
  const c = dot(ax, bx), sine = 1 - c * c
  if (sine < 1e-12) return
  const t = (dot(gap, ax) - c * dot(gap, bx)) / sine, u = (c * dot(gap, ax) - dot(gap, bx)) / sine
  if (Math.abs(t) > a.data[s + 7] || Math.abs(u) > b.data[o + 7]) return
  const on = [0, 1, 2].map((k) => a.data[s + k] + t * ax[k]), other = [0, 1, 2].map((k) => b.data[o + k] + u * bx[k])
  const between = Math.hypot(on[0] - other[0], on[1] - other[1], on[2] - other[2])
  const mm = between - a.data[s + 6] - b.data[o + 6]
  if (!(mm < best.mm)) return
  best.mm = mm
  const towards = [0, 1, 2].map((k) => between > 0 ? (other[k] - on[k]) / between : 0)
  best.first = [0, 1, 2].map((k) => on[k] + a.data[s + 6] * towards[k]) as [number, number, number]
  best.second = [0, 1, 2].map((k) => other[k] - b.data[o + 6] * towards[k]) as [number, number, number]
}
