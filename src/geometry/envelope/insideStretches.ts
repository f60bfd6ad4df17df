/** Where a centreline runs inside the void, exact at every crossing of a zone's faces. Stations in mm along the run. */
import type { BoxIndex } from '../broad/boxIndex.ts'
import { IndexList } from '../broad/indexList.ts'
import {
  ARC, CENTRE_X, ELEMENT_STRIDE, KIND, LENGTH, RADIAL_X, RADIUS, START_X, STATION, TANGENT_X,
} from '../curve/centreline.ts'
import type { Centreline } from '../curve/centreline.ts'
import { elementBounds, pointOfElement } from '../curve/measure.ts'
import { ROUNDING_MM, SAME_POINT_MM, SEAM_MM } from '../tolerance.ts'
import { eachSide, planNearlyHolds } from './zonePrism.ts'
import type { ZonePrism } from './zonePrism.ts'

const found = new IndexList()
const bounds = new Float64Array(6), point = new Float64Array(3)

/**
 * The stretches between two stations that lie in the union of the prisms (`index` holds their bounds), in order and apart: from0, to0, from1, to1, ...
 * Stretches less than SEAM_MM apart are joined: that is the seam between two zones, not a way out.
 */
export function insideStretches(
  curve: Centreline, prisms: readonly ZonePrism[], index: BoxIndex, fromMm: number, toMm: number,
): number[] {
  const { elements } = curve
  const pairs: [number, number][] = []
  for (let e = 0; e < elements.length; e += ELEMENT_STRIDE) {
    const station = elements[e + STATION]
    const from = Math.max(fromMm - station, 0), to = Math.min(toMm - station, elements[e + LENGTH])
    if (!(to >= from)) continue
    elementBounds(elements, e, bounds)
    const hair = SAME_POINT_MM
    const count = index.near(bounds[0] - hair, bounds[1] - hair, bounds[2] - hair, bounds[3] + hair, bounds[4] + hair, bounds[5] + hair, found)
    for (let n = 0; n < count; n++) {
      const prism = prisms[found.items[n]]
      const cuts = [from, to]
      const add = (alongMm: number): void => {
        if (alongMm > from && alongMm < to) cuts.push(alongMm)
      }
      crossings(elements, e, 0, 0, 1, prism.bottom, add)
      crossings(elements, e, 0, 0, 1, prism.top, add)
      eachSide(prism, (ax, ay, bx, by) => {
        const length = Math.hypot(bx - ax, by - ay)
        if (length <= SAME_POINT_MM) return
        const nx = (by - ay) / length, ny = (ax - bx) / length
        crossings(elements, e, nx, ny, 0, nx * ax + ny * ay, add)
      })
      cuts.sort((a, b) => a - b)
      for (let i = 1; i < cuts.length; i++) {
        if (cuts[i] - cuts[i - 1] <= ROUNDING_MM && to > from) continue
        pointOfElement(elements, e, (cuts[i] + cuts[i - 1]) / 2, point)
        // a run along a seam is in the void, whichever side rounding puts it
        if (point[2] < prism.bottom - SAME_POINT_MM || point[2] > prism.top + SAME_POINT_MM) continue
        if (!planNearlyHolds(prism, point[0], point[1])) continue
        pairs.push([station + cuts[i - 1], station + cuts[i]])
      }
    }
  }
  pairs.sort((a, b) => a[0] - b[0])
  const joined: number[] = []
  for (const [from, to] of pairs) {
    const n = joined.length
    if (n > 0 && from - joined[n - 1] <= SEAM_MM) joined[n - 1] = Math.max(joined[n - 1], to)
    else joined.push(from, to)
  }
  return joined
}

/** Calls `add` with how far along the element it meets the plane n . p = c (mm from its start, perhaps beyond its ends). */
function crossings(
  elements: Float64Array, e: number, nx: number, ny: number, nz: number, c: number, add: (alongMm: number) => void,
): void {
  const across = (k: number): number => nx * elements[e + k] + ny * elements[e + k + 1] + nz * elements[e + k + 2]
  if (elements[e + KIND] !== ARC) {
    const slope = across(RADIAL_X)
    if (slope !== 0) add((c - across(START_X)) / slope)
    return
  }
  const radius = elements[e + RADIUS]
  const a = across(RADIAL_X), b = across(TANGENT_X)
  const cosine = (c - across(CENTRE_X)) / (radius * Math.hypot(a, b))
  if (!(Math.abs(cosine) <= 1)) return
  const peak = Math.atan2(b, a), off = Math.acos(cosine)
  for (const angle of [peak - off, peak + off]) add(radius * (angle - 2 * Math.PI * Math.floor(angle / (2 * Math.PI))))
}
