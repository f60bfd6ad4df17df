/** Points and directions as triples, mm. */
export type Vec = readonly [number, number, number]

/** a + k b */
export function plus(a: Vec, b: Vec, k = 1): Vec {
  return [a[0] + k * b[0], a[1] + k * b[1], a[2] + k * b[2]]
}

export function minus(a: Vec, b: Vec): Vec {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

export function dot(a: Vec, b: Vec): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

export function cross(a: Vec, b: Vec): Vec {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

export function apart(a: Vec, b: Vec): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2])
}

/** 0, 0, 0 for one of no length */
export function unit(a: Vec): Vec {
  const size = Math.hypot(a[0], a[1], a[2])
  return size > 0 ? [a[0] / size, a[1] / size, a[2] / size] : [0, 0, 0]
}

/** Angle between two directions, rad. */
export function turnOf(a: Vec, b: Vec): number {
  return Math.atan2(Math.hypot(...cross(a, b)), dot(a, b))
}
