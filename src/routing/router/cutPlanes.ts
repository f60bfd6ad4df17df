/** Upright and level planes in which solids stand: where what must pass through openings can be counted. */
import { webFaces } from '#assembly/openWeb.ts'
import type { CheckContext } from '#checks/context.ts'
import { BOX, PRISM } from '#geometry/solid/solidSet.ts'
import { cross, dot, unit, type Vec } from '../threadVector.ts'
import type { ProvedRun } from './provedShut.ts'

/** Every x with normal . x = offMm; along and up are square to it and to each other, all unit. */
export interface CutPlane { readonly normal: Vec, readonly offMm: number, readonly along: Vec, readonly up: Vec }

/** A board or wall is so much longer than it is thick, or it is no cut. */
const LONG_TIMES = 3
/** more planes than this are not looked at */
const MOST_PLANES = 400
const SAME_MM = 0.5

/** Planes between the ends of a run: through the webs and flanges of each joist, and through the middle of each board and wall. Each once. */
export function cutPlanes({ assembly: { joists, solids }, joistOfSolid }: CheckContext, { from, to }: ProvedRun): CutPlane[] {
  const planes: CutPlane[] = []
  const add = (normal: Vec, through: ArrayLike<number>): void => {
    const offMm = normal[0] * through[0] + normal[1] * through[1] + normal[2] * through[2]
    if ((dot(normal, from.at) - offMm) * (dot(normal, to.at) - offMm) >= 0) return
    if (planes.length >= MOST_PLANES || planes.some((one) => Math.abs(Math.abs(dot(one.normal, normal)) - 1) < 1e-9 && Math.abs(one.offMm * Math.sign(dot(one.normal, normal)) - offMm) < SAME_MM)) return
    const along = Math.abs(normal[2]) > 0.9 ? unit(cross([0, 1, 0], normal)) : unit(cross([0, 0, 1], normal))
    planes.push({ normal, offMm, along, up: cross(normal, along) })
  }
  for (const { section, origin, across } of joists) {
    const aside = section.kind === 'open-web' ? webFaces(section).map(({ n0, n1 }) => (n0 + n1) / 2) : [0]
    for (const n of aside) add(across, origin.map((c, k) => c + n * across[k]))
  }
  const { data, kind, offset } = solids
  for (let i = 0; i < solids.count; i++) {
    if (joistOfSolid[i] >= 0) continue
    const s = offset[i], axes = [vecAt(data, s + (kind[i] === BOX ? 6 : 3)), vecAt(data, s + (kind[i] === BOX ? 9 : 6)), vecAt(data, s + (kind[i] === BOX ? 12 : 9))]
    if (kind[i] === BOX) {
      const half = [data[s + 3], data[s + 4], data[s + 5]]
      const thin = half.indexOf(Math.min(...half))
      if (LONG_TIMES * half[thin] <= Math.max(...half)) add(axes[thin], data.subarray(s, s + 3))
    } else if (kind[i] === PRISM) wallsOf(data, s, axes, add)
  }
  return planes
}

/** A wall drawn as a prism: half its thickness behind each long side of its outline there is a plane, as far as it is a rectangle or made of them. */
function wallsOf(data: Float64Array, s: number, [u, v]: readonly Vec[], add: (normal: Vec, through: ArrayLike<number>) => void): void {
  const count = data[s + 15], at = s + 16
  for (let i = 0; i < count; i++) {
    const a = at + 2 * i, b = at + 2 * ((i + 1) % count), c = at + 2 * ((i + 2) % count)
    const du = data[b] - data[a], dv = data[b + 1] - data[a + 1], long = Math.hypot(du, dv)
    const thick = Math.hypot(data[c] - data[b], data[c + 1] - data[b + 1])
    if (!(long > 0) || LONG_TIMES * thick > long) continue
    // outlines are counter-clockwise: the inside is to the left
    const inU = -dv / long, inV = du / long
    const mu = data[a] + inU * thick / 2, mv = data[a + 1] + inV * thick / 2
    const through = [0, 1, 2].map((k) => data[s + k] + mu * u[k] + mv * v[k])
    add([0, 1, 2].map((k) => inU * u[k] + inV * v[k]) as unknown as Vec, through)
  }
}

function vecAt(data: Float64Array, i: number): Vec {
  return [data[i], data[i + 1], data[i + 2]]
}
