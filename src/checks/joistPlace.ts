/** A place told as it is measured on site: on which joist, and how far along from its datum end. */
import type { PlacedJoist } from '#assembly/assembly.ts'
import { compassOf, type CompassPoint } from '#geometry/compass.ts'
import type { Finding, Place } from './finding.ts'
import { joistWidthMm } from './refs.ts'

export interface JoistPlace {
  readonly joist: PlacedJoist
  /** along it from its datum end, mm */
  readonly alongMm: number
  /** which of its two ends that is, north up in plan */
  readonly datumEnd: CompassPoint
  /** how far beside its faces, mm; 0 on it */
  readonly besideMm: number
}

export function datumEndOf({ along }: PlacedJoist): CompassPoint {
  return compassOf(-along[0], -along[1])
}

/** Farther beside a joist than this a place is not told from it, mm: more than any bay is wide. */
const FARTHEST_MM = 1_200

/** The joist that a finding names, else the nearest that its place lies abreast of; null where there is none near. */
export function joistPlaceOf(joists: readonly PlacedJoist[], { parts, mark }: Pick<Finding, 'parts' | 'mark'>): JoistPlace | null {
  const named = joists.find(({ id }) => parts.some((part) => part.id === id))
  return named === undefined ? nearestJoistPlace(joists, mark) : placeOn(named, mark)
}

export function placeOn(joist: PlacedJoist, { x, y }: Place): JoistPlace {
  const { origin, along, across } = joist, dx = x - origin[0], dy = y - origin[1]
  const off = Math.abs(dx * across[0] + dy * across[1])
  return { joist, alongMm: dx * along[0] + dy * along[1], datumEnd: datumEndOf(joist), besideMm: Math.max(0, off - joistWidthMm(joist) / 2) }
}

function nearestJoistPlace(joists: readonly PlacedJoist[], place: Place): JoistPlace | null {
  let best: JoistPlace | null = null
  for (const joist of joists) {
    const low = joist.origin[2], high = low + joist.section.depthMm
    if (place.z < low - FARTHEST_MM || place.z > high + FARTHEST_MM) continue
    const on = placeOn(joist, place)
    if (on.alongMm < 0 || on.alongMm > joist.lengthMm || on.besideMm > FARTHEST_MM) continue
    if (best === null || on.besideMm < best.besideMm) best = on
  }
  return best
}
