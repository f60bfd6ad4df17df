/** Frames on site: points and directions of a thing's own frame turned and moved to where it stands. Millimetres. */

export type Vec3 = readonly [number, number, number]

/** @param axes images of x, y and z: 9 numbers; @returns the direction in site axes */
export function turned(axes: ArrayLike<number>, x: number, y: number, z: number): [number, number, number] {
  return [
    axes[0] * x + axes[3] * y + axes[6] * z,
    axes[1] * x + axes[4] * y + axes[7] * z,
    axes[2] * x + axes[5] * y + axes[8] * z,
  ]
}

export function placed(origin: Vec3, axes: ArrayLike<number>, x: number, y: number, z: number): [number, number, number] {
  const [dx, dy, dz] = turned(axes, x, y, z)
  return [origin[0] + dx, origin[1] + dy, origin[2] + dz]
}

/** @throws Error for a direction of no length; the reader of project files refuses those */
export function unitOf(v: Vec3): [number, number, number] {
  const size = Math.hypot(v[0], v[1], v[2])
  if (!(size > 0)) throw new Error(`unitOf: the direction must have a length, got ${v.join(', ')}`)
  return [v[0] / size, v[1] / size, v[2] / size]
}
