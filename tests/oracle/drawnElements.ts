/** Seeded random legs, arcs and solids in the packed layouts of src, for tests. */
import { ARC, CENTRE_X, ELEMENT_STRIDE, END_X, KIND, LEG, LENGTH, RADIAL_X, RADIUS, START_X, TANGENT_X, TURN } from '#geometry/curve/centreline.ts'
import { seeded } from './seeded.ts'

export { seeded }

export type Vec = [number, number, number]
export const add = (a: Vec, b: Vec, k = 1): Vec => [a[0] + k * b[0], a[1] + k * b[1], a[2] + k * b[2]]
export const scale = (a: Vec, k: number): Vec => [a[0] * k, a[1] * k, a[2] * k]
export const cross = (a: Vec, b: Vec): Vec => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
export const unit = (a: Vec): Vec => scale(a, 1 / Math.hypot(...a))

export type Draw = () => number
export const between = (draw: Draw, low: number, high: number) => low + draw() * (high - low)
export const pick = <T>(draw: Draw, list: readonly T[]): T => list[Math.floor(draw() * list.length)]

export const direction = (draw: Draw): Vec => {
  const z = between(draw, -1, 1), turn = between(draw, 0, 2 * Math.PI), r = Math.sqrt(1 - z * z)
  return [r * Math.cos(turn), r * Math.sin(turn), z]
}
/** Right-handed unit axes: along the world's as often as not, since that is where degenerate cases live. */
export const axes = (draw: Draw): [Vec, Vec, Vec] => {
  if (draw() < 0.4) return pick<[Vec, Vec, Vec]>(draw, [
    [[1, 0, 0], [0, 1, 0], [0, 0, 1]], [[0, 1, 0], [0, 0, 1], [1, 0, 0]], [[0, 0, -1], [0, 1, 0], [1, 0, 0]], [[-1, 0, 0], [0, -1, 0], [0, 0, 1]],
  ])
  const u = direction(draw)
  const v = unit(cross(u, direction(draw)))
  return [u, v, cross(u, v)]
}

export const legFrom = (start: Vec, end: Vec): Float64Array => {
  const el = new Float64Array(ELEMENT_STRIDE)
  const length = Math.hypot(end[0] - start[0], end[1] - start[1], end[2] - start[2])
  el[KIND] = LEG
  el.set(start, START_X)
  el.set(end, END_X)
  el[LENGTH] = length
  if (length > 0) el.set(scale(add(end, start, -1), 1 / length), RADIAL_X)
  return el
}
export const arcFrom = (centre: Vec, radial: Vec, tangent: Vec, radius: number, turn: number): Float64Array => {
  const el = new Float64Array(ELEMENT_STRIDE)
  el[KIND] = ARC
  el.set(add(centre, radial, radius), START_X)
  el.set(add(add(centre, radial, radius * Math.cos(turn)), tangent, radius * Math.sin(turn)), END_X)
  el[LENGTH] = radius * turn
  el.set(centre, CENTRE_X)
  el.set(radial, RADIAL_X)
  el.set(tangent, TANGENT_X)
  el[RADIUS] = radius
  el[TURN] = turn
  return el
}
/** The same element travelled the other way. */
export const reversed = (el: Float64Array): Float64Array => {
  const three = (at: number): Vec => [el[at], el[at + 1], el[at + 2]]
  if (el[KIND] === LEG) return legFrom(three(END_X), three(START_X))
  const c = Math.cos(el[TURN]), s = Math.sin(el[TURN])
  const radial = add(scale(three(RADIAL_X), c), three(TANGENT_X), s)
  const tangent = add(scale(three(RADIAL_X), s), three(TANGENT_X), -c)
  return arcFrom(three(CENTRE_X), radial, tangent, el[RADIUS], el[TURN])
}

/** A leg near `origin` within about `reach`; now and then of no length, or along an axis of `frame`. */
export const drawLeg = (draw: Draw, origin: Vec, reach: number, frame: [Vec, Vec, Vec]): Float64Array => {
  const near = (): Vec => frame.reduce((p, axis) => add(p, axis, pick(draw, [1, 1, 1, 0, 0.5]) * between(draw, -reach, reach)), origin)
  const start = near()
  const kind = draw()
  if (kind < 0.05) return legFrom(start, start)
  if (kind < 0.35) return legFrom(start, add(start, pick(draw, frame), between(draw, -2, 2) * reach))
  if (kind < 0.5) return legFrom(start, add(start, direction(draw), reach * 10 ** between(draw, -7, 0.5)))
  return legFrom(start, near())
}
/** An arc near `origin`; now and then a half or whole turn, or square to an axis of `frame`. */
export const drawArc = (draw: Draw, origin: Vec, reach: number, frame: [Vec, Vec, Vec]): Float64Array => {
  const centre = frame.reduce((p, axis) => add(p, axis, pick(draw, [1, 1, 0, 0.5]) * between(draw, -reach, reach)), origin)
  let [radial, tangent] = axes(draw)
  if (draw() < 0.5) {
    const start = Math.floor(draw() * 3), turn = pick(draw, [0, Math.PI / 2, Math.PI, between(draw, 0, 7)])
    const u = frame[start], v = frame[(start + 1) % 3]
    radial = add(scale(u, Math.cos(turn)), v, Math.sin(turn))
    tangent = add(scale(u, -Math.sin(turn)), v, Math.cos(turn))
  }
  const radius = reach * pick(draw, [between(draw, 0.1, 1.5), 0.5, 10 ** between(draw, -4, 0.5)])
  const turn = pick(draw, [Math.PI / 2, Math.PI, 2 * Math.PI, between(draw, 0.01, 2 * Math.PI), between(draw, 0.01, Math.PI / 2), 1e-5])
  return arcFrom(centre, radial, tangent, radius, turn)
}
