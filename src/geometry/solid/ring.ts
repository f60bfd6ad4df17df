/** Rings: polygons as flat arrays x0, y0, x1, y1, ..., mm. */
type Ring = ArrayLike<number>

/** Signed area, mm2: positive when the ring runs counter-clockwise. Shoelace about the first vertex, so far-off rings keep their digits. */
export function ringAreaMm2(ring: Ring): number {
  let twice = 0
  for (let i = 2; i + 3 < ring.length; i += 2) {
    twice += (ring[i] - ring[0]) * (ring[i + 3] - ring[1]) - (ring[i + 2] - ring[0]) * (ring[i + 1] - ring[1])
  }
  return twice / 2
}

/** Length of the closed ring, mm. */
export function ringLengthMm(ring: Ring): number {
  const n = ring.length
  let length = 0
  for (let i = 0; i < n; i += 2) length += Math.hypot(ring[(i + 2) % n] - ring[i], ring[(i + 3) % n] - ring[i + 1])
  return length
}

/** The ring without vertices that repeat the one before, and without a last vertex that repeats the first. */
export function ringWithoutRepeats(ring: Ring): number[] {
  const kept: number[] = []
  for (let i = 0; i + 1 < ring.length; i += 2) {
    const n = kept.length
    if (n === 0 || kept[n - 2] !== ring[i] || kept[n - 1] !== ring[i + 1]) kept.push(ring[i], ring[i + 1])
  }
  while (kept.length > 2 && kept.at(-2) === kept[0] && kept.at(-1) === kept[1]) kept.length -= 2
  return kept
}

/** The ring, turned round if need be: counter-clockwise for an outline, clockwise for a hole. */
export function ringOriented(ring: number[], counterClockwise: boolean): number[] {
  if (ringAreaMm2(ring) < 0 !== counterClockwise) return ring
  const turned: number[] = []
  for (let i = ring.length - 2; i >= 0; i -= 2) turned.push(ring[i], ring[i + 1])
  return turned
}

/** Whether a point lies inside the ring (even-odd; a point on the ring may go either way). */
export function ringHolds(ring: Ring, x: number, y: number): boolean {
  const n = ring.length
  let inside = false
  for (let i = 0; i < n; i += 2) {
    const x0 = ring[i], y0 = ring[i + 1], x1 = ring[(i + 2) % n], y1 = ring[(i + 3) % n]
    if (y0 > y !== y1 > y && x < x0 + (x1 - x0) * ((y - y0) / (y1 - y0))) inside = !inside
  }
  return inside
}

/** Whether two rings (or one with itself) touch or cross anywhere but at the corner two neighbouring sides share. */
export function ringsCross(a: Ring, b: Ring): boolean {
  const n = a.length, m = b.length
  for (let i = 0; i < n; i += 2) {
    const i1 = (i + 2) % n
    for (let j = a === b ? i + 2 : 0; j < m; j += 2) {
      const j1 = (j + 2) % m
      // a side that folds back along its neighbour is found by the side after it, which starts on that neighbour
      if (a === b && (j === i1 || j1 === i)) continue
      if (sidesTouch(a[i], a[i + 1], a[i1], a[i1 + 1], b[j], b[j + 1], b[j1], b[j1 + 1])) {
        return true
      }
    }
  }
  return false
}

function sidesTouch(
  ax: number, ay: number, bx: number, by: number, cx: number, cy: number, dx: number, dy: number,
): boolean {
  if (Math.max(ax, bx) < Math.min(cx, dx) || Math.max(cx, dx) < Math.min(ax, bx)) return false
  if (Math.max(ay, by) < Math.min(cy, dy) || Math.max(cy, dy) < Math.min(ay, by)) return false
  const c = (bx - ax) * (cy - ay) - (by - ay) * (cx - ax), d = (bx - ax) * (dy - ay) - (by - ay) * (dx - ax)
  const a = (dx - cx) * (ay - cy) - (dy - cy) * (ax - cx), b = (dx - cx) * (by - cy) - (dy - cy) * (bx - cx)
  return !(c > 0 && d > 0 || c < 0 && d < 0 || a > 0 && b > 0 || a < 0 && b < 0)
}
