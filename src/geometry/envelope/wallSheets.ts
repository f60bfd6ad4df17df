/** The walls of a prism that bound the union: pieces of its sides, each over the heights where nothing goes on beyond. Mm. */
import { ROUNDING_MM, SAME_POINT_MM } from '../tolerance.ts'
import { eachSide, planHolds, plansMeet } from './zonePrism.ts'
import type { ZonePrism } from './zonePrism.ts'

/** Takes one upright rectangle: its plan ends (the prism to the left of a -> b) and its heights. */
export type TakeWall = (ax: number, ay: number, bx: number, by: number, low: number, high: number) => void

/**
 * @param others prisms that touch or overlap this one
 * @param isBefore whether an other comes before this prism: of walls that coincide and face the same way, the first keeps its own
 */
export function wallSheets(
  prism: ZonePrism, others: readonly ZonePrism[], isBefore: (other: ZonePrism) => boolean, take: TakeWall,
): void {
  const near = others.filter(other => other.top > prism.bottom && other.bottom < prism.top && plansMeet(prism, other, SAME_POINT_MM))
  eachSide(prism, (ax, ay, bx, by) => {
    const length = Math.hypot(bx - ax, by - ay)
    if (length <= SAME_POINT_MM) return
    const dx = (bx - ax) / length, dy = (by - ay) / length
    const stops = stopsAlong(ax, ay, dx, dy, length, near)
    let from = 0, open: number[] = []
    const close = (to: number): void => {
      for (let i = 0; i < open.length; i += 2) {
        take(ax + from * dx, ay + from * dy, to === length ? bx : ax + to * dx, to === length ? by : ay + to * dy, open[i], open[i + 1])
      }
    }
    let previous = 0
    for (const stop of stops) {
      if (stop - previous <= SAME_POINT_MM) continue
      const t = (previous + stop) / 2
      // a hair outside the wall, and a hair inside it
      const outX = ax + t * dx + SAME_POINT_MM * dy, outY = ay + t * dy - SAME_POINT_MM * dx
      const inX = ax + t * dx - SAME_POINT_MM * dy, inY = ay + t * dy + SAME_POINT_MM * dx
      const covers = near.filter(other => planHolds(other, outX, outY) || isBefore(other) && planHolds(other, inX, inY) && wallOf(other, ax + t * dx, ay + t * dy))
      const bare = uncovered(prism.bottom, prism.top, covers)
      if (bare.length !== open.length || bare.some((z, i) => z !== open[i])) {
        close(previous)
        from = previous
        open = bare
      }
      previous = stop
    }
    close(length)
  })
}

/** Whether the point is on one of the prism's own sides, or within a hair of it. */
function wallOf(prism: ZonePrism, x: number, y: number): boolean {
  let isOn = false
  eachSide(prism, (ax, ay, bx, by) => {
    const dx = bx - ax, dy = by - ay, length = Math.hypot(dx, dy)
    const t = ((x - ax) * dx + (y - ay) * dy) / length
    if (t >= -SAME_POINT_MM && t <= length + SAME_POINT_MM && Math.abs((x - ax) * dy - (y - ay) * dx) < SAME_POINT_MM * length) isOn = true
  })
  return isOn
}

/** Where along a side other prisms' sides meet or cross it, sorted, ending with its length. */
function stopsAlong(ax: number, ay: number, dx: number, dy: number, length: number, near: readonly ZonePrism[]): number[] {
  const stops = [length]
  const add = (t: number): void => {
    if (t > SAME_POINT_MM && t < length - SAME_POINT_MM) stops.push(t)
  }
  for (const other of near) {
    eachSide(other, (cx, cy, ex, ey) => {
      const t0 = dx * (cx - ax) + dy * (cy - ay), h0 = dx * (cy - ay) - dy * (cx - ax)
      const t1 = dx * (ex - ax) + dy * (ey - ay), h1 = dx * (ey - ay) - dy * (ex - ax)
      if (Math.abs(h0) <= 2 * SAME_POINT_MM) add(t0)
      if (Math.abs(h1) <= 2 * SAME_POINT_MM) add(t1)
      if (h0 < 0 !== h1 < 0 && Math.abs(h1 - h0) > ROUNDING_MM) add(t0 + (t1 - t0) * (h0 / (h0 - h1)))
    })
  }
  return stops.sort((a, b) => a - b)
}

/** The heights between `low` and `high` that no cover reaches: low0, high0, low1, high1, ... */
function uncovered(low: number, high: number, covers: readonly ZonePrism[]): number[] {
  const bare: number[] = []
  let z = low
  for (const cover of [...covers].sort((a, b) => a.bottom - b.bottom)) {
    if (cover.bottom - z > SAME_POINT_MM) bare.push(z, Math.min(cover.bottom, high))
    z = Math.max(z, cover.top)
  }
  if (high - z > SAME_POINT_MM) bare.push(z, high)
  return bare
}
