/**
 * What closes the slits between zones that were meant to touch: thin prisms of their own, so that the zones themselves
 * stay where they were drawn. Three kinds: between facing walls, at a corner where three zones nearly meet, and between
 * a zone's top and the underside of one standing on it. Plan and heights in mm.
 */
import { ROUNDING_MM, SAME_POINT_MM, WALLS_FACE_SIN, ZONES_TOUCH_MM } from '../tolerance.ts'
import { planCells } from './planCells.ts'
import { eachSide, neighboursOf, planHolds, zonePrism } from './zonePrism.ts'
import type { ZonePrism } from './zonePrism.ts'

/** The zones' fillings, each with the index of one of the zones it joins. */
export function gapFillings(zones: readonly ZonePrism[]): ZonePrism[] {
  const near = neighboursOf(zones, ZONES_TOUCH_MM)
  const upright: ZonePrism[] = []
  for (let i = 0; i < zones.length; i++) {
    for (const j of near[i]) if (i < j) fillBetweenWalls(zones[i], zones[j], upright)
    if (near[i].length > 1) fillCorners(zones[i], near[i].map(j => zones[j]), upright)
  }
  return [...upright, ...fillBetweenStoreys([...zones, ...upright])]
}

function fillBetweenWalls(a: ZonePrism, b: ZonePrism, out: ZonePrism[]): void {
  const bottom = Math.max(a.bottom, b.bottom), top = Math.min(a.top, b.top)
  if (top - bottom <= SAME_POINT_MM) return
  eachSide(a, (ax, ay, bx, by) => {
    const length = Math.hypot(bx - ax, by - ay)
    if (length <= SAME_POINT_MM) return
    const dx = (bx - ax) / length, dy = (by - ay) / length
    eachSide(b, (cx, cy, ex, ey) => {
      const otherLength = Math.hypot(ex - cx, ey - cy)
      // facing walls run opposite ways, each with its zone on the left
      if (Math.abs(dx * (ey - cy) - dy * (ex - cx)) > WALLS_FACE_SIN * otherLength || dx * (ex - cx) + dy * (ey - cy) >= 0) return
      // along this wall and out from it, of the other wall's ends; its end comes first along this wall
      const t0 = dx * (ex - ax) + dy * (ey - ay), h0 = dy * (ex - ax) - dx * (ey - ay)
      const t1 = dx * (cx - ax) + dy * (cy - ay), h1 = dy * (cx - ax) - dx * (cy - ay)
      const slope = (h1 - h0) / (t1 - t0)
      let from = Math.max(t0, 0), to = Math.min(t1, length)
      for (const limit of [0, ZONES_TOUCH_MM]) {
        // keep the stretch where the gap is between nothing and ZONES_TOUCH_MM
        const isWithin = (t: number): boolean => {
          const gap = h0 + slope * (t - t0)
          return limit === 0 ? gap >= -ROUNDING_MM : gap <= limit
        }
        const cross = t0 + (limit - h0) / slope
        if (!isWithin(from)) from = slope !== 0 && cross > from ? cross : Infinity
        else if (!isWithin(to)) to = cross
      }
      if (!(to - from > SAME_POINT_MM)) return
      const gap0 = h0 + slope * (from - t0), gap1 = h0 + slope * (to - t0)
      if (Math.max(gap0, gap1) <= SAME_POINT_MM) return
      const at = (t: number, h: number): [number, number] => [ax + t * dx + h * dy, ay + t * dy - h * dx]
      pushHull(a.zone, [at(from, 0), at(to, 0), at(to, gap1), at(from, gap0)], bottom, top, out)
    })
  })
}

function fillCorners(zone: ZonePrism, near: readonly ZonePrism[], out: ZonePrism[]): void {
  eachSide(zone, (x, y) => {
    const others = near.filter(other => nearestOnSides(other, x, y) !== null)
    for (let j = 0; j < others.length; j++) {
      for (let k = 0; k < j; k++) {
        const three = [zone, others[j], others[k]]
        const bottom = Math.max(...three.map(prism => prism.bottom)), top = Math.min(...three.map(prism => prism.top))
        if (top - bottom <= SAME_POINT_MM) continue
        const points: [number, number][] = []
        for (const prism of three) {
          eachSide(prism, (cx, cy) => {
            if (Math.hypot(cx - x, cy - y) > 2 * ZONES_TOUCH_MM) return
            points.push([cx, cy])
            for (const other of three) {
              const foot = other === prism ? null : nearestOnSides(other, cx, cy)
              if (foot) points.push(foot)
            }
          })
        }
        pushHull(zone.zone, points, bottom, top, out)
      }
    }
  })
}

function fillBetweenStoreys(prisms: readonly ZonePrism[]): ZonePrism[] {
  const fillings: ZonePrism[] = []
  const near = neighboursOf(prisms, 0)
  for (let i = 0; i < prisms.length; i++) {
    const below = prisms[i]
    for (const j of near[i]) {
      const above = prisms[j], gap = above.bottom - below.top
      if (!(gap > SAME_POINT_MM && gap <= ZONES_TOUCH_MM)) continue
      for (const ring of planCells(below, [above], (x, y) => planHolds(below, x, y) && planHolds(above, x, y))) {
        fillings.push(zonePrism(below.zone, [ring], below.top, above.bottom))
      }
    }
  }
  return fillings
}

/** The point of the prism's walls nearest to a plan point, or null when it is further than ZONES_TOUCH_MM. */
function nearestOnSides(prism: ZonePrism, x: number, y: number): [number, number] | null {
  if (x < prism.minX - ZONES_TOUCH_MM || x > prism.maxX + ZONES_TOUCH_MM) return null
  let nearest = ZONES_TOUCH_MM, foot: [number, number] | null = null
  eachSide(prism, (ax, ay, bx, by) => {
    const dx = bx - ax, dy = by - ay
    const t = Math.min(Math.max(((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy || 1), 0), 1)
    const px = ax + t * dx, py = ay + t * dy, apart = Math.hypot(px - x, py - y)
    if (apart > nearest) return
    nearest = apart
    foot = [px, py]
  })
  return foot
}

/** Adds the convex hull of the points as a prism, unless it has no width. Andrew's monotone chain. */
function pushHull(zone: number, points: [number, number][], bottom: number, top: number, out: ZonePrism[]): void {
  const sorted = points.sort((p, q) => p[0] - q[0] || p[1] - q[1])
  const chain = (order: readonly [number, number][]): [number, number][] => {
    const kept: [number, number][] = []
    for (const p of order) {
      for (let n = kept.length; n > 1; n = kept.length) {
        const a = kept[n - 2], b = kept[n - 1]
        if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 0) break
        kept.pop()
      }
      kept.push(p)
    }
    return kept.slice(0, -1)
  }
  const hull = [...chain(sorted), ...chain(sorted.reverse())]
  let twiceArea = 0, longest = 0
  for (let i = 0; i < hull.length; i++) {
    const a = hull[i], b = hull[(i + 1) % hull.length]
    twiceArea += (a[0] - hull[0][0]) * (b[1] - hull[0][1]) - (a[1] - hull[0][1]) * (b[0] - hull[0][0])
    longest = Math.max(longest, Math.hypot(b[0] - a[0], b[1] - a[1]))
  }
  if (hull.length < 3 || twiceArea <= SAME_POINT_MM * longest) return
  out.push(zonePrism(zone, [Float64Array.from(hull.flat())], bottom, top))
}
