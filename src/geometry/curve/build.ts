import {
  ARC, CENTRE_X, ELEMENT_STRIDE, END_X, KIND, LEG, LENGTH, RADIAL_X, RADIUS, START_X, STATION, TANGENT_X, TURN,
} from './centreline.ts'
import type { Centreline } from './centreline.ts'

type Vector = ArrayLike<number>

/**
 * Write a straight leg at offset `e`. A leg whose two ends are the same point gets no direction (0, 0, 0).
 * @param stationMm distance of its start from the run's start, along the run
 */
export function writeLeg(
  elements: Float64Array, e: number,
  x0: number, y0: number, z0: number, x1: number, y1: number, z1: number, stationMm: number,
): void {
  const dx = x1 - x0, dy = y1 - y0, dz = z1 - z0
  const length = Math.hypot(dx, dy, dz)
  elements.fill(0, e, e + ELEMENT_STRIDE)
  elements[e + KIND] = LEG
  elements[e + START_X] = x0
  elements[e + START_X + 1] = y0
  elements[e + START_X + 2] = z0
  elements[e + END_X] = x1
  elements[e + END_X + 1] = y1
  elements[e + END_X + 2] = z1
  elements[e + LENGTH] = length
  elements[e + STATION] = stationMm
  if (length > 0) {
    elements[e + RADIAL_X] = dx / length
    elements[e + RADIAL_X + 1] = dy / length
    elements[e + RADIAL_X + 2] = dz / length
  }
}

/**
 * Write a circular arc at offset `e`.
 * @param radial unit vector, centre to start
 * @param tangent unit direction of travel at the start, square to `radial`
 * @param turnRad angle turned, in (0, 2*pi]
 * @param stationMm distance of its start from the run's start, along the run
 */
export function writeArc(
  elements: Float64Array, e: number, centre: Vector, radial: Vector, tangent: Vector,
  radius: number, turnRad: number, stationMm: number,
): void {
  const c = Math.cos(turnRad) * radius, s = Math.sin(turnRad) * radius
  elements[e + KIND] = ARC
  elements[e + LENGTH] = radius * turnRad
  elements[e + STATION] = stationMm
  elements[e + RADIUS] = radius
  elements[e + TURN] = turnRad
  for (let k = 0; k < 3; k++) {
    elements[e + START_X + k] = centre[k] + radius * radial[k]
    elements[e + END_X + k] = centre[k] + c * radial[k] + s * tangent[k]
    elements[e + CENTRE_X + k] = centre[k]
    elements[e + RADIAL_X + k] = radial[k]
    elements[e + TANGENT_X + k] = tangent[k]
  }
}

/** The first `count` packed elements as a centreline; its length runs from the first element's station to the last one's end. */
export function centrelineOf(elements: Float64Array, count = elements.length / ELEMENT_STRIDE): Centreline {
  if (!Number.isInteger(count) || count < 1) throw new Error(`centrelineOf: a run has at least one element, got ${count}`)
  const last = (count - 1) * ELEMENT_STRIDE
  return {
    count,
    elements: elements.length === count * ELEMENT_STRIDE ? elements : elements.slice(0, count * ELEMENT_STRIDE),
    lengthMm: elements[last + STATION] + elements[last + LENGTH] - elements[STATION],
  }
}

/** One straight leg as a whole centreline. */
export function straightRun(from: Vector, to: Vector): Centreline {
  const elements = new Float64Array(ELEMENT_STRIDE)
  writeLeg(elements, 0, from[0], from[1], from[2], to[0], to[1], to[2], 0)
  return centrelineOf(elements)
}
