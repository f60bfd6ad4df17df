/** Runs as the peers take them: chains of straight pieces, a bend's no further than 1 mm from its arc. */
import { ARC, ELEMENT_STRIDE, KIND, RADIUS, TURN, type Centreline } from '#geometry/curve/centreline.ts'
import { chordsOf } from '../../oracle/curveDistance.ts'

export type Point = readonly [number, number, number]
export interface Piece { readonly run: number, readonly from: Point, readonly to: Point, readonly lengthMm: number }

export const SAGITTA_MM = 1

export function piecesOf(curves: readonly Centreline[]): Piece[] {
  const pieces: Piece[] = []
  for (const [run, { elements, count }] of curves.entries()) for (let i = 0; i < count; i++) {
    const e = i * ELEMENT_STRIDE
    const most = 2 * Math.acos(1 - SAGITTA_MM / elements[e + RADIUS])
    const { points } = chordsOf(elements, e, elements[e + KIND] === ARC ? Math.ceil(elements[e + TURN] / most) : 1)
    for (let k = 1; k < points.length; k++) {
      const from = points[k - 1], to = points[k]
      pieces.push({ run, from, to, lengthMm: Math.hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2]) })
    }
  }
  return pieces
}

/** What a peer says: clearance by pair, mm, the least over a run's pieces. A run-solid pair's key is run * solids + solid, a run-run pair's run * runs + other. */
export interface PeerAnswer {
  readonly solids: Map<number, number>
  /** null when it is not asked about runs against runs */
  readonly runs: Map<number, number> | null
}

export function keepLeast(pairs: Map<number, number>, key: number, clearanceMm: number): void {
  const there = pairs.get(key)
  if (there === undefined || clearanceMm < there) pairs.set(key, clearanceMm)
}
