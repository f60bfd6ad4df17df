/**
 * A physics engine (@dimforge/rapier3d-compat): solids as fixed cuboids, runs as chains of capsules. It counts in floats of 24 bits,
 * and where two overlap it tells the shortest shift that parts them, which for a capsule right through a thin plate is not our depth.
 */
import RAPIER from '@dimforge/rapier3d-compat'
import type { SolidSet } from '#geometry/solid/solidSet.ts'
import { NEAR_MM, OUTER_RADIUS_MM } from '../instance.ts'
import { keepLeast, type PeerAnswer, type Piece } from './pieces.ts'

export const initEngine = (): Promise<void> => RAPIER.init()

interface PlacedPiece {
  readonly piece: Piece
  readonly at: RAPIER.Vector
  readonly turn: RAPIER.Rotation
  readonly shape: RAPIER.Shape
  /** grown by NEAR_MM, to look for what is near */
  readonly looked: RAPIER.Shape
  readonly half: RAPIER.Vector
}

export interface EngineScene {
  readonly world: RAPIER.World
  readonly pieces: readonly PlacedPiece[]
  /** by collider handle: a solid's index, or -1 - piece */
  readonly thing: Map<number, number>
  readonly solidCount: number
  readonly runCount: number
}

/** @param solids boxes only */
export function engineScene(solids: SolidSet, pieces: readonly Piece[], runCount: number): EngineScene {
  const world = new RAPIER.World({ x: 0, y: 0, z: 0 }), thing = new Map<number, number>()
  const { data, offset, count } = solids
  for (let i = 0; i < count; i++) {
    const s = offset[i]
    const collider = world.createCollider(RAPIER.ColliderDesc.cuboid(data[s + 3], data[s + 4], data[s + 5])
      .setTranslation(data[s], data[s + 1], data[s + 2]).setRotation(rotationOf(data.subarray(s + 6, s + 15))))
    thing.set(collider.handle, i)
  }
  const placed = pieces.map((piece): PlacedPiece => {
    const { from, to, lengthMm } = piece, reach = OUTER_RADIUS_MM + NEAR_MM
    return {
      piece, at: vector((from[0] + to[0]) / 2, (from[1] + to[1]) / 2, (from[2] + to[2]) / 2),
      turn: turnFromY((to[0] - from[0]) / lengthMm, (to[1] - from[1]) / lengthMm, (to[2] - from[2]) / lengthMm),
      shape: new RAPIER.Capsule(lengthMm / 2, OUTER_RADIUS_MM), looked: new RAPIER.Capsule(lengthMm / 2, reach),
      half: vector(Math.abs(to[0] - from[0]) / 2 + reach, Math.abs(to[1] - from[1]) / 2 + reach, Math.abs(to[2] - from[2]) / 2 + reach),
    }
  })
  placed.forEach(({ piece, at, turn }, i) => {
    const collider = world.createCollider(RAPIER.ColliderDesc.capsule(piece.lengthMm / 2, OUTER_RADIUS_MM).setTranslation(at.x, at.y, at.z).setRotation(turn))
    thing.set(collider.handle, -1 - i)
  })
  world.step()
  return { world, pieces: placed, thing, solidCount: solids.count, runCount }
}

/** @param way how near colliders are found: by the grown shape itself, or by its bounds */
export function askEngine(scene: EngineScene, way: 'shape' | 'bounds'): PeerAnswer {
  const solids = new Map<number, number>(), runs = new Map<number, number>()
  for (const one of scene.pieces) askAbout(scene, one, way, solids, runs)
  return { solids, runs }
}

function askAbout({ world, pieces, thing, solidCount, runCount }: EngineScene, one: PlacedPiece, way: 'shape' | 'bounds', solids: Map<number, number>, runs: Map<number, number>): void {
  const { at, turn, shape, looked, half, piece: { run } } = one
  const take = (collider: RAPIER.Collider): boolean => {
    const index = thing.get(collider.handle)!
    const other = index < 0 ? pieces[-1 - index].piece.run : -1
    if (index < 0 && other <= run) return true
    const distance = collider.contactShape(shape, at, turn, NEAR_MM)?.distance
    if (distance === undefined || !(distance < NEAR_MM)) return true
    if (index < 0) keepLeast(runs, run * runCount + other, distance)
    else keepLeast(solids, run * solidCount + index, distance)
    return true
  }
  if (way === 'shape') world.intersectionsWithShape(at, turn, looked, take)
  else world.collidersWithAabbIntersectingAabb(at, half, take)
}

/** One run moved: its capsules are taken to their new places and the engine told, then asked about that run alone. */
export function askEngineAgain(scene: EngineScene, run: number): PeerAnswer {
  const solids = new Map<number, number>(), runs = new Map<number, number>()
  scene.world.step()
  for (const one of scene.pieces) if (one.piece.run === run) askAbout(scene, one, 'bounds', solids, runs)
  return { solids, runs }
}

export function endEngine({ world }: EngineScene): void {
  world.free()
}

const vector = (x: number, y: number, z: number): RAPIER.Vector => new RAPIER.Vector3(x, y, z)

/** The shortest turn that takes +y to a unit direction. */
function turnFromY(x: number, y: number, z: number): RAPIER.Rotation {
  if (y < -1 + 1e-12) return { x: 1, y: 0, z: 0, w: 0 }
  const size = Math.hypot(z, x, 1 + y)
  return { x: z / size, y: 0, z: -x / size, w: (1 + y) / size }
}

/** Unit quaternion of three unit axes (columns): Shepperd 1978, the branch of the largest part. */
function rotationOf(a: Float64Array): RAPIER.Rotation {
  const [ux, uy, uz, vx, vy, vz, wx, wy, wz] = a
  const parts = [1 + ux + vy + wz, 1 + ux - vy - wz, 1 - ux + vy - wz, 1 - ux - vy + wz]
  const largest = parts.indexOf(Math.max(...parts))
  const q = largest === 0 ? [parts[0], vz - wy, wx - uz, uy - vx]
    : largest === 1 ? [vz - wy, parts[1], uy + vx, wx + uz]
      : largest === 2 ? [wx - uz, uy + vx, parts[2], vz + wy] : [uy - vx, wx + uz, vz + wy, parts[3]]
  const size = Math.hypot(...q)
  return { w: q[0] / size, x: q[1] / size, y: q[2] / size, z: q[3] / size }
}
