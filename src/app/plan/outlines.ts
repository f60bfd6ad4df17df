/** Things of the job seen from straight above, as rings of site points. Pure. */
import { placed, turned, unitOf, type Vec3 } from '#assembly/place.ts'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import { axesAlong, axesOfRotation } from '#geometry/solid/rotation.ts'
import type { Equipment, LooseSolid, Point2, Shape, Sleeve } from '#model/index.ts'
import { hullOf } from './hull.ts'
import { pointsAlong } from './runLine.ts'

/** Either an area, or a line with a width. */
export type Footprint =
  | { readonly kind: 'area', readonly rings: readonly (readonly Point2[])[] }
  | { readonly kind: 'line', readonly points: readonly Point2[], readonly widthMm: number }

/** corners of a circle drawn as a ring: at 300 mm across they stand 0.2 mm off it */
const ROUND = 32

export function footprintOf(shape: Shape): Footprint {
  switch (shape.kind) {
    case 'box': return area(boxRing(shape.centre, shape.sizeMm, shape.rotationDeg))
    case 'cylinder': return area(roundRing(shape.from, shape.to, shape.diameterMm / 2))
    case 'tube': {
      const { centreline } = centrelineThrough(shape.points.flat(), shape.points.map(() => shape.bendRadiusMm))
      return { kind: 'line', points: pointsAlong(centreline), widthMm: shape.diameterMm }
    }
    case 'prism': {
      const axes = axesOfRotation(...shape.rotationDeg)
      const at = (z: number) => ([x, y]: Point2): Point2 => flat(placed(shape.origin, axes, x, y, z))
      const isUpright = shape.rotationDeg[0] % 360 === 0 && shape.rotationDeg[1] % 360 === 0
      if (!isUpright) return area(hullOf([...shape.outline.map(at(shape.bottomMm)), ...shape.outline.map(at(shape.topMm))]))
      return { kind: 'area', rings: [shape.outline, ...shape.holes].map(ring => ring.map(at(0))) }
    }
  }
}

export function equipmentRing({ centre, sizeMm, rotationDeg }: Pick<Equipment, 'centre' | 'sizeMm' | 'rotationDeg'>): Point2[] {
  return boxRing(centre, sizeMm, rotationDeg)
}

export function sleeveRing({ at, axis, diameterMm, lengthMm }: Sleeve): Point2[] {
  const [x, y, z] = unitOf(axis)
  const half = lengthMm / 2
  return roundRing([at[0] - x * half, at[1] - y * half, at[2] - z * half], [at[0] + x * half, at[1] + y * half, at[2] + z * half], diameterMm / 2, [x, y, z])
}

/** A collar from its mouth back to the body. */
export function collarRing(mouth: Vec3, axis: Vec3, diameterMm: number, lengthMm: number): Point2[] {
  return roundRing([mouth[0] - axis[0] * lengthMm, mouth[1] - axis[1] * lengthMm, mouth[2] - axis[2] * lengthMm], mouth, diameterMm / 2, axis)
}

export function heightsOf({ shape }: LooseSolid): { readonly bottomMm: number, readonly topMm: number } | null {
  switch (shape.kind) {
    case 'prism': return { bottomMm: shape.bottomMm + shape.origin[2], topMm: shape.topMm + shape.origin[2] }
    case 'cylinder': return { bottomMm: Math.min(shape.from[2], shape.to[2]), topMm: Math.max(shape.from[2], shape.to[2]) }
    case 'box': return { bottomMm: shape.centre[2] - shape.sizeMm[2] / 2, topMm: shape.centre[2] + shape.sizeMm[2] / 2 }
    case 'tube': return null
  }
}

function area(ring: readonly Point2[]): Footprint {
  return { kind: 'area', rings: [ring] }
}

function boxRing(centre: Vec3, sizeMm: Vec3, rotationDeg: Vec3): Point2[] {
  const axes = axesOfRotation(...rotationDeg as [number, number, number])
  const corners = [0, 1, 2, 3, 4, 5, 6, 7].map(n => flat(placed(centre, axes, half(sizeMm[0], n & 1), half(sizeMm[1], n & 2), half(sizeMm[2], n & 4))))
  return hullOf(corners)
}

function half(sizeMm: number, side: number): number {
  return side === 0 ? -sizeMm / 2 : sizeMm / 2
}

/** @param along given where the two may be one place, as with a collar of no length */
function roundRing(from: Vec3, to: Vec3, radiusMm: number, along: Vec3 = [to[0] - from[0], to[1] - from[1], to[2] - from[2]]): Point2[] {
  const axes = axesAlong([...along], [0, 0, 1])
  const rim: Point2[] = []
  for (let i = 0; i < ROUND; i++) {
    const t = i / ROUND * 2 * Math.PI
    // axesAlong gives the way along first: the rim lies in the other two
    const [x, y] = turned(axes, 0, radiusMm * Math.cos(t), radiusMm * Math.sin(t))
    rim.push([from[0] + x, from[1] + y], [to[0] + x, to[1] + y])
  }
  return hullOf(rim)
}

function flat([x, y]: Vec3): Point2 {
  return [x, y]
}
