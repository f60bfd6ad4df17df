/** Path data of site points, to a hundredth of a millimetre. */
import type { Point2 } from '#model/index.ts'

export function linePath(points: readonly Point2[]): string {
  return points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${short(x)} ${short(y)}`).join('')
}

export function ringsPath(rings: readonly (readonly Point2[])[]): string {
  return rings.map(ring => `${linePath(ring)}Z`).join('')
}

function short(value: number): number {
  return Math.round(value * 100) / 100
}
