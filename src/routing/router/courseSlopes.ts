/** How things about a course change with small moves of its corners: closed forms, written into rows, gradients and stiffness. */
import { ELEMENT_STRIDE, RADIUS, START_X, TURN } from '#geometry/curve/centreline.ts'
import type { Course } from './course.ts'
import type { Rows } from './settleRows.ts'

/** Adds to the row being made what a move of a corner counts for, along (gx, gy, gz). */
function putCorner(rows: Rows, course: Course, base: number, corner: number, gx: number, gy: number, gz: number): void {
  const at = base + course.variableOf[corner]
  if (course.freedom[corner] === 3) {
    rows.put(at, gx)
    rows.put(at + 1, gy)
    rows.put(at + 2, gz)
  } else if (course.freedom[corner] === 1) {
    const axis = course.axisAt(corner)
    rows.put(at, gx * axis[0] + gy * axis[1] + gz * axis[2])
  }
}

/** Adds what the room of a leg changes by: `Course.legRoom`. */
export function putLegRoom(rows: Rows, course: Course, base: number, leg: number): void {
  const { legWay, count, cosBefore, cosAfter } = course, w = 3 * leg
  putCorner(rows, course, base, leg, -legWay[w], -legWay[w + 1], -legWay[w + 2])
  putCorner(rows, course, base, leg + 1, legWay[w], legWay[w + 1], legWay[w + 2])
  for (let c = Math.max(1, leg); c <= Math.min(count - 2, leg + 1); c++) {
    const by = -course.tangentPerCos(c), k = 3 * c
    if (by === 0) continue
    const bx = by * cosBefore[k], byY = by * cosBefore[k + 1], bz = by * cosBefore[k + 2], ax = by * cosAfter[k], ay = by * cosAfter[k + 1], az = by * cosAfter[k + 2]
    putCorner(rows, course, base, c - 1, bx, byY, bz)
    putCorner(rows, course, base, c, -bx - ax, -byY - ay, -bz - az)
    putCorner(rows, course, base, c + 1, ax, ay, az)
  }
}

/** Adds what a point of element `e`, where the course is there, moves by along (nx, ny, nz). */
export function putPoint(rows: Rows, course: Course, base: number, e: number, x: number, y: number, z: number, nx: number, ny: number, nz: number): void {
  const leg = e >> 1
  if (e % 2 === 1) {
    putBendPoint(rows, course, base, leg + 1, alongBend(course.elements, e * ELEMENT_STRIDE, x, y, z), nx, ny, nz)
    return
  }
  const { xyz, legWay, legMm } = course, a = 3 * leg
  const share = Math.min(1, Math.max(0, ((x - xyz[a]) * legWay[a] + (y - xyz[a + 1]) * legWay[a + 1] + (z - xyz[a + 2]) * legWay[a + 2]) / (legMm[leg] || 1)))
  putCorner(rows, course, base, leg, (1 - share) * nx, (1 - share) * ny, (1 - share) * nz)
  putCorner(rows, course, base, leg + 1, share * nx, share * ny, share * nz)
}

/**
 * The point at a share of a bend is corner + along * u + aside * n: u the way in, n square to it in the bend's plane. Its derivative goes by
 * those of u, of the way out w, and of the turn's cosine.
 */
function putBendPoint(rows: Rows, course: Course, base: number, corner: number, share: number, nx: number, ny: number, nz: number): void {
  const { legWay, legMm, turnCos, tangents, ends: { bendRadiusMm } } = course, i = 3 * corner - 3, o = 3 * corner
  const ux = legWay[i], uy = legWay[i + 1], uz = legWay[i + 2], wx = legWay[o], wy = legWay[o + 1], wz = legWay[o + 2], cos = turnCos[corner]
  let px = wx - cos * ux, py = wy - cos * uy, pz = wz - cos * uz
  const sine = Math.sqrt(px * px + py * py + pz * pz) || 1e-12
  px /= sine
  py /= sine
  pz /= sine
  const turn = share * Math.atan2(sine, cos), sinTurn = Math.sin(turn), aside = bendRadiusMm * (1 - Math.cos(turn)), along = bendRadiusMm * sinTurn - tangents[corner]
  const nu = nx * ux + ny * uy + nz * uz, np = nx * px + ny * py + nz * pz
  // what of the normal turns the bend's plane or its square
  const mx = nx - np * px, my = ny - np * py, mz = nz - np * pz
  const perCos = -aside / sine * nu - share * bendRadiusMm / sine * (Math.cos(turn) * nu + sinTurn * np) - course.tangentPerCos(corner) * nu
  const byU = -aside * cos / sine, byW = aside / sine
  let gux = along * nx + byU * mx + perCos * wx, guy = along * ny + byU * my + perCos * wy, guz = along * nz + byU * mz + perCos * wz
  let gwx = byW * mx + perCos * ux, gwy = byW * my + perCos * uy, gwz = byW * mz + perCos * uz
  const guu = gux * ux + guy * uy + guz * uz, gww = gwx * wx + gwy * wy + gwz * wz, before = legMm[corner - 1] || 1, after = legMm[corner] || 1
  gux = (gux - guu * ux) / before
  guy = (guy - guu * uy) / before
  guz = (guz - guu * uz) / before
  gwx = (gwx - gww * wx) / after
  gwy = (gwy - gww * wy) / after
  gwz = (gwz - gww * wz) / after
  putCorner(rows, course, base, corner - 1, -gux, -guy, -guz)
  putCorner(rows, course, base, corner, nx + gux - gwx, ny + guy - gwy, nz + guz - gwz)
  putCorner(rows, course, base, corner + 1, gwx, gwy, gwz)
}

/** How far along a bend a point of it lies, 0 to 1. */
function alongBend(elements: Float64Array, e: number, x: number, y: number, z: number): number {
  // half the chord from the start is the radius times the sine of half the turn up to there
  const chord = Math.sqrt((x - elements[e + START_X]) ** 2 + (y - elements[e + START_X + 1]) ** 2 + (z - elements[e + START_X + 2]) ** 2)
  return Math.min(1, 2 * Math.asin(Math.min(1, chord / (2 * elements[e + RADIUS]))) / elements[e + TURN])
}

/** Writes how the length changes with each variable, from `base` on. */
export function writeLengthSlope(course: Course, base: number, gradient: Float64Array): void {
  const { count, freedom, variableOf, legWay, cosBefore, cosAfter } = course
  for (let v = 0; v < course.variableCount; v++) gradient[base + v] = 0
  const add = (corner: number, k: number, value: number): void => {
    if (freedom[corner] === 3) gradient[base + variableOf[corner] + k] += value
    else if (freedom[corner] === 1) gradient[base + variableOf[corner]] += value * course.axisAt(corner)[k]
  }
  for (let c = 1; c < count - 1; c++) {
    const saved = course.savedPerCos(c)
    for (let k = 0; k < 3; k++) {
      const before = saved * cosBefore[3 * c + k], after = saved * cosAfter[3 * c + k]
      add(c, k, legWay[3 * c - 3 + k] - legWay[3 * c + k] - before - after)
      add(c - 1, k, before)
      add(c + 1, k, after)
    }
  }
}

/** legs are taken to be no shorter when it comes to how fast they turn, mm */
const LEAST_LEG_MM = 50

/** The same second derivative for every move, and none between two. */
export function writeEvenStiffness(size: number, perMm: number, block: Float64Array): void {
  block.fill(0)
  for (let v = 0; v < size; v++) block[v * size + v] = perMm
}

/**
 * Writes the second derivatives of the length of the chain of corners, `variableCount` squared numbers: never negative. What bends save is
 * left out: it bends the other way.
 */
export function writeStiffness(course: Course, leastPerMm: number, block: Float64Array): void {
  const { count, freedom, variableOf, variableCount: size, legMm, legWay } = course
  writeEvenStiffness(size, leastPerMm, block)
  for (let leg = 0; leg + 1 < count; leg++) {
    const per = 1 / Math.max(LEAST_LEG_MM, legMm[leg]), w = 3 * leg
    for (let a = leg; a <= leg + 1; a++) for (let b = leg; b <= leg + 1; b++) {
      const sign = a === b ? per : -per
      for (let p = 0; p < freedom[a]; p++) for (let q = 0; q < freedom[b]; q++) {
        const at = (variableOf[a] + p) * size + variableOf[b] + q
        if (freedom[a] === 3 && freedom[b] === 3) block[at] += sign * ((p === q ? 1 : 0) - legWay[w + p] * legWay[w + q])
        else {
          let dot = 0, alongA = 0, alongB = 0
          for (let k = 0; k < 3; k++) {
            const da = freedom[a] === 3 ? +(k === p) : course.axisAt(a)[k], db = freedom[b] === 3 ? +(k === q) : course.axisAt(b)[k]
            dot += da * db
            alongA += da * legWay[w + k]
            alongB += db * legWay[w + k]
          }
          block[at] += sign * (dot - alongA * alongB)
        }
      }
    }
  }
}
