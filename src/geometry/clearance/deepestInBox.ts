/**
 * The deepest point of a straight stretch that crosses a box, in the box's own frame: the least value of the largest of
 * six straight lines, found by cutting planes (Kelley 1960, J. SIAM 8(4)), which is exact after a few cuts here.
 */

/** start p (3), whole step d (3), half sizes h (3) */
export const BOX_FRAME = new Float64Array(9)
/** where the deepest point lies (as a part of the step), the axis of its nearest face (0, 1, 2), and that face's side (+1 or -1) */
export const deepestPart = new Float64Array(3)

const MOST_CUTS = 40
let slope = 0

/** Signed distance at a point inside: to the nearest face. Sets `slope` and the face in `deepestPart`. */
const faceDistance = (t: number): number => {
  let largest = -Infinity
  for (let axis = 0; axis < 3; axis++) {
    const x = BOX_FRAME[axis] + BOX_FRAME[axis + 3] * t
    const value = (x < 0 ? -x : x) - BOX_FRAME[axis + 6]
    if (value > largest) {
      largest = value
      slope = x < 0 ? -BOX_FRAME[axis + 3] : BOX_FRAME[axis + 3]
      deepestPart[1] = axis
      deepestPart[2] = x < 0 ? -1 : 1
    }
  }
  deepestPart[0] = t
  return largest
}

/** @returns least signed distance, mm (<= 0 but for rounding), over `from <= t <= to`, a stretch that lies inside the box */
export const deepestInBox = (from: number, to: number): number => {
  let rightT = to
  let right = faceDistance(to)
  let rightSlope = slope
  if (rightSlope <= 0) return right
  let leftT = from
  let left = faceDistance(from)
  let leftSlope = slope
  if (leftSlope >= 0) return left
  for (let cut = 0; cut < MOST_CUTS; cut++) {
    const part = (right - left - rightSlope * (rightT - leftT)) / (leftSlope - rightSlope)
    const bound = left + leftSlope * part
    let t = leftT + part
    if (!(t > leftT)) t = leftT
    else if (t > rightT) t = rightT
    const value = faceDistance(t)
    if (value <= bound || slope === 0 || t === leftT || t === rightT) return value
    if (slope < 0) { leftT = t; left = value; leftSlope = slope } else { rightT = t; right = value; rightSlope = slope }
  }
  return faceDistance(left < right ? leftT : rightT)
}
