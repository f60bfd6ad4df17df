/**
 * A piece of centreline seen from a round hole, as rational quadratics of one parameter u: a leg as it is, an arc of up to a quarter
 * turn through the tangent of half its angle. In mm; the hole is given by its middle, unit axis, half length and radius.
 *
 * Key: W(u) weight (1, or 1 + u^2); N / W axial offset from the hole's middle; Q / W^2 square of the radial offset.
 */
import {
  ARC, CENTRE_X, ELEMENT_STRIDE, KIND, LENGTH, RADIAL_X, RADIUS, START_X, STATION, TANGENT_X,
} from '../curve/centreline.ts'
import type { Centreline } from '../curve/centreline.ts'
import { product, rootsBetween, sum } from './polynomial.ts'
import type { Polynomial } from './polynomial.ts'

type Vector = ArrayLike<number>

export interface RoundPiece {
  readonly low: number
  readonly high: number
  readonly weight: Polynomial
  readonly axial: Polynomial
  readonly radialSquare: Polynomial
  stationOf(u: number): number
}

const QUARTER_TURN = Math.PI / 2

/** Calls `take` with each piece of the stretch between two stations; parts without length are left out. */
export function eachRoundPiece(
  curve: Centreline, at3: Vector, axis3: Vector, fromMm: number, toMm: number, take: (piece: RoundPiece) => void,
): void {
  const { elements } = curve
  for (let e = 0; e < elements.length; e += ELEMENT_STRIDE) {
    const station = elements[e + STATION]
    const from = Math.max(fromMm - station, 0), to = Math.min(toMm - station, elements[e + LENGTH])
    if (!(to > from)) continue
    const pieces = elements[e + KIND] === ARC ? Math.max(Math.ceil((to - from) / (elements[e + RADIUS] * QUARTER_TURN)), 1) : 1
    for (let i = 0; i < pieces; i++) {
      const start = from + (to - from) * (i / pieces), end = from + (to - from) * ((i + 1) / pieces)
      take(elements[e + KIND] === ARC ? arcPiece(elements, e, start, end, at3, axis3) : legPiece(elements, e, start, end, at3, axis3))
    }
  }
}

/** Where the piece's axial offset is `offsetMm`. */
export function atAxial(piece: RoundPiece, offsetMm: number): number[] {
  return rootsBetween(sum(piece.axial, piece.weight, -offsetMm), piece.low, piece.high)
}

function legPiece(elements: Float64Array, e: number, start: number, end: number, at3: Vector, axis3: Vector): RoundPiece {
  const middle = (start + end) / 2, half = (end - start) / 2
  const offset = [0, 1, 2].map(k => elements[e + START_X + k] + middle * elements[e + RADIAL_X + k] - at3[k])
  const step = [0, 1, 2].map(k => half * elements[e + RADIAL_X + k])
  const station = elements[e + STATION]
  return pieceOf([offset, step], [1], 1, axis3, u => station + middle + half * u)
}

function arcPiece(elements: Float64Array, e: number, start: number, end: number, at3: Vector, axis3: Vector): RoundPiece {
  const radius = elements[e + RADIUS], middle = (start + end) / 2
  const c = Math.cos(middle / radius), s = Math.sin(middle / radius)
  // cos w = (1 - u^2) / (1 + u^2), sin w = 2u / (1 + u^2), w the angle from the piece's middle
  const constant: number[] = [], linear: number[] = [], square: number[] = []
  for (let k = 0; k < 3; k++) {
    const radial = elements[e + RADIAL_X + k], tangent = elements[e + TANGENT_X + k]
    const centre = elements[e + CENTRE_X + k] - at3[k]
    constant.push(centre + radius * (c * radial + s * tangent))
    linear.push(2 * radius * (c * tangent - s * radial))
    square.push(centre - radius * (c * radial + s * tangent))
  }
  const station = elements[e + STATION]
  const limit = Math.tan((end - start) / radius / 4)
  return pieceOf([constant, linear, square], [1, 0, 1], limit, axis3, u => station + middle + 2 * radius * Math.atan(u))
}

/** @param vectors the offset from the hole's middle times the weight: a vector for each power of u */
function pieceOf(
  vectors: readonly Vector[], weight: Polynomial, limit: number, axis3: Vector, stationOf: (u: number) => number,
): RoundPiece {
  const axial = vectors.map(v => v[0] * axis3[0] + v[1] * axis3[1] + v[2] * axis3[2])
  let radialSquare: number[] = [0]
  for (let k = 0; k < 3; k++) {
    const across = vectors.map((v, i) => v[k] - axial[i] * axis3[k])
    radialSquare = sum(radialSquare, product(across, across))
  }
  return { low: -limit, high: limit, weight, axial, radialSquare, stationOf }
}
