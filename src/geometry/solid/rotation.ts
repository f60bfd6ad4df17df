import { UNIT_AXIS_ERROR } from '../tolerance.ts'

/** Nine numbers: unit axes u, v, w as consecutive triples, the images of x, y and z. */
export type Axes = [number, number, number, number, number, number, number, number, number]

/** The axes of a solid that is not turned. */
export const UPRIGHT: Readonly<Axes> = [1, 0, 0, 0, 1, 0, 0, 0, 1]

/**
 * Axes of a solid turned about x, then y, then z (fixed axes; R = Rz * Ry * Rx), degrees, counter-clockwise seen from
 * the positive end. Exact at multiples of 90 degrees.
 */
export function axesOfRotation(xDeg: number, yDeg: number, zDeg: number): Axes {
  const cx = cosDeg(xDeg), sx = sinDeg(xDeg)
  const cy = cosDeg(yDeg), sy = sinDeg(yDeg)
  const cz = cosDeg(zDeg), sz = sinDeg(zDeg)
  return [
    cz * cy, sz * cy, -sy,
    cz * sy * sx - sz * cx, sz * sy * sx + cz * cx, cy * sx,
    cz * sy * cx + sz * sx, sz * sy * cx - cz * sx, cy * cx,
  ]
}

/**
 * Axes with u along `direction` and w as near `up` as being square to u allows. Where `up` lies along the direction,
 * the coordinate axis furthest from it stands in for `up`.
 * @throws Error when the direction has no length
 */
export function axesAlong(direction3: ArrayLike<number>, up3: ArrayLike<number> = [0, 0, 1]): Axes {
  const u = unit(direction3[0], direction3[1], direction3[2])
  if (!u) throw new Error(`axesAlong: the direction must be finite and longer than 0, got ${[...Array.from(direction3)].join(', ')}`)
  const v = across(up3, u) ?? across(furthestAxis(u), u)!
  return [...u, ...v, u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]]
}

/** Cosine of an angle in degrees, exact at multiples of 90. */
export function cosDeg(deg: number): number {
  return sinDeg(90 - Math.abs(deg % 360))
}

/** Sine of an angle in degrees, exact at multiples of 90. */
export function sinDeg(deg: number): number {
  const wrapped = deg % 360
  if (wrapped % 90 === 0) return [0, 1, 0, -1][((wrapped / 90) + 4) % 4]
  return Math.sin(wrapped * Math.PI / 180)
}

type Direction = [number, number, number]

function unit(x: number, y: number, z: number): Direction | null {
  const length = Math.hypot(x, y, z)
  return length > 0 && length < Infinity ? [x / length, y / length, z / length] : null
}

/** Unit vector along up x u; null when the two are parallel to within rounding. */
function across(up: ArrayLike<number>, u: Direction): Direction | null {
  const towards = unit(up[0], up[1], up[2])
  if (!towards) return null
  const x = towards[1] * u[2] - towards[2] * u[1]
  const y = towards[2] * u[0] - towards[0] * u[2]
  const z = towards[0] * u[1] - towards[1] * u[0]
  return Math.hypot(x, y, z) > UNIT_AXIS_ERROR ? unit(x, y, z) : null
}

function furthestAxis(u: Direction): Direction {
  const [x, y, z] = u.map(Math.abs)
  return x <= y && x <= z ? [1, 0, 0] : y <= z ? [0, 1, 0] : [0, 0, 1]
}
