/** Where along a run a place is. */
import { angleNearest } from '../clearance/pointArc.ts'
import { ARC, ELEMENT_STRIDE, KIND, LENGTH, RADIAL_X, RADIUS, START_X, STATION } from './centreline.ts'
import type { Centreline } from './centreline.ts'
import { pointOfElement } from './measure.ts'

const foot = new Float64Array(3)

/** @returns distance from the run's start to the point of its centreline that is nearest to (x, y, z), mm: exact, element by element */
export function stationNear({ elements, count }: Centreline, x: number, y: number, z: number): number {
  let best = Infinity, stationMm = 0
  for (let e = 0; e < count * ELEMENT_STRIDE; e += ELEMENT_STRIDE) {
    const along = elements[e + KIND] === ARC ? elements[e + RADIUS] * angleNearest(elements, e, x, y, z)
      : Math.min(Math.max((x - elements[e + START_X]) * elements[e + RADIAL_X] + (y - elements[e + START_X + 1]) * elements[e + RADIAL_X + 1]
        + (z - elements[e + START_X + 2]) * elements[e + RADIAL_X + 2], 0), elements[e + LENGTH])
    pointOfElement(elements, e, along, foot)
    const away = Math.hypot(x - foot[0], y - foot[1], z - foot[2])
    if (away < best) {
      best = away
      stationMm = elements[e + STATION] + along
    }
  }
  return stationMm
}
