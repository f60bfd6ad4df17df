/** A run on its way through a joist: where it comes to a depth, and the least room it has from the joist's members there. */
import type { PlacedJoist } from '#assembly/assembly.ts'
import { ANSWER_SIZE } from '#geometry/clearance/index.ts'
import type { Centreline } from '#geometry/curve/centreline.ts'
import { pointAt } from '#geometry/curve/measure.ts'
import { SAME_POINT_MM } from '#geometry/tolerance.ts'
import type { CheckContext } from './context.ts'
import { joistWidthMm } from './refs.ts'
import { stretchToSolid } from './stretch.ts'

/** Where the run, followed from the middle plane one way, is so far from it; the run's end when it ends before, or the place where it turns back. */
export function stationAtDepth(curve: Centreline, { origin, across }: PlacedJoist, middleMm: number, depthMm: number, way: 1 | -1): number {
  const { lengthMm } = curve
  const beyond = (stationMm: number): number => {
    pointAt(curve, stationMm, point)
    return Math.abs((point[0] - origin[0]) * across[0] + (point[1] - origin[1]) * across[1]) - depthMm
  }
  const limit = way > 0 ? lengthMm : 0
  let near = middleMm
  for (let k = 1; k <= FARTHEST_QUARTERS; k++) {
    let far = Math.min(Math.max(middleMm + way * k * depthMm / 4, 0), lengthMm)
    if (beyond(far) < 0) {
      if (far === limit) return limit
      near = far
      continue
    }
    while (Math.abs(far - near) > SAME_POINT_MM) {
      const middle = (near + far) / 2
      if (beyond(middle) < 0) near = middle
      else far = middle
    }
    return far
  }
  return near
}

/** A run that is still within the joist after twenty times half its thickness goes along it. */
const FARTHEST_QUARTERS = 80

const point: [number, number, number] = [0, 0, 0]
const answer = new Float64Array(ANSWER_SIZE)

/**
 * Least signed clearance, mm, between the run's surface and any member of the joist, bends and all, while any of the duct can be within the joist's thickness:
 * what a clash check of that stretch measures. Infinity for a joist without a proper body.
 */
export function spareThroughJoist(context: CheckContext, runIndex: number, joistIndex: number, stationMm: number): number {
  const { centreline, outerRadiusMm } = context.runs[runIndex].placed, joist = context.assembly.joists[joistIndex]
  const { section } = joist, platesMm = section.kind === 'open-web' ? section.webThicknessMm : 0
  const depthMm = joistWidthMm(joist) / 2 + platesMm + outerRadiusMm
  const fromMm = stationAtDepth(centreline, joist, stationMm, depthMm, -1), toMm = stationAtDepth(centreline, joist, stationMm, depthMm, 1)
  let leastMm = Infinity
  for (let solidIndex = joist.firstSolid; solidIndex < joist.endSolid; solidIndex++) {
    if (context.isSound[solidIndex] === 0) continue
    leastMm = Math.min(leastMm, stretchToSolid(centreline, fromMm, toMm, context.assembly.solids, solidIndex, leastMm, answer))
  }
  return leastMm - outerRadiusMm
}
