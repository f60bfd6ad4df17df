/** Cutting a polygon into convex cells along the sides of others: slabs square to one direction, then trapezoids. Plan, mm. */
import { ROUNDING_MM, SAME_POINT_MM } from '../tolerance.ts'
import { eachSide } from './zonePrism.ts'
import type { ZonePrism } from './zonePrism.ts'

/** A side run through from low x to high x, in the turned frame. */
interface Side {
  readonly x0: number
  readonly y0: number
  readonly x1: number
  readonly y1: number
}

interface OpenCell {
  readonly from: number
  to: number
  readonly low: Side
  readonly high: Side
}

/**
 * The parts of `subject`'s plan where `keep` holds, as convex rings (counter-clockwise). `keep` is asked once for each
 * cell, at its middle, so it must not change but across sides of `subject` and `cutters`, and must be false outside `subject`.
 * Cells follow the subject's longest side, so a rectangle stays one cell however it is turned.
 */
export function planCells(
  subject: ZonePrism, cutters: readonly ZonePrism[], keep: (x: number, y: number) => boolean,
): Float64Array[] {
  const [c, s] = longestDirection(subject)
  const sides: Side[] = [], breaks: number[] = []
  let minX = Infinity, minY = Infinity, maxX = -Infinity, maxY = -Infinity
  for (const prism of [subject, ...cutters]) {
    eachSide(prism, (ax, ay, bx, by) => {
      const x0 = c * ax + s * ay, y0 = c * ay - s * ax, x1 = c * bx + s * by, y1 = c * by - s * bx
      if (prism === subject) {
        minX = Math.min(minX, x0)
        maxX = Math.max(maxX, x0)
        minY = Math.min(minY, y0)
        maxY = Math.max(maxY, y0)
      } else if (Math.max(x0, x1) < minX || Math.min(x0, x1) > maxX || Math.max(y0, y1) < minY || Math.min(y0, y1) > maxY) {
        return
      }
      breaks.push(x0, x1)
      if (x1 - x0 > ROUNDING_MM) sides.push({ x0, y0, x1, y1 })
      else if (x0 - x1 > ROUNDING_MM) sides.push({ x0: x1, y0: y1, x1: x0, y1: y0 })
    })
  }
  addCrossings(sides, breaks)
  const done: OpenCell[] = []
  let open: OpenCell[] = []
  const xs = breaks.filter(x => x >= minX && x <= maxX).sort((a, b) => a - b)
  let left = xs[0]
  for (const right of xs) {
    if (right - left <= ROUNDING_MM) continue
    const next: OpenCell[] = []
    const middle = (left + right) / 2
    const crossing = sides.filter(side => side.x0 <= middle && side.x1 >= middle).sort((a, b) => heightAt(a, middle) - heightAt(b, middle))
    for (let i = 0; i + 1 < crossing.length; i++) {
      const low = crossing[i], high = crossing[i + 1]
      const y0 = heightAt(low, middle), y1 = heightAt(high, middle)
      if (y1 - y0 <= ROUNDING_MM) continue
      const y = (y0 + y1) / 2
      if (!keep(c * middle - s * y, s * middle + c * y)) continue
      const before = open.find(cell => cell.low === low && cell.high === high && left - cell.to <= SAME_POINT_MM)
      if (before) before.to = right
      next.push(before ?? { from: left, to: right, low, high })
    }
    for (const cell of open) if (!next.includes(cell)) done.push(cell)
    open = next
    left = right
  }
  done.push(...open)
  return done.map(cell => ringOf(cell, c, s)).filter(ring => ring.length >= 6)
}

/** Whether a ring turns left, or not at all, at every corner. */
export function isConvex(ring: ArrayLike<number>): boolean {
  const n = ring.length
  for (let i = 0; i < n; i += 2) {
    const j = (i + 2) % n, k = (i + 4) % n
    const turn = (ring[j] - ring[i]) * (ring[k + 1] - ring[j + 1]) - (ring[j + 1] - ring[i + 1]) * (ring[k] - ring[j])
    if (turn < 0) return false
  }
  return true
}

function longestDirection(prism: ZonePrism): [number, number] {
  let longest = 0, c = 1, s = 0
  eachSide(prism, (ax, ay, bx, by) => {
    const length = Math.hypot(bx - ax, by - ay)
    // a clear winner only, so that a square's direction does not hang on rounding
    if (length <= longest * (1 + ROUNDING_MM)) return
    longest = length
    c = (bx - ax) / length
    s = (by - ay) / length
  })
  return [c, s]
}

function heightAt(side: Side, x: number): number {
  if (x <= side.x0) return side.y0
  if (x >= side.x1) return side.y1
  return side.y0 + (side.y1 - side.y0) * ((x - side.x0) / (side.x1 - side.x0))
}

function addCrossings(sides: readonly Side[], breaks: number[]): void {
  for (let i = 0; i < sides.length; i++) {
    for (let j = 0; j < i; j++) {
      const a = sides[i], b = sides[j]
      const from = Math.max(a.x0, b.x0), to = Math.min(a.x1, b.x1)
      if (to - from <= ROUNDING_MM) continue
      const before = heightAt(a, from) - heightAt(b, from), after = heightAt(a, to) - heightAt(b, to)
      if (before < 0 && after > 0 || before > 0 && after < 0) breaks.push(from + (to - from) * (before / (before - after)))
    }
  }
}

/** The cell's corners in plan, those closer than SAME_POINT_MM to the one before left out. */
function ringOf(cell: OpenCell, c: number, s: number): Float64Array {
  const { from, to, low, high } = cell
  const turned = [from, heightAt(low, from), to, heightAt(low, to), to, heightAt(high, to), from, heightAt(high, from)]
  const kept: number[] = []
  for (let i = 0; i < 8; i += 2) {
    const n = kept.length
    const x = c * turned[i] - s * turned[i + 1], y = s * turned[i] + c * turned[i + 1]
    if (n > 0 && Math.hypot(x - kept[n - 2], y - kept[n - 1]) <= SAME_POINT_MM) continue
    if (i === 6 && Math.hypot(x - kept[0], y - kept[1]) <= SAME_POINT_MM) continue
    kept.push(x, y)
  }
  return Float64Array.from(kept)
}
