/** Three unit axes -> quaternion x, y, z, w: Shepperd, Quaternion from rotation matrix, J. Guidance and Control 1, 1978. @param axes images of x, y and z: 9 numbers */
export function quaternionOf(axes: ArrayLike<number>): [number, number, number, number] {
  const [xx, xy, xz, yx, yy, yz, zx, zy, zz] = Array.from(axes)
  const trace = xx + yy + zz
  if (trace >= xx && trace >= yy && trace >= zz) return unit(yz - zy, zx - xz, xy - yx, 1 + trace)
  if (xx >= yy && xx >= zz) return unit(1 + xx - yy - zz, xy + yx, zx + xz, yz - zy)
  if (yy >= zz) return unit(xy + yx, 1 - xx + yy - zz, yz + zy, zx - xz)
  return unit(zx + xz, yz + zy, 1 - xx - yy + zz, xy - yx)
}

function unit(x: number, y: number, z: number, w: number): [number, number, number, number] {
  const size = Math.hypot(x, y, z, w)
  return [x / size, y / size, z / size, w / size]
}
