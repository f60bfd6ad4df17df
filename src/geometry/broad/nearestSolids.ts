import { ANSWER_SIZE, curveDistance } from '../clearance/index.ts'
import { ELEMENT_STRIDE } from '../curve/centreline.ts'
import type { Centreline } from '../curve/centreline.ts'
import type { SolidSet } from '../solid/solidSet.ts'
import { IndexList } from './indexList.ts'
import type { SolidGrid } from './solidGrid.ts'

/** A solid near a run. */
export interface NearSolid {
  readonly solidIndex: number
  /** least signed distance from the run's centreline, mm; no radius taken off */
  readonly distanceMm: number
  /** the whole answer of curveDistance: points and station */
  readonly answer: Float64Array
}

/** The first look around a run, mm: a handful of members in an ordinary void. */
const FIRST_REACH_MM = 100

const found = new IndexList()

/**
 * The k solids nearest to a run, nearest first, with exact distances; fewer when the set has fewer. The search widens until k lie
 * within its reach: everything nearer than the reach has then been measured.
 */
export function nearestSolids(curve: Centreline, set: SolidSet, grid: SolidGrid, k: number): NearSolid[] {
  const wanted = Math.min(k, set.count)
  if (wanted <= 0) return []
  for (let reachMm = FIRST_REACH_MM; ; reachMm *= 2) {
    const candidates = new Set<number>()
    for (let i = 0; i < curve.count; i++) {
      const count = grid.nearElement(curve.elements, i * ELEMENT_STRIDE, reachMm, found)
      for (let j = 0; j < count; j++) candidates.add(found.items[j])
    }
    const last = reachMm === Infinity
    if (candidates.size < wanted && !last) continue
    const near: NearSolid[] = []
    for (const solidIndex of candidates) {
      const answer = new Float64Array(ANSWER_SIZE)
      const distanceMm = curveDistance(curve, set, solidIndex, reachMm, answer)
      if (distanceMm <= reachMm) near.push({ solidIndex, distanceMm, answer })
    }
    if (near.length < wanted && !last) continue
    near.sort((a, b) => a.distanceMm - b.distanceMm || a.solidIndex - b.solidIndex)
    return near.slice(0, wanted)
  }
}
