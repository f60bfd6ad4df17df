/** The ceiling zones over which a run lies, from its start to its end. */
import { pointAt } from '#geometry/curve/measure.ts'
import { planHolds } from '#geometry/envelope/zonePrism.ts'
import type { CheckContext } from './context.ts'

export interface ZoneStretch {
  readonly fromMm: number
  readonly toMm: number
  readonly id: string
  readonly name: string
  readonly undersideMm: number
  readonly topMm: number
}

const STEP_MM = 20, WITHIN_MM = 0.01

/** Each stretch with the zone in whose plan it lies; of several, the one whose heights hold the run, or come nearest. Found by looks every 20 mm, its ends to 0.01 mm. */
export function zonesAlong(context: CheckContext, runIndex: number): ZoneStretch[] {
  const { envelope, assembly: { job } } = context
  if (envelope === null) return []
  const { centreline } = context.runs[runIndex].placed
  const point = [0, 0, 0]
  const zoneAt = (stationMm: number): number => {
    pointAt(centreline, stationMm, point)
    let best = -1, least = Infinity
    for (const prism of envelope.prisms) {
      const off = Math.max(prism.bottom - point[2], point[2] - prism.top, 0)
      if (off < least && planHolds(prism, point[0], point[1])) [best, least] = [prism.zone, off]
    }
    return best
  }
  const stretches: ZoneStretch[] = []
  const add = (zone: number, fromMm: number, toMm: number): void => {
    if (zone < 0 || !(toMm > fromMm)) return
    const { id, name, undersideMm, topMm } = job.zones[zone]
    stretches.push({ fromMm, toMm, id, name, undersideMm, topMm })
  }
  const { lengthMm } = centreline
  let fromMm = 0, zone = zoneAt(0)
  for (let last = 0; last < lengthMm;) {
    const next = Math.min(lengthMm, last + STEP_MM), there = zoneAt(next)
    if (there !== zone) {
      let low = last, high = next
      while (high - low > WITHIN_MM) {
        const middle = (low + high) / 2
        if (zoneAt(middle) === zone) low = middle
        else high = middle
      }
      add(zone, fromMm, high)
      fromMm = high
      zone = zoneAt(high)
      last = high
      continue
    }
    last = next
  }
  add(zone, fromMm, lengthMm)
  return stretches
}
