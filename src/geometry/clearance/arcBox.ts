/**
 * Circular arc against an oriented box. In the box's frame each coordinate is a + b cos t + c sin t, with t from the
 * middle of the arc; u = tan(t / 2) makes all that follows roots of quadratics. Where a coordinate
 * crosses a face plane the nearest feature of the box changes, so the arc is cut there; on each stretch the nearest
 * feature is one face, edge or corner, or the stretch is inside, and every local least value has a closed form (a face:
 * a turning point of one coordinate; a corner: the foot on the circle; an edge: nearestDirections; inside: turning points
 * and ties of the six face distances). Every candidate's distance is taken from the point itself, so none is ever too low.
 */
import { CENTRE_X, LENGTH, RADIAL_X, RADIUS, TANGENT_X, TURN } from '../curve/centreline.ts'
import { SAME_POINT_MM } from '../tolerance.ts'
import { ALONG, ON_CURVE_X, type PairKernel } from './answer.ts'
import { NEAREST_IN, NEAREST_OUT, nearestDirections } from './nearestDirections.ts'
import { nearestOnBox } from './nearestOnBox.ts'

/** per axis of the box: the coordinate's parts a, b, c, the half size h and the swing sqrt(b^2 + c^2) */
const A = new Float64Array(3), B = new Float64Array(3), C = new Float64Array(3), H = new Float64Array(3), SWING = new Float64Array(3)
const SIDE = new Int8Array(3), POINT = new Float64Array(3)
/** the cuts, ascending in u: two ends, and at most three for each of six faces; and the distances there */
const CUTS = new Float64Array(20), atCut = new Float64Array(20)
/** numbers kept in plain variables of a module are boxed anew at each change */
const STATE = new Float64Array(6)
const ARC_RADIUS = 0, CUTOFF = 1, LEAST = 2, LEAST_U = 3, LEAST_MIDDLE = 4, MIDDLE = 5
const COUNT = new Int32Array(1)
/** half of a turn, its cosine and sine: bends are asked about many boxes in a row */
const HALF = new Float64Array([0, 1, 0])

/** @returns signed distance of the arc's point at `u`, whose coordinates are given */
const judge = (x: number, y: number, z: number, u: number): number => {
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
    STATE[LEAST_U] = u
    STATE[LEAST_MIDDLE] = STATE[MIDDLE]
  }
  return distance
}

/** The same, coordinates and all. */
const look = (u: number): number => {
  const over = 1 / (1 + u * u), cosine = (1 - u * u) * over, sine = 2 * u * over
  return judge(A[0] + B[0] * cosine + C[0] * sine, A[1] + B[1] * cosine + C[1] * sine, A[2] + B[2] * cosine + C[2] * sine, u)
}

/** Looks in the direction of (x, y), of the given size, if it falls strictly between two places of the arc. */
const lookTowards = (x: number, y: number, size: number, from: number, to: number): void => {
  const u = y / (size + x) // Infinity or NaN straight back, which is on no piece
  if (u > from && u < to) look(u)
}

/** Looks where a + b cos t + c sin t = 0. */
const lookWhereZero = (a: number, b: number, c: number, from: number, to: number): void => {
  const spare = b * b + c * c - a * a
  if (!(spare > 0)) return
  const q = -c - (c < 0 ? -1 : 1) * Math.sqrt(spare)
  let u = q / (a - b)
  if (u > from && u < to) look(u)
  u = (a + b) / q
  if (u > from && u < to) look(u)
}

/** The largest of six waves is least at a turning point of one or where two are equal. */
const lookInside = (from: number, to: number): void => {
  for (let i = 0; i < 3; i++) {
    const a = A[i], b = B[i], c = C[i], h = H[i]
    lookTowards(b, c, SWING[i], from, to)
    lookTowards(-b, -c, SWING[i], from, to)
    lookWhereZero(a, b, c, from, to)
    const j = i < 2 ? i + 1 : 0
    const spare = h - H[j]
    lookWhereZero(a - A[j] - spare, b - B[j], c - C[j], from, to)
    lookWhereZero(a - A[j] + spare, b - B[j], c - C[j], from, to)
    lookWhereZero(a + A[j] - spare, b + B[j], c + C[j], from, to)
    lookWhereZero(a + A[j] + spare, b + B[j], c + C[j], from, to)
  }
}

/** A stretch beyond three faces: the foot of the corner on the circle. */
const lookToCorner = (from: number, to: number): void => {
  let x = 0, y = 0
  for (let i = 0; i < 3; i++) {
    const a = SIDE[i] * H[i] - A[i]
    x += a * B[i]
    y += a * C[i]
  }
  lookTowards(x, y, Math.sqrt(x * x + y * y), from, to)
}

/** A stretch beyond two faces: an edge, lying along axis `free`. */
const lookToEdge = (free: number, from: number, to: number): void => {
  const swing = SWING[free]
  let cosine = 1, sine = 0
  if (swing > 0) {
    cosine = B[free] / swing
    sine = C[free] / swing
  }
  let m = 0, n = 0
  for (let i = 0; i < 3; i++) {
    if (i === free) continue
    const a = A[i] - SIDE[i] * H[i]
    m += a * (C[i] * cosine - B[i] * sine)
    n -= a * (B[i] * cosine + C[i] * sine)
  }
  NEAREST_IN[0] = swing * swing
  NEAREST_IN[1] = m
  NEAREST_IN[2] = n
  const found = nearestDirections()
  for (let i = 0; i < 2 * found; i += 2) {
    const x = NEAREST_OUT[i], y = NEAREST_OUT[i + 1]
    lookTowards(x * cosine - y * sine, y * cosine + x * sine, Math.sqrt(x * x + y * y), from, to)
  }
}

/** The stretch from cut k - 1 to cut k. */
const lookOver = (k: number): void => {
  const from = CUTS[k - 1], to = CUTS[k], u = 0.5 * (from + to)
  const over = 1 / (1 + u * u), cosine = (1 - u * u) * over, sine = 2 * u * over
  const x = A[0] + B[0] * cosine + C[0] * sine, y = A[1] + B[1] * cosine + C[1] * sine, z = A[2] + B[2] * cosine + C[2] * sine
  const distance = judge(x, y, z, u)
  // distances change by no more than the way between two points, so no point of either half is nearer than this
  const slowest = from > 0 ? from : to < 0 ? to : 0
  const halfWay = STATE[ARC_RADIUS] * (to - from) / (1 + slowest * slowest)
  if (0.5 * (distance + Math.min(atCut[k - 1], atCut[k]) - halfWay) > Math.min(STATE[LEAST], STATE[CUTOFF])) return
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
  else if (beyond === 1) lookTowards(-SIDE[last] * B[last], -SIDE[last] * C[last], SWING[last], from, to)
  else if (beyond === 2) lookToEdge(free, from, to)
  else lookToCorner(from, to)
}

/** Adds a cut if it lies within the piece. NaN is passed over. */
const addCut = (u: number, edge: number): void => {
  if (!(u > -edge && u < edge)) return
  let at = COUNT[0]++
  while (CUTS[at - 1] > u) {
    CUTS[at] = CUTS[at - 1]
    at--
  }
  CUTS[at] = u
}

/**
 * Cuts the arc where a coordinate crosses the plane of a face, and where it only touches it, give or take a point: without
 * that cut a stretch's middle could be the very place where it touches, and say nothing of the rest.
 */
const cutWhere = (i: number, face: number, edge: number): void => {
  const offset = face - A[i], swing = SWING[i], spare = swing - Math.abs(offset)
  if (!(spare >= -SAME_POINT_MM)) return
  const b = B[i], c = C[i]
  if (spare <= SAME_POINT_MM) addCut(offset > 0 ? c / (swing + b) : -c / (swing - b), edge)
  if (!(spare > 0)) return
  const q = -c - (c < 0 ? -1 : 1) * Math.sqrt(spare * (swing + Math.abs(offset)))
  addCut(q / (-offset - b), edge)
  addCut((b - offset) / q, edge)
}

/**
 * One piece of an arc, half a turn at most: looked at unless it is plainly further off than the cutoff.
 * @param middle the angle of its middle; HALF holds half its turn
 * @returns a bound of its distance if it was not looked at, Infinity if it was
 */
const lookAtPiece = (elements: Float64Array, e: number, data: Float64Array, s: number, middle: number, isWhole: boolean): number => {
  const radius = elements[e + RADIUS]
  const halfCosine = HALF[1], halfSine = HALF[2]
  const turnCosine = radius * (isWhole ? halfCosine : Math.cos(middle)), turnSine = radius * (isWhole ? halfSine : Math.sin(middle))
  const rx = elements[e + RADIAL_X], ry = elements[e + RADIAL_X + 1], rz = elements[e + RADIAL_X + 2]
  const tx = elements[e + TANGENT_X], ty = elements[e + TANGENT_X + 1], tz = elements[e + TANGENT_X + 2]
  const fx = turnCosine * rx + turnSine * tx, fy = turnCosine * ry + turnSine * ty, fz = turnCosine * rz + turnSine * tz
  const gx = turnCosine * tx - turnSine * rx, gy = turnCosine * ty - turnSine * ry, gz = turnCosine * tz - turnSine * rz
  const wx = elements[e + CENTRE_X] - data[s], wy = elements[e + CENTRE_X + 1] - data[s + 1], wz = elements[e + CENTRE_X + 2] - data[s + 2]
  let gapSquared = 0
  const edge = halfSine / (1 + halfCosine)
  COUNT[0] = 2
  CUTS[0] = -edge
  CUTS[1] = edge
  for (let i = 0; i < 3; i++) {
    const f = s + 6 + 3 * i
    const ux = data[f], uy = data[f + 1], uz = data[f + 2]
    const a = wx * ux + wy * uy + wz * uz, b = fx * ux + fy * uy + fz * uz, c = gx * ux + gy * uy + gz * uz
    A[i] = a
    B[i] = b
    C[i] = c
    const h = H[i] = data[s + 3 + i]
    const swing = SWING[i] = Math.sqrt(b * b + c * c)
    // a turning point of the coordinate lies on the piece, or its ends are the furthest it goes
    const across = Math.abs(c) * halfCosine, along = b * halfSine
    const atEnds = b * halfCosine, reach = Math.abs(c) * halfSine
    const high = a + (along > across ? swing : atEnds + reach), low = a - (-along > across ? swing : reach - atEnds)
    const gap = low > h ? low - h : high < -h ? -h - high : 0
    gapSquared += gap * gap
  }
  const cutoffMm = STATE[CUTOFF]
  const gap = Math.sqrt(gapSquared)
  if (gap > 0 && gap > cutoffMm) return gap

  STATE[MIDDLE] = middle
  for (let i = 0; i < 3; i++) {
    cutWhere(i, H[i], edge)
    cutWhere(i, -H[i], edge)
  }
  const count = COUNT[0]
  for (let k = 0; k < count; k++) atCut[k] = look(CUTS[k])
  for (let k = 1; k < count; k++) lookOver(k)
  return Infinity
}

/**
 * Least signed distance, mm, of a circular arc to a box (layouts: curve/centreline.ts, solid/solidSet.ts).
 * Outside > 0, touching 0, inside the negative depth below the nearest face. Closed form, good to rounding; any turn up to 2 pi.
 */
export const arcBox: PairKernel = (elements, e, data, s, cutoffMm, answer) => {
  const radius = elements[e + RADIUS], turn = elements[e + TURN]
  const pieces = turn > Math.PI ? 2 : 1, half = 0.5 * turn / pieces
  if (half !== HALF[0]) {
    HALF[0] = half
    HALF[1] = Math.cos(half)
    HALF[2] = Math.sin(half)
  }
  STATE[ARC_RADIUS] = radius
  STATE[CUTOFF] = cutoffMm
  STATE[LEAST] = Infinity
  let bound = Infinity
  for (let k = 0; k < pieces; k++) bound = Math.min(bound, lookAtPiece(elements, e, data, s, (2 * k + 1) * half, pieces === 1))
  const least = STATE[LEAST]
  if (!(least <= cutoffMm)) return Math.min(least, bound)

  const leastAngle = Math.min(Math.max(STATE[LEAST_MIDDLE] + 2 * Math.atan(STATE[LEAST_U]), 0), turn)
  const cosine = radius * Math.cos(leastAngle), sine = radius * Math.sin(leastAngle)
  for (let i = 0; i < 3; i++) {
    answer[ON_CURVE_X + i] = elements[e + CENTRE_X + i] + cosine * elements[e + RADIAL_X + i] + sine * elements[e + TANGENT_X + i]
  }
  answer[ALONG] = Math.min(leastAngle * radius, elements[e + LENGTH])
  return nearestOnBox(data, s, answer)
}
