import { SAME_POINT_MM, STRAIGHT_RAD } from '../tolerance.ts'
import { centrelineOf, writeArc, writeLeg } from './build.ts'
import { ELEMENT_STRIDE, END_X } from './centreline.ts'
import type { Centreline } from './centreline.ts'

/** What became of one corner of a run. */
export interface Bend {
  /** which of the given waypoints it is */
  readonly waypointIndex: number
  /** angle turned, rad, in (0, pi] */
  readonly turnRad: number
  /** bend radius asked for, mm */
  readonly askedMm: number
  /** bend radius that fits, mm; less than asked where a leg is too short; 0 for a sharp corner */
  readonly radiusMm: number
  /** length the bend takes from each of its legs, mm: radius * tan(turn / 2) */
  readonly tangentMm: number
  /** which element is its arc; -1 when the corner is sharp */
  readonly elementIndex: number
  /** distance of its middle from the run's start, along the run, mm */
  readonly stationMm: number
}

/**
 * The centreline through waypoints: straight legs, with every corner rounded to the radius asked for.
 * Where two bends do not both fit on the leg between them, both are shrunk by one factor, and room that a bend cannot use goes to its neighbour.
 * Repeated waypoints count once (with the larger radius); straight-on waypoints make no bend and do not split a leg;
 * a leg wholly taken up by its bends is left out; a run that turns straight back on itself gets a sharp corner.
 * @param pointsXyz n waypoints, x0, y0, z0, x1, ..., mm; n >= 1
 * @param radiiMm n bend radii, mm, >= 0; 0 = sharp corner; the first and last are ignored
 * @throws Error when a number is not finite, a radius negative or a length does not match
 */
export function centrelineThrough(
  pointsXyz: ArrayLike<number>, radiiMm: ArrayLike<number>,
): { centreline: Centreline, bends: Bend[] } {
  refuseBadNumbers(pointsXyz, radiiMm)
  const corners = cornersOf(pointsXyz, radiiMm)
  const n = corners.length
  shrinkToFit(corners)

  const elements = new Float64Array(Math.max(1, 2 * n - 3) * ELEMENT_STRIDE)
  const bends: Bend[] = []
  let count = 0, stationMm = 0
  let x = corners[0].x, y = corners[0].y, z = corners[0].z
  for (let i = 1; i < n; i++) {
    const { x: px, y: py, z: pz, tangentMm, radiusMm, turnRad, index, askedMm } = corners[i]
    const before = corners[i - 1], { dx, dy, dz } = before
    const legMm = before.legMm - before.tangentMm - tangentMm
    if (legMm > SAME_POINT_MM) {
      const e = count++ * ELEMENT_STRIDE
      writeLeg(elements, e, x, y, z, px - tangentMm * dx, py - tangentMm * dy, pz - tangentMm * dz, stationMm)
      stationMm += legMm
    }
    if (i === n - 1) break
    const arcMm = radiusMm * turnRad
    if (turnRad > 0) {
      bends.push({
        waypointIndex: index, turnRad, askedMm, radiusMm, tangentMm,
        elementIndex: radiusMm > 0 ? count : -1, stationMm: stationMm + arcMm / 2,
      })
    }
    const out = corners[i]
    if (radiusMm > 0) {
      const e = count++ * ELEMENT_STRIDE
      const inward = inwardNormal(dx, dy, dz, out.dx, out.dy, out.dz)
      const centre = [
        px - tangentMm * dx + radiusMm * inward[0],
        py - tangentMm * dy + radiusMm * inward[1],
        pz - tangentMm * dz + radiusMm * inward[2],
      ]
      writeArc(elements, e, centre, [-inward[0], -inward[1], -inward[2]], [dx, dy, dz], radiusMm, turnRad, stationMm)
      stationMm += arcMm
      elements[e + END_X] = px + tangentMm * out.dx
      elements[e + END_X + 1] = py + tangentMm * out.dy
      elements[e + END_X + 2] = pz + tangentMm * out.dz
    }
    x = px + tangentMm * out.dx
    y = py + tangentMm * out.dy
    z = pz + tangentMm * out.dz
  }
  if (count === 0) {
    writeLeg(elements, 0, x, y, z, x, y, z, 0)
    count = 1
  }
  return { centreline: centrelineOf(elements, count), bends }
}

interface Corner {
  readonly index: number
  readonly x: number
  readonly y: number
  readonly z: number
  askedMm: number
  /** unit direction and length of the leg to the next corner */
  dx: number
  dy: number
  dz: number
  legMm: number
  turnRad: number
  /** tan(turn / 2); 0 where the corner stays sharp */
  tangentRatio: number
  radiusMm: number
  tangentMm: number
}

/** Waypoints where something happens: both ends and every real corner. */
function cornersOf(pointsXyz: ArrayLike<number>, radiiMm: ArrayLike<number>): Corner[] {
  const n = radiiMm.length
  const corners: Corner[] = []
  for (let i = 0; i < n; i++) {
    const corner: Corner = {
      index: i, x: pointsXyz[3 * i], y: pointsXyz[3 * i + 1], z: pointsXyz[3 * i + 2], askedMm: radiiMm[i],
      dx: 0, dy: 0, dz: 0, legMm: 0, turnRad: 0, tangentRatio: 0, radiusMm: 0, tangentMm: 0,
    }
    const last = corners.at(-1)
    if (last) {
      aim(last, corner)
      if (last.legMm <= SAME_POINT_MM) {
        last.askedMm = Math.max(last.askedMm, corner.askedMm)
        continue
      }
      const before = corners.at(-2)
      if (before && measureTurn(before, last) < STRAIGHT_RAD) {
        corners.pop()
        aim(before, corner)
      }
    }
    corners.push(corner)
  }
  for (let i = 1; i < corners.length - 1; i++) measureTurn(corners[i - 1], corners[i])
  return corners
}

function aim(from: Corner, to: Corner): void {
  const dx = to.x - from.x, dy = to.y - from.y, dz = to.z - from.z
  from.legMm = Math.hypot(dx, dy, dz)
  const length = from.legMm || 1
  from.dx = dx / length
  from.dy = dy / length
  from.dz = dz / length
}

/** Half-angle form, exact at right angles and accurate near 0 and pi: Kahan, How Futile are Mindless Assessments of Roundoff. */
function measureTurn(before: Corner, corner: Corner): number {
  const difference = Math.hypot(corner.dx - before.dx, corner.dy - before.dy, corner.dz - before.dz)
  const sum = Math.hypot(corner.dx + before.dx, corner.dy + before.dy, corner.dz + before.dz)
  corner.turnRad = 2 * Math.atan2(difference, sum)
  corner.tangentRatio = corner.turnRad > Math.PI - STRAIGHT_RAD ? 0 : difference / sum
  return corner.turnRad
}

/**
 * Set radius and tangent length of every corner: all grow together from nothing towards what was asked, and a corner
 * stops when one of its legs is full (max-min fairness by progressive filling: Bertsekas & Gallager, Data Networks, 6.5.2).
 */
function shrinkToFit(corners: Corner[]): void {
  const n = corners.length
  const wanted = new Float64Array(n)
  const grows = new Uint8Array(n)
  for (let i = 1; i < n - 1; i++) {
    const { askedMm, tangentRatio } = corners[i]
    // no more than both legs together, or an almost reversed corner would ask for so much that its neighbours got nothing
    wanted[i] = Math.min(askedMm * tangentRatio, corners[i - 1].legMm + corners[i].legMm)
    grows[i] = wanted[i] > SAME_POINT_MM ? 1 : 0
  }
  for (;;) {
    let level = 1
    for (let i = 0; i < n - 1; i++) level = Math.min(level, levelWhenFull(corners, wanted, grows, i))
    const full: number[] = []
    if (level < 1) for (let i = 0; i < n - 1; i++) if (levelWhenFull(corners, wanted, grows, i) <= level) full.push(i)
    let growing = false
    for (let i = 1; i < n - 1; i++) {
      if (!grows[i]) continue
      const corner = corners[i]
      if (level < 1 && !full.includes(i - 1) && !full.includes(i)) {
        growing = true
        continue
      }
      const whole = corner.askedMm * corner.tangentRatio
      corner.tangentMm = level < 1 ? wanted[i] * level : wanted[i]
      corner.radiusMm = corner.tangentMm === whole ? corner.askedMm : corner.tangentMm / corner.tangentRatio
      grows[i] = 0
    }
    if (!growing) break
  }
}

/** The share of what was asked at which the leg after corner i is full; infinite when nothing on it grows. */
function levelWhenFull(corners: Corner[], wanted: Float64Array, grows: Uint8Array, i: number): number {
  const from = corners[i], to = corners[i + 1]
  const growth = (grows[i] ? wanted[i] : 0) + (grows[i + 1] ? wanted[i + 1] : 0)
  return growth > 0 ? (from.legMm - from.tangentMm - to.tangentMm) / growth : Infinity
}

/** Unit vector square to the way in, on the side of the way out. */
function inwardNormal(ax: number, ay: number, az: number, bx: number, by: number, bz: number): [number, number, number] {
  let x = bx - ax, y = by - ay, z = bz - az
  const along = x * ax + y * ay + z * az
  x -= along * ax
  y -= along * ay
  z -= along * az
  const length = Math.hypot(x, y, z)
  return [x / length, y / length, z / length]
}

function refuseBadNumbers(pointsXyz: ArrayLike<number>, radiiMm: ArrayLike<number>): void {
  const n = radiiMm.length
  if (n < 1 || pointsXyz.length !== 3 * n) {
    throw new Error(`centrelineThrough: needs 3 coordinates and 1 radius for each waypoint, got ${pointsXyz.length} and ${n}`)
  }
  for (let i = 0; i < 3 * n; i++) {
    if (!Number.isFinite(pointsXyz[i])) throw new Error(`centrelineThrough: waypoint ${Math.floor(i / 3)} must be finite, got ${pointsXyz[i]}`)
  }
  for (let i = 0; i < n; i++) {
    if (!(radiiMm[i] >= 0 && radiiMm[i] < Infinity)) {
      throw new Error(`centrelineThrough: the radius of waypoint ${i} must be finite and >= 0, got ${radiiMm[i]}`)
    }
  }
}
