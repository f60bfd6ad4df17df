import { SAME_POINT_MM } from '../tolerance.ts'
import { centrelineOf, writeArc, writeLeg } from './build.ts'
import {
  ARC, CENTRE_X, ELEMENT_STRIDE, END_X, KIND, LENGTH, RADIAL_X, RADIUS, START_X, STATION, TANGENT_X, TURN,
} from './centreline.ts'
import type { Centreline } from './centreline.ts'

type Out = Float64Array | number[]

/** The point at a station (clamped to the run), written to out[0..2], mm. */
export function pointAt(curve: Centreline, stationMm: number, out: Out): void {
  const e = elementAt(curve, stationMm) * ELEMENT_STRIDE
  pointOfElement(curve.elements, e, stationMm - curve.elements[e + STATION], out)
}

/** Unit direction of travel at a station (clamped to the run), written to out[0..2]; 0, 0, 0 on a leg without length. */
export function directionAt(curve: Centreline, stationMm: number, out: Out): void {
  const { elements } = curve
  const e = elementAt(curve, stationMm) * ELEMENT_STRIDE
  if (elements[e + KIND] !== ARC) {
    for (let k = 0; k < 3; k++) out[k] = elements[e + RADIAL_X + k]
    return
  }
  const t = angleAlong(elements, e, stationMm - elements[e + STATION])
  const c = Math.cos(t), s = Math.sin(t)
  for (let k = 0; k < 3; k++) out[k] = c * elements[e + TANGENT_X + k] - s * elements[e + RADIAL_X + k]
}

/** Which element holds a station: the later of two that meet there; the first or last beyond the ends. */
export function elementAt(curve: Centreline, stationMm: number): number {
  let low = 0, high = curve.count - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if (curve.elements[middle * ELEMENT_STRIDE + STATION] <= stationMm) low = middle
    else high = middle - 1
  }
  return low
}

/** The point of one element `alongMm` from its start (clamped to the element), written to out[0..2], mm. */
export function pointOfElement(elements: Float64Array, e: number, alongMm: number, out: Out): void {
  const length = elements[e + LENGTH]
  if (!(alongMm > 0) || !(alongMm < length)) {
    const end = alongMm > 0 ? END_X : START_X
    for (let k = 0; k < 3; k++) out[k] = elements[e + end + k]
  } else if (elements[e + KIND] === ARC) {
    const t = alongMm / elements[e + RADIUS]
    const c = elements[e + RADIUS] * Math.cos(t), s = elements[e + RADIUS] * Math.sin(t)
    for (let k = 0; k < 3; k++) {
      out[k] = elements[e + CENTRE_X + k] + c * elements[e + RADIAL_X + k] + s * elements[e + TANGENT_X + k]
    }
  } else {
    for (let k = 0; k < 3; k++) out[k] = elements[e + START_X + k] + alongMm * elements[e + RADIAL_X + k]
  }
}

/** The stretch between two stations (clamped to the run), its parts keeping the stations of the whole run. A point when from >= to. */
export function clipped(curve: Centreline, fromMm: number, toMm: number): Centreline {
  const { elements } = curve
  const first = elements[STATION], last = first + curve.lengthMm
  const from = Math.min(Math.max(fromMm, first), last), to = Math.min(Math.max(toMm, first), last)
  const out = new Float64Array(curve.count * ELEMENT_STRIDE)
  const a = [0, 0, 0], b = [0, 0, 0]
  let count = 0
  for (let e = 0; e < elements.length; e += ELEMENT_STRIDE) {
    const station = elements[e + STATION], length = elements[e + LENGTH]
    const start = Math.max(from - station, 0), end = Math.min(to - station, length)
    if (end - start <= SAME_POINT_MM) continue
    const o = count++ * ELEMENT_STRIDE
    if (start === 0 && end === length) {
      out.set(elements.subarray(e, e + ELEMENT_STRIDE), o)
      continue
    }
    pointOfElement(elements, e, start, a)
    pointOfElement(elements, e, end, b)
    if (elements[e + KIND] === ARC) writeArcStretch(elements, e, start, end, out, o)
    else writeLeg(out, o, a[0], a[1], a[2], b[0], b[1], b[2], station + start)
    for (let k = 0; k < 3; k++) {
      out[o + START_X + k] = a[k]
      out[o + END_X + k] = b[k]
    }
  }
  if (count === 0) {
    pointAt(curve, from, a)
    writeLeg(out, 0, a[0], a[1], a[2], a[0], a[1], a[2], from)
    count = 1
  }
  return centrelineOf(out, count)
}

/** Exact bounds of every element, 6 numbers each as elementBounds gives them, and at the end those of the whole; for a curve of nothing from +Infinity to -Infinity. */
export function curveBounds(elements: Float64Array, count: number): Float64Array {
  const bounds = new Float64Array(6 * count + 6)
  const whole = bounds.subarray(6 * count)
  whole.set([Infinity, Infinity, Infinity, -Infinity, -Infinity, -Infinity])
  for (let i = 0; i < count; i++) {
    const own = bounds.subarray(6 * i, 6 * i + 6)
    elementBounds(elements, i * ELEMENT_STRIDE, own)
    for (let k = 0; k < 3; k++) {
      whole[k] = Math.min(whole[k], own[k])
      whole[3 + k] = Math.max(whole[3 + k], own[3 + k])
    }
  }
  return bounds
}

/** Exact axis-aligned bounds of one element: minX, minY, minZ, maxX, maxY, maxZ, mm. */
export function elementBounds(elements: Float64Array, e: number, out6: Out): void {
  const isArc = elements[e + KIND] === ARC
  const turn = elements[e + TURN], isShort = turn < Math.PI
  const cosine = isArc ? Math.cos(turn) : 1, sine = isArc ? Math.sin(turn) : 0
  for (let k = 0; k < 3; k++) {
    const start = elements[e + START_X + k], end = elements[e + END_X + k]
    let low = start < end ? start : end, high = start < end ? end : start
    if (isArc) {
      // the coordinate is centre + reach * cos(t - peak); short of half a turn it turns back once at most, between two opposite slopes
      const radial = elements[e + RADIAL_X + k], tangent = elements[e + TANGENT_X + k]
      const endSlope = tangent * cosine - radial * sine
      const peak = isShort ? 0 : Math.atan2(tangent, radial)
      if (isShort ? tangent > 0 && endSlope < 0 : turnsPast(peak, turn)) {
        high = Math.max(high, elements[e + CENTRE_X + k] + elements[e + RADIUS] * Math.sqrt(radial * radial + tangent * tangent))
      }
      if (isShort ? tangent < 0 && endSlope > 0 : turnsPast(peak + Math.PI, turn)) {
        low = Math.min(low, elements[e + CENTRE_X + k] - elements[e + RADIUS] * Math.sqrt(radial * radial + tangent * tangent))
      }
    }
    out6[k] = low
    out6[3 + k] = high
  }
}

/** The same run walked from its other end; stations count from there. */
export function reversed(curve: Centreline): Centreline {
  const { elements, count, lengthMm } = curve
  const out = new Float64Array(count * ELEMENT_STRIDE)
  const far = 2 * elements[STATION] + lengthMm
  for (let i = 0; i < count; i++) {
    const e = (count - 1 - i) * ELEMENT_STRIDE, o = i * ELEMENT_STRIDE
    out.set(elements.subarray(e, e + ELEMENT_STRIDE), o)
    out[o + STATION] = far - elements[e + STATION] - elements[e + LENGTH]
    const turn = elements[e + TURN], c = Math.cos(turn), s = Math.sin(turn)
    for (let k = 0; k < 3; k++) {
      const radial = elements[e + RADIAL_X + k], tangent = elements[e + TANGENT_X + k]
      out[o + START_X + k] = elements[e + END_X + k]
      out[o + END_X + k] = elements[e + START_X + k]
      out[o + RADIAL_X + k] = elements[e + KIND] === ARC ? c * radial + s * tangent : -radial
      out[o + TANGENT_X + k] = elements[e + KIND] === ARC ? s * radial - c * tangent : 0
    }
  }
  return { count, elements: out, lengthMm }
}

/**
 * The run after a rigid motion.
 * @param matrix4x3 12 numbers: the images of the x, y and z directions (as axesOfRotation gives them), then the shift, mm
 */
export function moved(curve: Centreline, matrix4x3: ArrayLike<number>): Centreline {
  const out = curve.elements.slice()
  const isPoint = [START_X, END_X, CENTRE_X], isDirection = [RADIAL_X, TANGENT_X]
  for (let e = 0; e < out.length; e += ELEMENT_STRIDE) {
    const isArc = out[e + KIND] === ARC
    for (const at of isPoint) if (isArc || at !== CENTRE_X) turn(out, e + at, matrix4x3, 1)
    for (const at of isDirection) turn(out, e + at, matrix4x3, 0)
  }
  return { count: curve.count, elements: out, lengthMm: curve.lengthMm }
}

function turn(xyz: Float64Array, i: number, m: ArrayLike<number>, shift: number): void {
  const x = xyz[i], y = xyz[i + 1], z = xyz[i + 2]
  for (let k = 0; k < 3; k++) xyz[i + k] = m[k] * x + m[3 + k] * y + m[6 + k] * z + shift * m[9 + k]
}

function writeArcStretch(from: Float64Array, e: number, startMm: number, endMm: number, out: Float64Array, o: number): void {
  const radius = from[e + RADIUS]
  const t = startMm / radius, c = Math.cos(t), s = Math.sin(t)
  const centre = [0, 0, 0], radial = [0, 0, 0], tangent = [0, 0, 0]
  for (let k = 0; k < 3; k++) {
    centre[k] = from[e + CENTRE_X + k]
    radial[k] = c * from[e + RADIAL_X + k] + s * from[e + TANGENT_X + k]
    tangent[k] = c * from[e + TANGENT_X + k] - s * from[e + RADIAL_X + k]
  }
  writeArc(out, o, centre, radial, tangent, radius, (endMm - startMm) / radius, from[e + STATION] + startMm)
}

function angleAlong(elements: Float64Array, e: number, alongMm: number): number {
  return Math.min(Math.max(alongMm / elements[e + RADIUS], 0), elements[e + TURN])
}

/** Whether an arc starting at 0 and turning by `turnRad` passes the direction `angleRad` (any turn of it). */
function turnsPast(angleRad: number, turnRad: number): boolean {
  const wrapped = angleRad - 2 * Math.PI * Math.floor(angleRad / (2 * Math.PI))
  return wrapped < turnRad
}
