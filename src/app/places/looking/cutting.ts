/** The cut-away as a builder sets it: along the joists, across them or level, at a distance from the datum. */
import type { Assembly } from '#assembly/assembly.ts'
import type { Cut } from '#scene/cutAway.ts'
import type { BoundsMm, Xyz } from '#scene/frame.ts'
import { frameOf } from '#scene/frame.ts'
import { viewing } from './viewing.ts'

export type CutWay = 'along' | 'across' | 'level'
export const CUT_WAYS: readonly CutWay[] = ['across', 'along', 'level']
export const CUT_WORDS: Record<CutWay, string> = { across: 'Across the joists', along: 'Along the joists', level: 'Level' }

/** Square to the plane of each way. The way of the first joist counts, and +x where there is none; each points to +x, +y or up, so that distances are read from the datum. */
export function normalOf(assembly: Assembly, way: CutWay): Xyz {
  if (way === 'level') return [0, 0, 1]
  const [x, y] = assembly.joists[0]?.along ?? [1, 0]
  const [nx, ny] = way === 'across' ? [x, y] : [-y, x]
  const isBackward = Math.abs(nx) > Math.abs(ny) ? nx < 0 : ny < 0
  return isBackward ? [-nx + 0, -ny + 0, 0] : [nx + 0, ny + 0, 0]
}

export interface CutSetting {
  /** null for a plane from a file that is askew to the joists */
  readonly way: CutWay | null
  readonly normal: Xyz
  /** of the plane from the datum, along `normal` */
  readonly positionMm: number
  /** what lies beyond the plane is cut away, or what lies before it */
  readonly keepsLow: boolean
}

const SAME_WAY = 1 - 1e-9

export function settingOf(assembly: Assembly, { at, towards }: Cut): CutSetting {
  for (const way of CUT_WAYS) {
    const normal = normalOf(assembly, way), along = dot(normal, towards)
    if (Math.abs(along) > SAME_WAY) return { way, normal, positionMm: dot(normal, at), keepsLow: along > 0 }
  }
  return { way: null, normal: towards, positionMm: dot(towards, at), keepsLow: true }
}

export function cutAt(normal: Xyz, positionMm: number, keepsLow: boolean): Cut {
  const sign = keepsLow ? 1 : -1
  return { at: times(normal, positionMm), towards: times(normal, sign) }
}

/** From where to where the plane may be put to meet what is shown, mm. */
export function reachOf(normal: Xyz, [minX, minY, minZ, maxX, maxY, maxZ]: BoundsMm): readonly [number, number] {
  const low = [minX, minY, minZ], high = [maxX, maxY, maxZ]
  let least = 0, most = 0
  for (let k = 0; k < 3; k++) {
    least += Math.min(normal[k] * low[k], normal[k] * high[k])
    most += Math.max(normal[k] * low[k], normal[k] * high[k])
  }
  return [Math.floor(least), Math.ceil(most)]
}

/** Begins a cut in the middle of what is shown; what is nearer to the first view is cut away. */
export function startCut(assembly: Assembly, way: CutWay): void {
  const normal = normalOf(assembly, way)
  const [low, high] = reachOf(normal, frameOf(assembly).boundsMm)
  viewing.setState({ cut: cutAt(normal, Math.round((low + high) / 2), way === 'level') })
}

export function moveCut(assembly: Assembly, positionMm: number): void {
  const { cut } = viewing.getState()
  if (cut === null) return
  const { normal, keepsLow } = settingOf(assembly, cut)
  viewing.setState({ cut: cutAt(normal, positionMm, keepsLow) })
}

export function flipCut(): void {
  const { cut } = viewing.getState()
  if (cut !== null) viewing.setState({ cut: { at: cut.at, towards: times(cut.towards, -1) } })
}

function dot(a: Xyz, b: Xyz): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

function times([x, y, z]: Xyz, by: number): Xyz {
  return [x * by + 0, y * by + 0, z * by + 0]
}
