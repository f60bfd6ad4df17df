/** Ceiling zones as upright prisms in plan coordinates, mm, z up. */
import { ringsOf } from '../solid/degenerate.ts'
import { ringHolds } from '../solid/ring.ts'
import { PRISM } from '../solid/solidSet.ts'
import type { SolidSet } from '../solid/solidSet.ts'
import { SAME_POINT_MM } from '../tolerance.ts'

/** One upright prism: a zone, or a filling between two of them. */
export interface ZonePrism {
  /** which zone of the caller's set it is, or fills a gap of */
  readonly zone: number
  /** plan: the outline counter-clockwise, then the holes clockwise; x0, y0, x1, y1, ... */
  readonly rings: readonly Float64Array[]
  readonly bottom: number
  readonly top: number
  readonly minX: number
  readonly minY: number
  readonly maxX: number
  readonly maxY: number
}

/** A prism from its plan rings (oriented as above) and heights. */
export function zonePrism(zone: number, rings: readonly Float64Array[], bottom: number, top: number): ZonePrism {
  let minX = Infinity, minY = Infinity, maxX = -Infinity, maxY = -Infinity
  const outline = rings[0]
  for (let i = 0; i < outline.length; i += 2) {
    minX = Math.min(minX, outline[i])
    maxX = Math.max(maxX, outline[i])
    minY = Math.min(minY, outline[i + 1])
    maxY = Math.max(maxY, outline[i + 1])
  }
  return { zone, rings, bottom, top, minX, minY, maxX, maxY }
}

/**
 * The zones of a set as prisms, leaving out those with no height or no outline.
 * @throws when a solid is not a prism standing upright (w = +z)
 */
export function zonePrismsOf(zones: SolidSet): ZonePrism[] {
  const prisms: ZonePrism[] = []
  for (let zone = 0; zone < zones.count; zone++) {
    const { data } = zones, s = zones.offset[zone]
    if (zones.kind[zone] !== PRISM || Math.abs(data[s + 11] - 1) > SAME_POINT_MM) {
      throw new Error(`zonePrismsOf: a zone must be an upright prism, got kind ${zones.kind[zone]} at index ${zone}`)
    }
    const x0 = data[s], y0 = data[s + 1], z0 = data[s + 2]
    const rings = ringsOf(data, s).map(ring => {
      const plan = new Float64Array(ring.length)
      for (let i = 0; i < ring.length; i += 2) {
        plan[i] = x0 + ring[i] * data[s + 3] + ring[i + 1] * data[s + 6]
        plan[i + 1] = y0 + ring[i] * data[s + 4] + ring[i + 1] * data[s + 7]
      }
      return plan
    })
    const bottom = z0 + data[s + 12], top = z0 + data[s + 13]
    if (rings.length === 0 || rings[0].length < 6 || !(top - bottom > SAME_POINT_MM)) continue
    prisms.push(zonePrism(zone, rings, bottom, top))
  }
  return prisms
}

/** Whether a plan point lies in the prism's plan (even-odd over all rings; on an edge it may go either way). */
export function planHolds(prism: ZonePrism, x: number, y: number): boolean {
  if (x < prism.minX || x > prism.maxX || y < prism.minY || y > prism.maxY) return false
  let inside = false
  for (const ring of prism.rings) if (ringHolds(ring, x, y)) inside = !inside
  return inside
}

/** Whether a plan point lies in the prism's plan or within SAME_POINT_MM of it. */
export function planNearlyHolds(prism: ZonePrism, x: number, y: number): boolean {
  const hair = SAME_POINT_MM / 2
  return planHolds(prism, x, y) || planHolds(prism, x - hair, y - hair) || planHolds(prism, x + hair, y - hair)
    || planHolds(prism, x - hair, y + hair) || planHolds(prism, x + hair, y + hair)
}

/** Whether two prisms' plan bounds come within `reachMm` of each other. */
export function plansMeet(a: ZonePrism, b: ZonePrism, reachMm: number): boolean {
  return a.minX - reachMm <= b.maxX && b.minX - reachMm <= a.maxX && a.minY - reachMm <= b.maxY && b.minY - reachMm <= a.maxY
}

/** Calls `edge` with both ends of every side of every ring, the prism's inside to its left. */
export function eachSide(prism: ZonePrism, edge: (ax: number, ay: number, bx: number, by: number) => void): void {
  for (const ring of prism.rings) {
    for (let i = 0; i < ring.length; i += 2) {
      const j = i + 2 < ring.length ? i + 2 : 0
      edge(ring[i], ring[i + 1], ring[j], ring[j + 1])
    }
  }
}

/** For each prism, the others whose plan bounds come within `reachMm`, found by sweeping along x. */
export function neighboursOf(prisms: readonly ZonePrism[], reachMm: number): number[][] {
  const order = prisms.map((_, i) => i).sort((i, j) => prisms[i].minX - prisms[j].minX)
  const near: number[][] = prisms.map(() => [])
  let open: number[] = []
  for (const i of order) {
    open = open.filter(j => prisms[j].maxX + reachMm >= prisms[i].minX)
    for (const j of open) {
      if (!plansMeet(prisms[i], prisms[j], reachMm)) continue
      near[i].push(j)
      near[j].push(i)
    }
    open.push(i)
  }
  return near
}
