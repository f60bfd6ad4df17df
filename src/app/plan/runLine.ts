/** A centreline seen from above, as points: legs end to end, bends in short steps. Pure. */
import { ARC, ELEMENT_STRIDE, END_X, KIND, LENGTH, START_X, TURN, type Centreline } from '#geometry/curve/centreline.ts'
import { pointOfElement } from '#geometry/curve/measure.ts'
import type { Point2 } from '#model/index.ts'

/** A bend is drawn in steps of this turn: at 300 mm radius they stand 0.3 mm off the arc. */
const STEP_RAD = 5 * Math.PI / 180

export function pointsAlong({ count, elements }: Centreline): Point2[] {
  const points: Point2[] = []
  const out = new Float64Array(3)
  for (let e = 0; e < count; e++) {
    const o = e * ELEMENT_STRIDE
    if (e === 0) points.push([elements[o + START_X], elements[o + START_X + 1]])
    if (elements[o + KIND] === ARC) {
      const steps = Math.ceil(elements[o + TURN] / STEP_RAD)
      for (let i = 1; i < steps; i++) {
        pointOfElement(elements, o, elements[o + LENGTH] * i / steps, out)
        points.push([out[0], out[1]])
      }
    }
    points.push([elements[o + END_X], elements[o + END_X + 1]])
  }
  return points
}

/** Where the name of a line stands: half its length along, in plan. */
export function halfway(points: readonly Point2[]): Point2 {
  const lengths = points.slice(1).map((b, i) => Math.hypot(b[0] - points[i][0], b[1] - points[i][1]))
  let left = lengths.reduce((sum, length) => sum + length, 0) / 2
  for (const [i, length] of lengths.entries()) {
    if (left <= length && length > 0) {
      const t = left / length, a = points[i], b = points[i + 1]
      return [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t]
    }
    left -= length
  }
  return points[0]
}
