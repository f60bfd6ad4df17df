/**
 * A sorted list of angles that cuts an arc into stretches, kept in one reused array. Angles in radians from the arc's
 * start; adding one keeps order. Used by the arc kernels, one arc at a time.
 */
import { SAME_POINT_MM } from '../tolerance.ts'

const TWO_PI = 2 * Math.PI

/** the cuts, ascending; the first is 0 and the last the arc's turn */
export let cutAngles = new Float64Array(64)
let count = 0
let turn = 0

export const cutCount = () => count

/** Starts a new list holding the two ends of an arc that turns `turnRad`. */
export const startCuts = (turnRad: number): void => {
  turn = turnRad
  cutAngles[0] = 0
  cutAngles[1] = turnRad
  count = 2
}

/** Adds an angle if, brought into [0, 2 pi), it lies on the arc. NaN is passed over. */
export const addCut = (angle: number): void => {
  let a = angle
  while (a < 0) a += TWO_PI
  while (a >= TWO_PI) a -= TWO_PI
  if (!(a > 0 && a < turn)) return
  if (count === cutAngles.length) {
    const longer = new Float64Array(2 * count)
    longer.set(cutAngles)
    cutAngles = longer
  }
  let at = count++
  while (cutAngles[at - 1] > a) {
    cutAngles[at] = cutAngles[at - 1]
    at--
  }
  cutAngles[at] = a
}

/**
 * Adds the angles where offset + b cos t + c sin t passes through zero, and where it only touches zero, give or take a
 * point: without that cut a stretch's middle could be the very place where it touches, and say nothing of the rest.
 */
export const addCrossings = (offset: number, b: number, c: number): void => {
  const reach = Math.sqrt(b * b + c * c)
  const spare = reach - Math.abs(offset)
  if (!(spare >= -SAME_POINT_MM)) return
  const middle = Math.atan2(c, b)
  if (spare <= SAME_POINT_MM) addCut(offset < 0 ? middle : middle + Math.PI)
  if (!(spare > 0)) return
  const half = Math.acos(-offset / reach)
  addCut(middle + half)
  addCut(middle - half)
}
