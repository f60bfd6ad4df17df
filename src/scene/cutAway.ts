/** A plane that cuts the picture away: which rays it leaves, and where it is taken hold of. Millimetres on site. */
import type { BoundsMm, Xyz } from './frame.ts'
import type { Ray } from './pick.ts'

export interface Cut {
  /** a point of the plane, mm */
  readonly at: Xyz
  /** unit, square to the plane: what lies this way of it is cut away */
  readonly towards: Xyz
}

/** How far a place lies into what is cut away, mm; negative in what is kept. */
export function cutAwayBy({ at, towards }: Cut, x: number, y: number, z: number): number {
  return (x - at[0]) * towards[0] + (y - at[1]) * towards[1] + (z - at[2]) * towards[2]
}

/** The ray from where it comes into what is kept; null when it never does. Its end may leave again: ask `cutAwayBy` of what it meets. */
export function keptRay(cut: Cut, ray: Ray): Ray | null {
  const into = cutAwayBy(cut, ...ray.from)
  if (into <= 0) return ray
  const { direction: d } = ray
  const away = d[0] * cut.towards[0] + d[1] * cut.towards[1] + d[2] * cut.towards[2]
  if (!(away < 0)) return null
  const t = into / -away
  return { from: [ray.from[0] + t * d[0], ray.from[1] + t * d[1], ray.from[2] + t * d[2]], direction: d }
}

/** Where the plane goes through a box square to the axes: a polygon in order round the plane's normal; empty when it misses. */
export function sectionOfBounds(cut: Cut, [minX, minY, minZ, maxX, maxY, maxZ]: BoundsMm): Xyz[] {
  return sectionOf(cut, [(minX + maxX) / 2, (minY + maxY) / 2, (minZ + maxZ) / 2], [(maxX - minX) / 2, (maxY - minY) / 2, (maxZ - minZ) / 2], [1, 0, 0, 0, 1, 0, 0, 0, 1])
}

/** how far the plane's outline stands outside the void, mm */
const MARGIN_MM = 150
/** how far it stands off the plane into what is kept, so that it is not cut away itself, mm */
const OFF_PLANE_MM = 2

/** The plane's outline round what is shown, mm. */
export function planeOutline(cut: Cut, [minX, minY, minZ, maxX, maxY, maxZ]: BoundsMm): Xyz[] {
  const wide: BoundsMm = [minX - MARGIN_MM, minY - MARGIN_MM, minZ - MARGIN_MM, maxX + MARGIN_MM, maxY + MARGIN_MM, maxZ + MARGIN_MM]
  return sectionOfBounds(cut, wide).map(([x, y, z]): Xyz => [x - OFF_PLANE_MM * cut.towards[0], y - OFF_PLANE_MM * cut.towards[1], z - OFF_PLANE_MM * cut.towards[2]])
}

/**
 * Where the plane's handle is: in the middle of the highest edge of its outline, which is in the picture wherever all of the void
 * is; of several the one with the least x + y, which is the nearest in the first view. Null when the plane misses.
 */
export function handleOf(outline: readonly Xyz[]): Xyz | null {
  const middles = outline.map((p, i): Xyz => {
    const q = outline[(i + 1) % outline.length]
    return [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2, (p[2] + q[2]) / 2]
  })
  return middles.reduce<Xyz | null>((best, p) => {
    if (best === null || p[2] > best[2] + SAME_HEIGHT_MM) return p
    return Math.abs(p[2] - best[2]) <= SAME_HEIGHT_MM && p[0] + p[1] < best[0] + best[1] ? p : best
  }, null)
}

const SAME_HEIGHT_MM = 0.01

/** How far along a line the place lies that is nearest to a ray, mm; null where they run side by side. */
export function alongToRay(from: Xyz, unit: Xyz, { from: eye, direction }: Ray): number | null {
  const size = Math.hypot(...direction)
  const d = [direction[0] / size, direction[1] / size, direction[2] / size], off = [eye[0] - from[0], eye[1] - from[1], eye[2] - from[2]]
  const dot = (a: ArrayLike<number>, b: ArrayLike<number>): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
  const b = dot(unit, d), apart = 1 - b * b
  return apart < 1e-4 ? null : (dot(off, unit) - b * dot(off, d)) / apart
}

/** corners of a box by the signs of their half sizes, and the pairs that edges join */
const CORNERS = Array.from({ length: 8 }, (_, i): Xyz => [i & 1 ? 1 : -1, i & 2 ? 1 : -1, i & 4 ? 1 : -1])
const EDGES: readonly (readonly [number, number])[] = CORNERS.flatMap((_, i) => [1, 2, 4].flatMap((bit): [number, number][] => i & bit ? [] : [[i, i | bit]]))

export function sectionOf(cut: Cut, centre: ArrayLike<number>, half: ArrayLike<number>, axes: ArrayLike<number>): Xyz[] {
  const corners = CORNERS.map((sign): Xyz => {
    const place = (k: number): number => centre[k] + sign[0] * half[0] * axes[k] + sign[1] * half[1] * axes[3 + k] + sign[2] * half[2] * axes[6 + k]
    return [place(0), place(1), place(2)]
  })
  const off = corners.map((corner) => cutAwayBy(cut, ...corner))
  const points = EDGES.flatMap(([a, b]): Xyz[] => {
    if (off[a] < 0 === off[b] < 0) return []
    const t = off[a] / (off[a] - off[b]), p = corners[a], q = corners[b]
    return [[p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1]), p[2] + t * (q[2] - p[2])]]
  })
  return inOrder(points, cut.towards)
}

/** Points of a convex polygon, sorted round it: counter-clockwise seen from the tip of `normal`. */
function inOrder(points: readonly Xyz[], normal: Xyz): Xyz[] {
  if (points.length < 3) return []
  const [u, v] = acrossOf(normal)
  const middle = [0, 1, 2].map((k) => points.reduce((sum, point) => sum + point[k], 0) / points.length)
  const turn = (p: Xyz): number => {
    const along = (axis: Xyz): number => (p[0] - middle[0]) * axis[0] + (p[1] - middle[1]) * axis[1] + (p[2] - middle[2]) * axis[2]
    return Math.atan2(along(v), along(u))
  }
  return points.map((point) => ({ point, at: turn(point) })).sort((a, b) => a.at - b.at).map(({ point }) => point)
}

/** Two unit directions square to a unit direction and to each other; with it right-handed. */
export function acrossOf(n: Xyz): [Xyz, Xyz] {
  const least: Xyz = Math.abs(n[2]) < 0.9 ? [0, 0, 1] : [0, 1, 0]
  const ux = least[1] * n[2] - least[2] * n[1], uy = least[2] * n[0] - least[0] * n[2], uz = least[0] * n[1] - least[1] * n[0]
  const size = Math.hypot(ux, uy, uz)
  const u: Xyz = [ux / size, uy / size, uz / size]
  return [u, [n[1] * u[2] - n[2] * u[1], n[2] * u[0] - n[0] * u[2], n[0] * u[1] - n[1] * u[0]]]
}
