import {
  ARC, CENTRE_X, ELEMENT_STRIDE, END_X, KIND, LENGTH, RADIAL_X, RADIUS, START_X, TANGENT_X, TURN,
} from '../curve/centreline.ts'
import { SAME_POINT_MM, STRAIGHT_RAD } from '../tolerance.ts'
import { axesAlong } from '../solid/rotation.ts'
import { sidesOfCircle } from './meshBuilder.ts'

export type Vector = [number, number, number]

/** A section of a tube: its centre, the direction of travel, and two directions square to it that carry its corners. */
export interface Section {
  readonly centre: Vector
  readonly forward: Vector
  readonly right: Vector
  readonly up: Vector
}

/**
 * The sections a tube is strung over: one at each end of a leg, as many along a bend as keep its outer side within `errorMm`,
 * and at a sharp corner a fan of them about the corner, so that the outside of the corner is round.
 * The frame only turns with the path and never about it, so the tube does not twist.
 * @param count elements, packed at offset `e` of `elements`
 */
export function tubeSections(elements: Float64Array, e: number, count: number, radius: number, errorMm: number): Section[] {
  const sections: Section[] = []
  for (let i = 0; i < count; i++, e += ELEMENT_STRIDE) {
    const isArc = elements[e + KIND] === ARC
    if (!isArc && elements[e + LENGTH] <= SAME_POINT_MM && count > 1) continue
    const start = vectorAt(elements, e + START_X), end = vectorAt(elements, e + END_X)
    const forward = vectorAt(elements, e + (isArc ? TANGENT_X : RADIAL_X))
    if (sections.length === 0) sections.push(firstSection(start, forward))
    else turnTo(sections, forward, start, radius, errorMm)
    const before = sections[sections.length - 1]
    if (!isArc) {
      sections.push({ ...before, centre: end })
      continue
    }
    const radial = vectorAt(elements, e + RADIAL_X), turnRad = elements[e + TURN]
    const axis = cross(radial, forward)
    const steps = sidesOfCircle(elements[e + RADIUS] + radius, turnRad, errorMm, 1)
    for (let k = 1; k <= steps; k++) {
      const section = turned(before, axis, turnRad * k / steps)
      const out = turned({ ...before, forward: radial }, axis, turnRad * k / steps).forward
      const centre: Vector = k === steps ? end : [
        elements[e + CENTRE_X] + elements[e + RADIUS] * out[0],
        elements[e + CENTRE_X + 1] + elements[e + RADIUS] * out[1],
        elements[e + CENTRE_X + 2] + elements[e + RADIUS] * out[2],
      ]
      sections.push({ ...section, centre })
    }
  }
  return sections
}

function firstSection(centre: Vector, forward: Vector): Section {
  const hasDirection = forward[0] !== 0 || forward[1] !== 0 || forward[2] !== 0
  const [fx, fy, fz, rx, ry, rz, ux, uy, uz] = axesAlong(hasDirection ? forward : [1, 0, 0])
  return { centre, forward: [fx, fy, fz], right: [rx, ry, rz], up: [ux, uy, uz] }
}

/** Add the fan that turns the last section to a new direction on the spot; nothing when it already points there. */
function turnTo(sections: Section[], forward: Vector, centre: Vector, radius: number, errorMm: number): void {
  const last = sections[sections.length - 1]
  const axis = cross(last.forward, forward)
  const sine = Math.hypot(axis[0], axis[1], axis[2])
  const turnRad = Math.atan2(sine, dot(last.forward, forward))
  if (turnRad < STRAIGHT_RAD) return
  const unit: Vector = sine > STRAIGHT_RAD ? [axis[0] / sine, axis[1] / sine, axis[2] / sine] : last.up
  const steps = sidesOfCircle(radius, turnRad, errorMm, 1)
  for (let k = 1; k <= steps; k++) sections.push({ ...turned(last, unit, turnRad * k / steps), centre })
}

/** A section turned about a unit axis (Rodrigues's rotation formula), its centre left where it is. */
function turned(section: Section, axis: Vector, angleRad: number): Section {
  const c = Math.cos(angleRad), s = Math.sin(angleRad)
  const turn = (v: Vector): Vector => {
    const across = cross(axis, v), along = dot(axis, v) * (1 - c)
    return [v[0] * c + across[0] * s + axis[0] * along, v[1] * c + across[1] * s + axis[1] * along, v[2] * c + across[2] * s + axis[2] * along]
  }
  return { centre: section.centre, forward: turn(section.forward), right: turn(section.right), up: turn(section.up) }
}

function vectorAt(elements: Float64Array, i: number): Vector {
  return [elements[i], elements[i + 1], elements[i + 2]]
}

function cross(a: Vector, b: Vector): Vector {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

function dot(a: Vector, b: Vector): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}
