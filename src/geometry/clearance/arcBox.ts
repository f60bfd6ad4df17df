/**
 * Circular arc against an oriented box. In the box's frame each coordinate is a + b cos t + c sin t. Where a coordinate
 * crosses a face plane the nearest feature of the box changes, so the arc is cut there; on each stretch the nearest
 * feature is one face, edge or corner, or the stretch is inside, and every local least value has a closed form (a face:
 * a turning point of one coordinate; a corner: the foot on the circle; an edge: nearestAngles; inside: turning points
 * and ties of the six face distances). Every candidate's distance is taken from the point itself, so none is ever too low.
 */
import { CENTRE_X, END_X, LENGTH, RADIAL_X, RADIUS, TANGENT_X, TURN } from '../curve/centreline.ts'
import { SAME_POINT_MM } from '../tolerance.ts'
import { addCut, cutAngles, cutCount, startCuts } from './angleCuts.ts'
import { ALONG, ON_CURVE_X, type PairKernel } from './answer.ts'
import { NEAREST_IN, NEAREST_OUT, nearestAngles } from './nearestAngles.ts'
import { nearestOnBox } from './nearestOnBox.ts'

const TWO_PI = 2 * Math.PI
/** per axis of the box: the coordinate's middle a and its parts b, c, the half size h, the swing sqrt(b^2 + c^2) and the angle of its top */
const A = new Float64Array(3), B = new Float64Array(3), C = new Float64Array(3), H = new Float64Array(3)
const SWING = new Float64Array(3), TOP = new Float64Array(3)
/** bounds of each coordinate over the arc */
const LOW = new Float64Array(3), HIGH = new Float64Array(3)
const SIDE = new Int8Array(3)
/** distances at the cuts (two ends, and at most three for each of six faces), and the cosines and sines of their angles */
const atCut = new Float64Array(20), COSINE = new Float64Array(20), SINE = new Float64Array(20)
const POINT = new Float64Array(3)
/** the arc's radius, the cutoff, the least distance so far and its angle: numbers kept in plain variables of a module are boxed anew at each change */
const STATE = new Float64Array(4)
const ARC_RADIUS = 0, CUTOFF = 1, LEAST = 2, LEAST_ANGLE = 3

/** @returns signed distance of the arc's point at angle `t`, whose coordinates are given */
const judge = (x: number, y: number, z: number, t: number): number => {
  const bx = Math.abs(x) - H[0], by = Math.abs(y) - H[1], bz = Math.abs(z) - H[2]
  let squared = 0, face = bx
  if (bx > 0) squared = bx * bx
  if (by > 0) squared += by * by
  if (bz > 0) squared += bz * bz
  if (by > face) face = by
  if (bz > face) face = bz
  const distance = face > 0 ? Math.sqrt(squared) : face
  if (distance < STATE[LEAST]) {
    STATE[LEAST] = distance
    STATE[LEAST_ANGLE] = t
  }
  return distance
}

/** The same, coordinates and all. */
const look = (t: number): number => {
  const cosine = Math.cos(t), sine = Math.sin(t)
  return judge(A[0] + B[0] * cosine + C[0] * sine, A[1] + B[1] * cosine + C[1] * sine, A[2] + B[2] * cosine + C[2] * sine, t)
}

/** Cuts the arc where a coordinate crosses the plane of a face, or only touches it (as addCrossings does, with what is known here already). */
const cutWhere = (i: number, face: number): void => {
  if (face < LOW[i] - SAME_POINT_MM || face > HIGH[i] + SAME_POINT_MM) return
  const offset = face - A[i], spare = SWING[i] - Math.abs(offset)
  if (!(spare >= -SAME_POINT_MM)) return
  if (spare <= SAME_POINT_MM) addCut(offset > 0 ? TOP[i] : TOP[i] + Math.PI)
  if (!(spare > 0)) return
  const half = Math.acos(offset / SWING[i])
  addCut(TOP[i] + half)
  addCut(TOP[i] - half)
}

/** Looks at `angle` if, by whole turns, it falls strictly between two angles of the arc. */
const lookBetween = (angle: number, from: number, to: number): void => {
  let t = angle
  while (t < from) t += TWO_PI
  while (t - TWO_PI > from) t -= TWO_PI
  if (t > from && t < to) look(t)
}

/** Looks where a + b cos t + c sin t = 0. */
const lookWhereZero = (a: number, b: number, c: number, from: number, to: number): void => {
  const swing = Math.sqrt(b * b + c * c)
  if (!(Math.abs(a) < swing)) return
  const middle = Math.atan2(c, b), half = Math.acos(-a / swing)
  lookBetween(middle + half, from, to)
  lookBetween(middle - half, from, to)
}

/** The largest of six waves is least at a turning point of one or where two are equal. */
const lookInside = (from: number, to: number): void => {
  for (let i = 0; i < 3; i++) {
    lookBetween(TOP[i], from, to)
    lookBetween(TOP[i] + Math.PI, from, to)
    lookWhereZero(A[i], B[i], C[i], from, to)
    const j = i < 2 ? i + 1 : 0
    const spare = H[i] - H[j]
    lookWhereZero(A[i] - A[j] - spare, B[i] - B[j], C[i] - C[j], from, to)
    lookWhereZero(A[i] - A[j] + spare, B[i] - B[j], C[i] - C[j], from, to)
    lookWhereZero(A[i] + A[j] - spare, B[i] + B[j], C[i] + C[j], from, to)
    lookWhereZero(A[i] + A[j] + spare, B[i] + B[j], C[i] + C[j], from, to)
  }
}

/** A stretch beyond two faces (an edge, lying along axis `free`) or three (a corner, `free` = -1). */
const lookOutside = (free: number, from: number, to: number): void => {
  let k = 0, cosine = 1, sine = 0, top = 0
  if (free >= 0 && SWING[free] > 0) {
    k = SWING[free] * SWING[free]
    cosine = B[free] / SWING[free]
    sine = C[free] / SWING[free]
    top = TOP[free]
  }
  let m = 0, n = 0
  for (let i = 0; i < 3; i++) {
    if (i === free) continue
    const a = A[i] - SIDE[i] * H[i]
    m += a * (C[i] * cosine - B[i] * sine)
    n -= a * (B[i] * cosine + C[i] * sine)
  }
  NEAREST_IN[0] = k
  NEAREST_IN[1] = m
  NEAREST_IN[2] = n
  const found = nearestAngles()
  lookBetween(top + NEAREST_OUT[0], from, to)
  if (found > 1) lookBetween(top + NEAREST_OUT[1], from, to)
}

/** The stretch from cut k - 1 to cut k. */
const lookOver = (k: number): void => {
  const from = cutAngles[k - 1], to = cutAngles[k], middle = 0.5 * (from + to)
  // the middle's direction lies between those of the two ends, while they are not nearly opposite
  let cosine = COSINE[k - 1] + COSINE[k], sine = SINE[k - 1] + SINE[k]
  const size = Math.sqrt(cosine * cosine + sine * sine)
  if (to - from < 2 && size > 1) {
    cosine /= size
    sine /= size
  } else {
    cosine = Math.cos(middle)
    sine = Math.sin(middle)
  }
  const x = A[0] + B[0] * cosine + C[0] * sine, y = A[1] + B[1] * cosine + C[1] * sine, z = A[2] + B[2] * cosine + C[2] * sine
  const distance = judge(x, y, z, middle)
  // distances change by no more than the way between two points, so no point of either half is nearer than this
  const nearerEnd = Math.min(atCut[k - 1], atCut[k])
  if (0.5 * (distance + nearerEnd - 0.5 * STATE[ARC_RADIUS] * (to - from)) > Math.min(STATE[LEAST], STATE[CUTOFF])) return
  POINT[0] = x
  POINT[1] = y
  POINT[2] = z
  let beyond = 0, last = 0, free = -1
  for (let i = 0; i < 3; i++) {
    SIDE[i] = POINT[i] > H[i] ? 1 : POINT[i] < -H[i] ? -1 : 0
    if (SIDE[i] === 0) free = i
    else {
      beyond++
      last = i
    }
  }
  if (beyond === 0) lookInside(from, to)
  else if (STATE[LEAST] < 0) return
  else if (beyond === 1) lookBetween(SIDE[last] > 0 ? TOP[last] + Math.PI : TOP[last], from, to)
  else lookOutside(beyond === 2 ? free : -1, from, to)
}

/**
 * Least signed distance, mm, of a circular arc to a box (layouts: curve/centreline.ts, solid/solidSet.ts).
 * Outside > 0, touching 0, inside the negative depth below the nearest face. Closed form, good to rounding; any turn up to 2 pi.
 */
export const arcBox: PairKernel = (elements, e, data, s, cutoffMm, answer) => {
  const radius = elements[e + RADIUS]
  const turn = elements[e + TURN]
  STATE[ARC_RADIUS] = radius
  STATE[CUTOFF] = cutoffMm
  // No point of the arc strays further than this from the straight line between its ends.
  const sagitta = turn < Math.PI ? radius * (1 - Math.cos(0.5 * turn)) : Infinity
  let gapSquared = 0
  for (let i = 0; i < 3; i++) {
    const f = s + 6 + 3 * i
    const ux = data[f], uy = data[f + 1], uz = data[f + 2]
    const a = (elements[e + CENTRE_X] - data[s]) * ux + (elements[e + CENTRE_X + 1] - data[s + 1]) * uy + (elements[e + CENTRE_X + 2] - data[s + 2]) * uz
    const b = radius * (elements[e + RADIAL_X] * ux + elements[e + RADIAL_X + 1] * uy + elements[e + RADIAL_X + 2] * uz)
    const c = radius * (elements[e + TANGENT_X] * ux + elements[e + TANGENT_X + 1] * uy + elements[e + TANGENT_X + 2] * uz)
    const start = a + b
    const end = (elements[e + END_X] - data[s]) * ux + (elements[e + END_X + 1] - data[s + 1]) * uy + (elements[e + END_X + 2] - data[s + 2]) * uz
    const swing = Math.sqrt(b * b + c * c)
    A[i] = a
    B[i] = b
    C[i] = c
    H[i] = data[s + 3 + i]
    SWING[i] = swing
    const low = Math.max(a - swing, Math.min(start, end) - sagitta), high = Math.min(a + swing, Math.max(start, end) + sagitta)
    LOW[i] = low
    HIGH[i] = high
    const gap = Math.max(low - H[i], -H[i] - high, 0)
    gapSquared += gap * gap
  }
  const gap = Math.sqrt(gapSquared)
  if (gap > 0 && gap > cutoffMm) return gap

  startCuts(turn)
  for (let i = 0; i < 3; i++) {
    TOP[i] = Math.atan2(C[i], B[i])
    cutWhere(i, H[i])
    cutWhere(i, -H[i])
  }
  STATE[LEAST] = Infinity
  const count = cutCount()
  for (let k = 0; k < count; k++) {
    const cosine = COSINE[k] = k === 0 ? 1 : Math.cos(cutAngles[k]), sine = SINE[k] = k === 0 ? 0 : Math.sin(cutAngles[k])
    atCut[k] = judge(A[0] + B[0] * cosine + C[0] * sine, A[1] + B[1] * cosine + C[1] * sine, A[2] + B[2] * cosine + C[2] * sine, cutAngles[k])
  }
  for (let k = 1; k < count; k++) lookOver(k)
  if (STATE[LEAST] > cutoffMm) return STATE[LEAST]

  const leastAngle = STATE[LEAST_ANGLE]
  const cosine = radius * Math.cos(leastAngle), sine = radius * Math.sin(leastAngle)
  for (let i = 0; i < 3; i++) {
    answer[ON_CURVE_X + i] = elements[e + CENTRE_X + i] + cosine * elements[e + RADIAL_X + i] + sine * elements[e + TANGENT_X + i]
  }
  answer[ALONG] = Math.min(leastAngle * radius, elements[e + LENGTH])
  return nearestOnBox(data, s, answer)
}
