/**
 * Circular arc against an oriented box. In the box's frame each coordinate is a + b cos t + c sin t, with t from the
 * middle of the arc; u = tan(t / 2) makes all that follows roots of quadratics. Where a coordinate
 * crosses a face plane the nearest feature of the box changes, so the arc is cut there; on each stretch the nearest
 * feature is one face, edge or corner, or the stretch is inside, and every local least value has a closed form (a face:
 * a turning point of one coordinate; a corner: the foot on the circle; an edge: nearestDirections; inside: turning points
 * and ties of the six face distances). Every candidate's distance is taken from the point itself, so none is ever too low.
 */
import { CENTRE_X, LENGTH, RADIAL_X, RADIUS, TANGENT_X, TURN } from '../curve/centreline.ts'
import { ROUNDING_MM, SAME_POINT_MM } from '../tolerance.ts'
import { ALONG, ON_CURVE_X, type PairKernel } from './answer.ts'
import { NEAREST_IN, NEAREST_OUT, nearestDirections } from './nearestDirections.ts'
import { nearestOnBox } from './nearestOnBox.ts'

/** A foot found to within this, rad, is told to within its square. */
const NEAR_ENOUGH_RAD = 1e-8
const MOST_STEPS = 8
/** per axis of the box: the coordinate's parts a, b, c, the half size h and the swing sqrt(b^2 + c^2) */
const A = new Float64Array(3), B = new Float64Array(3), C = new Float64Array(3), H = new Float64Array(3), SWING = new Float64Array(3)
const SIDE = new Int8Array(3)
/** places on the piece, as u, with the cosines and sines of their angles and the distances there: the cuts, ascending (two ends, and at most three for each of six faces), then two more */
const AT = new Float64Array(22), COSINE = new Float64Array(22), SINE = new Float64Array(22), DISTANCE_AT = new Float64Array(22)
const MIDST = 20, OTHER = 21
/** numbers kept in plain variables of a module are boxed anew at each change */
const STATE = new Float64Array(9)
const ARC_RADIUS = 0, CUTOFF = 1, LEAST = 2, LEAST_U = 3, LEAST_MIDDLE = 4, MIDDLE = 5, FROM = 6, TO = 7, BOUND = 8
const COUNT = new Int32Array(1)
/** half of a turn, its cosine and sine: bends are asked about many boxes in a row */
const HALF = new Float64Array([0, 1, 0])

/** Takes the signed distance of the arc's point at place `k`. Places are told by number: a number with a fraction is boxed anew for each call. */
const lookAt = (k: number): void => {
  const u = AT[k], over = 1 / (1 + u * u)
  const cosine = COSINE[k] = (1 - u * u) * over, sine = SINE[k] = 2 * u * over
  const bx = Math.abs(A[0] + B[0] * cosine + C[0] * sine) - H[0]
  const by = Math.abs(A[1] + B[1] * cosine + C[1] * sine) - H[1]
  const bz = Math.abs(A[2] + B[2] * cosine + C[2] * sine) - H[2]
  let squared = 0, face = bx
  if (bx > 0) squared = bx * bx
  if (by > 0) squared += by * by
  if (bz > 0) squared += bz * bz
  if (by > face) face = by
  if (bz > face) face = bz
  const distance = DISTANCE_AT[k] = face > 0 ? Math.sqrt(squared) : face
  if (distance < STATE[LEAST]) {
    STATE[LEAST] = distance
    STATE[LEAST_U] = u
    STATE[LEAST_MIDDLE] = STATE[MIDDLE]
  }
}

/** Looks at `u` if it falls strictly within the stretch looked over. */
const look = (u: number): void => {
  if (!(u > STATE[FROM] && u < STATE[TO])) return
  AT[OTHER] = u
  lookAt(OTHER)
}

/** Looks in the direction of (x, y), of the given size: Infinity or NaN straight back, which is on no piece. */
const lookTowards = (x: number, y: number, size: number): void => look(y / (size + x))

/** Looks where a + b cos t + c sin t = 0. */
const lookWhereZero = (a: number, b: number, c: number): void => {
  const spare = b * b + c * c - a * a
  if (!(spare > 0)) return
  const q = -c - (c < 0 ? -1 : 1) * Math.sqrt(spare)
  look(q / (a - b))
  look((a + b) / q)
}

/** The largest of six waves is least at a turning point of one or where two are equal. */
const lookInside = (): void => {
  for (let i = 0; i < 3; i++) {
    const a = A[i], b = B[i], c = C[i]
    lookTowards(b, c, SWING[i])
    lookTowards(-b, -c, SWING[i])
    lookWhereZero(a, b, c)
    const j = i < 2 ? i + 1 : 0
    const spare = H[i] - H[j]
    lookWhereZero(a - A[j] - spare, b - B[j], c - C[j])
    lookWhereZero(a - A[j] + spare, b - B[j], c - C[j])
    lookWhereZero(a + A[j] - spare, b + B[j], c + C[j])
    lookWhereZero(a + A[j] + spare, b + B[j], c + C[j])
  }
}

/** A stretch beyond three faces: the foot of the corner on the circle. */
const lookToCorner = (): void => {
  let x = 0, y = 0
  for (let i = 0; i < 3; i++) {
    const a = SIDE[i] * H[i] - A[i]
    x += a * B[i]
    y += a * C[i]
  }
  lookTowards(x, y, Math.sqrt(x * x + y * y))
}

/** A stretch beyond two faces: an edge, lying along axis `free`. */
const lookToEdge = (free: number): void => {
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
    lookTowards(x * cosine - y * sine, y * cosine + x * sine, Math.sqrt(x * x + y * y))
  }
}

/**
 * Whether no point of the stretch is lower than what was found, or all are above the cutoff. The box lies behind the plane
 * square to the way from it to place `k`, so no distance is less than that to the plane, which is one wave more.
 */
const isSettledBy = (k: number): boolean => {
  const cosine = COSINE[k], sine = SINE[k], distance = DISTANCE_AT[k]
  const b0 = B[0], b1 = B[1], b2 = B[2], c0 = C[0], c1 = C[1], c2 = C[2]
  let px = A[0] + b0 * cosine + c0 * sine, py = A[1] + b1 * cosine + c1 * sine, pz = A[2] + b2 * cosine + c2 * sine
  const hx = H[0], hy = H[1], hz = H[2]
  px = px > hx ? px - hx : px < -hx ? px + hx : 0
  py = py > hy ? py - hy : py < -hy ? py + hy : 0
  pz = pz > hz ? pz - hz : pz < -hz ? pz + hz : 0
  const over = 1 / distance
  const b = (px * b0 + py * b1 + pz * b2) * over, c = (px * c0 + py * c1 + pz * c2) * over
  const a = distance - b * cosine - c * sine, swing = Math.sqrt(b * b + c * c)
  const from = STATE[FROM], to = STATE[TO], lowest = -c / (swing - b)
  let bound = a - swing
  if (!(lowest > from && lowest < to)) {
    const atFrom = a + (b * (1 - from * from) + 2 * c * from) / (1 + from * from), atTo = a + (b * (1 - to * to) + 2 * c * to) / (1 + to * to)
    bound = atFrom < atTo ? atFrom : atTo
  }
  return bound > STATE[CUTOFF] || bound > STATE[LEAST] - ROUNDING_MM
}

/** Newton's steps from place `k` to a foot of the arc, where the distance no longer falls. @returns whether that settles the stretch */
const isSettledByFoot = (k: number): boolean => {
  const from = STATE[FROM], to = STATE[TO]
  const a0 = A[0], a1 = A[1], a2 = A[2], b0 = B[0], b1 = B[1], b2 = B[2], c0 = C[0], c1 = C[1], c2 = C[2], hx = H[0], hy = H[1], hz = H[2]
  let u = AT[k]
  for (let step = 0; step < MOST_STEPS; step++) {
    const over = 1 / (1 + u * u), cosine = (1 - u * u) * over, sine = 2 * u * over
    const rx = b0 * cosine + c0 * sine, ry = b1 * cosine + c1 * sine, rz = b2 * cosine + c2 * sine
    const x = a0 + rx, y = a1 + ry, z = a2 + rz
    let slope = 0, bend = 0
    if (x > hx || x < -hx) {
      const out = x > 0 ? x - hx : x + hx, rate = c0 * cosine - b0 * sine
      slope = out * rate
      bend = rate * rate - out * rx
    }
    if (y > hy || y < -hy) {
      const out = y > 0 ? y - hy : y + hy, rate = c1 * cosine - b1 * sine
      slope += out * rate
      bend += rate * rate - out * ry
    }
    if (z > hz || z < -hz) {
      const out = z > 0 ? z - hz : z + hz, rate = c2 * cosine - b2 * sine
      slope += out * rate
      bend += rate * rate - out * rz
    }
    if (!(bend > 0)) return false
    const turn = slope / bend
    if (Math.abs(turn) < NEAR_ENOUGH_RAD) {
      AT[OTHER] = u
      lookAt(OTHER)
      return DISTANCE_AT[OTHER] > 0 && isSettledBy(OTHER)
    }
    u -= 0.5 * turn * (1 + u * u)
    if (!(u > from && u < to)) return false
  }
  return false
}

/** The stretch from place k - 1 to place k, as a whole. @returns whether it is settled; if not, it must be cut where the nearest feature changes */
const isSettled = (k: number): boolean => {
  STATE[FROM] = AT[k - 1]
  STATE[TO] = AT[k]
  AT[MIDST] = 0.5 * (AT[k - 1] + AT[k])
  lookAt(MIDST)
  let low = DISTANCE_AT[k - 1] < DISTANCE_AT[k] ? k - 1 : k
  if (DISTANCE_AT[MIDST] <= DISTANCE_AT[low]) low = MIDST
  return DISTANCE_AT[low] > 0 && (isSettledBy(low) || (COUNT[0] === 2 && isSettledByFoot(low)))
}

/** The stretch from cut k - 1 to cut k. */
const lookOver = (k: number): void => {
  if (isSettled(k)) return
  const from = AT[k - 1], to = AT[k]
  // distances change by no more than the way between two points, so no point of either half is nearer than this
  const slowest = from > 0 ? from : to < 0 ? to : 0
  const halfWay = STATE[ARC_RADIUS] * (to - from) / (1 + slowest * slowest)
  const nearerEnd = Math.min(DISTANCE_AT[k - 1], DISTANCE_AT[k])
  if (0.5 * (DISTANCE_AT[MIDST] + nearerEnd - halfWay) > Math.min(STATE[LEAST], STATE[CUTOFF])) return
  let beyond = 0, last = 0, free = -1
  for (let i = 0; i < 3; i++) {
    const x = A[i] + B[i] * COSINE[MIDST] + C[i] * SINE[MIDST]
    SIDE[i] = x > H[i] ? 1 : x < -H[i] ? -1 : 0
    if (SIDE[i] === 0) free = i
    else {
      beyond++
      last = i
    }
  }
  if (beyond === 0) lookInside()
  else if (STATE[LEAST] < 0) return
  else if (beyond === 1) lookTowards(-SIDE[last] * B[last], -SIDE[last] * C[last], SWING[last])
  else if (beyond === 2) lookToEdge(free)
  else lookToCorner()
}

/** Adds a cut if it lies within the piece. NaN is passed over. */
const addCut = (u: number): void => {
  if (!(u > STATE[FROM] && u < STATE[TO])) return
  let at = COUNT[0]++
  while (AT[at - 1] > u) {
    AT[at] = AT[at - 1]
    at--
  }
  AT[at] = u
}

/**
 * Cuts the arc where a coordinate crosses the plane of a face, and where it only touches it, give or take a point: without
 * that cut a stretch's middle could be the very place where it touches, and say nothing of the rest.
 */
const cutWhere = (i: number, side: number): void => {
  const offset = side * H[i] - A[i], swing = SWING[i], spare = swing - Math.abs(offset)
  if (!(spare >= -SAME_POINT_MM)) return
  const b = B[i], c = C[i]
  if (spare <= SAME_POINT_MM) addCut(offset > 0 ? c / (swing + b) : -c / (swing - b))
  if (!(spare > 0)) return
  const q = -c - (c < 0 ? -1 : 1) * Math.sqrt(spare * (swing + Math.abs(offset)))
  addCut(q / (-offset - b))
  addCut((b - offset) / q)
}

/**
 * One piece of an arc, half a turn at most, about the angle MIDDLE in STATE; HALF holds half its turn. Looked at unless it is
 * plainly further off than the cutoff, by what BOUND in STATE then holds.
 */
const lookAtPiece = (elements: Float64Array, e: number, data: Float64Array, s: number, isWhole: boolean): void => {
  const radius = elements[e + RADIUS], middle = STATE[MIDDLE]
  const halfCosine = HALF[1], halfSine = HALF[2]
  const turnCosine = radius * (isWhole ? halfCosine : Math.cos(middle)), turnSine = radius * (isWhole ? halfSine : Math.sin(middle))
  const rx = elements[e + RADIAL_X], ry = elements[e + RADIAL_X + 1], rz = elements[e + RADIAL_X + 2]
  const tx = elements[e + TANGENT_X], ty = elements[e + TANGENT_X + 1], tz = elements[e + TANGENT_X + 2]
  const fx = turnCosine * rx + turnSine * tx, fy = turnCosine * ry + turnSine * ty, fz = turnCosine * rz + turnSine * tz
  const gx = turnCosine * tx - turnSine * rx, gy = turnCosine * ty - turnSine * ry, gz = turnCosine * tz - turnSine * rz
  const wx = elements[e + CENTRE_X] - data[s], wy = elements[e + CENTRE_X + 1] - data[s + 1], wz = elements[e + CENTRE_X + 2] - data[s + 2]
  let gapSquared = 0
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
  const gap = Math.sqrt(gapSquared)
  if (gap > 0 && gap > STATE[CUTOFF]) {
    if (gap < STATE[BOUND]) STATE[BOUND] = gap
    return
  }
  const edge = halfSine / (1 + halfCosine)
  COUNT[0] = 2
  AT[0] = -edge
  AT[1] = edge
  lookAt(0)
  lookAt(1)
  if (isSettled(1)) return
  for (let i = 0; i < 3; i++) {
    cutWhere(i, 1)
    cutWhere(i, -1)
  }
  const count = COUNT[0]
  for (let k = 1; k < count; k++) lookAt(k)
  for (let k = 1; k < count; k++) lookOver(k)
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
  STATE[BOUND] = Infinity
  for (let k = 0; k < pieces; k++) {
    STATE[MIDDLE] = (2 * k + 1) * half
    lookAtPiece(elements, e, data, s, pieces === 1)
  }
  const least = STATE[LEAST]
  if (!(least <= cutoffMm)) return Math.min(least, STATE[BOUND])

  const u = STATE[LEAST_U], over = 1 / (1 + u * u), middle = STATE[LEAST_MIDDLE]
  const middleCosine = pieces === 1 ? HALF[1] : Math.cos(middle), middleSine = pieces === 1 ? HALF[2] : Math.sin(middle)
  const cosine = radius * over * ((1 - u * u) * middleCosine - 2 * u * middleSine)
  const sine = radius * over * ((1 - u * u) * middleSine + 2 * u * middleCosine)
  for (let i = 0; i < 3; i++) {
    answer[ON_CURVE_X + i] = elements[e + CENTRE_X + i] + cosine * elements[e + RADIAL_X + i] + sine * elements[e + TANGENT_X + i]
  }
  const along = (middle + 2 * Math.atan(u)) * radius
  answer[ALONG] = along > 0 ? Math.min(along, elements[e + LENGTH]) : 0
  return nearestOnBox(data, s, answer)
}
