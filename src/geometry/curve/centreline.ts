/**
 * Centrelines: a chain of straight legs and circular arcs packed in one Float64Array.
 * Millimetres and radians. Each element takes ELEMENT_STRIDE numbers; read them through the offsets below only.
 *
 * | offset | leg | arc |
 * | --- | --- | --- |
 * | KIND | 0 | 1 |
 * | START_X.. (3) | start point | start point |
 * | END_X.. (3) | end point | end point |
 * | LENGTH | length, mm | length, mm |
 * | STATION | distance of the start from the run's start, along the run, mm | same |
 * | CENTRE_X.. (3) | 0 | centre |
 * | RADIAL_X.. (3) | unit direction start -> end (0,0,0 for a zero-length leg) | unit vector centre -> start |
 * | TANGENT_X.. (3) | 0 | unit direction of travel at the start, square to RADIAL |
 * | RADIUS | 0 | radius, mm |
 * | TURN | 0 | angle turned, rad, in (0, 2*pi] |
 *
 * A point of an arc at angle t in [0, TURN] is CENTRE + RADIUS * (cos t * RADIAL + sin t * TANGENT).
 */
export const ELEMENT_STRIDE = 20
export const KIND = 0
export const START_X = 1
export const END_X = 4
export const LENGTH = 7
export const STATION = 8
export const CENTRE_X = 9
export const RADIAL_X = 12
export const TANGENT_X = 15
export const RADIUS = 18
export const TURN = 19

export const LEG = 0
export const ARC = 1

export interface Centreline {
  /** number of elements */
  readonly count: number
  /** count * ELEMENT_STRIDE numbers */
  readonly elements: Float64Array
  /** whole length, mm */
  readonly lengthMm: number
}
