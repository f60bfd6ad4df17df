/**
 * The one place that knows how site millimetres become scene units. The scene keeps z up and right-handed; one scene
 * unit is a metre, measured from the middle of what is shown, so that 32-bit buffers keep a hundredth of a millimetre
 * on a building a kilometre from its datum.
 */
import type { Assembly } from '#assembly/assembly.ts'

export const MM_PER_UNIT = 1_000

/** minX, minY, minZ, maxX, maxY, maxZ, mm */
export type BoundsMm = readonly [number, number, number, number, number, number]
export type Xyz = readonly [number, number, number]

export interface Frame {
  /** the site point that lies at the scene's 0,0,0, mm */
  readonly originMm: Xyz
  /** what is shown, mm */
  readonly boundsMm: BoundsMm
}

/** Where nothing is drawn yet: a room-sized box, so that the camera has something to stand off from. */
export const EMPTY_BOUNDS_MM: BoundsMm = [0, 0, 0, 4_000, 4_000, 2_400]

/** @param boundsMm several things' bounds, six numbers each; not finite ones are passed over */
export function boundsOver(...boundsMm: ArrayLike<number>[]): BoundsMm {
  let minX = Infinity, minY = Infinity, minZ = Infinity, maxX = -Infinity, maxY = -Infinity, maxZ = -Infinity
  for (const six of boundsMm) {
    for (let i = 0; i + 5 < six.length; i += 6) {
      if (!(six[i] <= six[i + 3])) continue
      minX = Math.min(minX, six[i]); minY = Math.min(minY, six[i + 1]); minZ = Math.min(minZ, six[i + 2])
      maxX = Math.max(maxX, six[i + 3]); maxY = Math.max(maxY, six[i + 4]); maxZ = Math.max(maxZ, six[i + 5])
    }
  }
  return minX <= maxX ? [minX, minY, minZ, maxX, maxY, maxZ] : EMPTY_BOUNDS_MM
}

/** The frame of a whole job: what is shown first is the void itself (ceiling zones and joists), not every wall and duct down to the ground. */
export function frameOf(assembly: Assembly): Frame {
  const { solids, zones, joists, runs } = assembly
  const joistBounds = joists.map(({ firstSolid, endSolid }) => solids.bounds.subarray(6 * firstSolid, 6 * endSolid))
  const theVoid = [zones.bounds, ...joistBounds]
  if (theVoid.some((six) => six.length > 0)) return frameOver(boundsOver(...theVoid))
  return frameOver(boundsOver(solids.bounds, ...runs.flatMap(({ run }) => run.waypoints.map(({ at }) => [...at, ...at]))))
}

export function frameOver(boundsMm: BoundsMm): Frame {
  const [minX, minY, minZ, maxX, maxY, maxZ] = boundsMm
  return { originMm: [(minX + maxX) / 2, (minY + maxY) / 2, (minZ + maxZ) / 2], boundsMm }
}

/** Site mm -> scene. */
export function toScene(frame: Frame, x: number, y: number, z: number): [number, number, number] {
  const [ox, oy, oz] = frame.originMm
  return [(x - ox) / MM_PER_UNIT, (y - oy) / MM_PER_UNIT, (z - oz) / MM_PER_UNIT]
}

/** Scene -> site mm. */
export function toSiteMm(frame: Frame, x: number, y: number, z: number): [number, number, number] {
  const [ox, oy, oz] = frame.originMm
  return [x * MM_PER_UNIT + ox, y * MM_PER_UNIT + oy, z * MM_PER_UNIT + oz]
}

export const toSceneLength = (mm: number): number => mm / MM_PER_UNIT
