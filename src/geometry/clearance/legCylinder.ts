/**
 * Straight leg against a flat-ended cylinder. Along the leg the distance from the axis and the height over the middle are
 * both convex (a hyperbola and a V), so the signed distance is too, and its least value lies between where each of the
 * two is least. Inside it is one of those two places or the tie between them; outside, where the slope changes sign.
 */
import { END_X, LENGTH, START_X } from '../curve/centreline.ts'
import { ALONG, ON_CURVE_X, type PairKernel } from './answer.ts'
import { nearestOnCylinder } from './nearestOnCylinder.ts'

const FROM = START_X, TO = END_X
/** Newton inside a halving bracket: quadratic, and at worst one bit a step. */
const MOST_STEPS = 120

/** across the axis: start (3), whole step (3); along it: start, step; radius, half length */
const AXIAL = new Float64Array(10)
/** at the part last looked at: distance beyond the side, its slope and bend; distance beyond the end, its slope */
const HERE = new Float64Array(5)

const look = (t: number): void => {
  const x = AXIAL[0] + t * AXIAL[3], y = AXIAL[1] + t * AXIAL[4], z = AXIAL[2] + t * AXIAL[5]
  const out = Math.sqrt(x * x + y * y + z * z)
  HERE[0] = out - AXIAL[8]
  if (out > 0) {
    const slope = (x * AXIAL[3] + y * AXIAL[4] + z * AXIAL[5]) / out
    HERE[1] = slope
    HERE[2] = (AXIAL[3] * AXIAL[3] + AXIAL[4] * AXIAL[4] + AXIAL[5] * AXIAL[5] - slope * slope) / out
  } else {
    HERE[1] = 0
    HERE[2] = 0
  }
  const height = AXIAL[6] + t * AXIAL[7]
  HERE[3] = Math.abs(height) - AXIAL[9]
  HERE[4] = height < 0 ? -AXIAL[7] : AXIAL[7]
}

/** The tie of side and end between `sideBest`, where the end is the nearer to being left, and `endBest`, where the side is. */
const tieBetween = (sideBest: number, endBest: number): number => {
  let low = sideBest, high = endBest // side - end < 0 at low, > 0 at high; low may be the larger of the two
  let t = high
  for (let step = 0; step < MOST_STEPS; step++) {
    look(t)
    const spare = HERE[0] - HERE[3]
    if (spare === 0) break
    if (spare < 0) low = t
    else high = t
    let next = t - spare / (HERE[1] - HERE[4])
    if (!(next > Math.min(low, high) && next < Math.max(low, high))) next = 0.5 * (low + high)
    if (next === t || next === low || next === high) break
    t = next
  }
  return t
}

/** Outside: the root of the half-slope of the squared distance, which never falls from `left` to `right`. */
const footBetween = (left: number, right: number): number => {
  let low = left, high = right
  let t = left
  for (let step = 0; step < MOST_STEPS; step++) {
    look(t)
    let slope = 0, bend = 0
    if (HERE[0] > 0) {
      slope += HERE[0] * HERE[1]
      bend += HERE[1] * HERE[1] + HERE[0] * HERE[2]
    }
    if (HERE[3] > 0) {
      slope += HERE[3] * HERE[4]
      bend += HERE[4] * HERE[4]
    }
    if (slope === 0) return t
    if (slope < 0) {
      if (t === right) return t
      low = t
    } else {
      if (t === left) return t
      high = t
    }
    if (step === 0) {
      t = right
      continue
    }
    let next = t - slope / bend
    if (!(next > low && next < high) || step > 40) next = 0.5 * (low + high)
    if (next === t || next === low || next === high) return t
    t = next
  }
  return t
}

/**
 * Least signed distance, mm, of a straight leg to a cylinder (layouts: curve/centreline.ts, solid/solidSet.ts).
 * Outside > 0, touching 0, inside the negative depth below the side or an end. Zero length allowed.
 */
export const legCylinder: PairKernel = (elements, e, data, s, cutoffMm, answer) => {
  const startX = elements[e + FROM], startY = elements[e + FROM + 1], startZ = elements[e + FROM + 2]
  const goX = elements[e + TO] - startX, goY = elements[e + TO + 1] - startY, goZ = elements[e + TO + 2] - startZ
  const x = startX - data[s], y = startY - data[s + 1], z = startZ - data[s + 2]
  const axisX = data[s + 3], axisY = data[s + 4], axisZ = data[s + 5]
  const height = x * axisX + y * axisY + z * axisZ
  const rise = goX * axisX + goY * axisY + goZ * axisZ
  const halfLength = data[s + 7]
  const endGap = Math.max(Math.abs(height + 0.5 * rise) - Math.abs(0.5 * rise) - halfLength, 0)
  if (endGap > 0 && endGap > cutoffMm) return endGap

  const outX = x - height * axisX, outY = y - height * axisY, outZ = z - height * axisZ
  const stepX = goX - rise * axisX, stepY = goY - rise * axisY, stepZ = goZ - rise * axisZ
  const stepSquared = stepX * stepX + stepY * stepY + stepZ * stepZ
  let sideBest = -(outX * stepX + outY * stepY + outZ * stepZ) / stepSquared
  let endBest = -height / rise
  sideBest = sideBest > 0 ? (sideBest < 1 ? sideBest : 1) : 0 // 0 as well when the leg runs along the axis (0/0)
  endBest = rise !== 0 ? (endBest > 0 ? (endBest < 1 ? endBest : 1) : 0) : sideBest
  if (!(stepSquared > 0)) sideBest = endBest

  AXIAL[0] = outX
  AXIAL[1] = outY
  AXIAL[2] = outZ
  AXIAL[3] = stepX
  AXIAL[4] = stepY
  AXIAL[5] = stepZ
  AXIAL[6] = height
  AXIAL[7] = rise
  AXIAL[8] = data[s + 6]
  AXIAL[9] = halfLength

  look(sideBest)
  const sideGap = HERE[0]
  const gap = sideGap > 0 ? Math.sqrt(sideGap * sideGap + endGap * endGap) : endGap
  if (gap > 0 && gap > cutoffMm) return gap

  let t = sideBest
  if (HERE[0] < HERE[3]) {
    look(endBest)
    t = HERE[3] >= HERE[0] ? endBest : tieBetween(sideBest, endBest)
    look(t)
  }
  // The larger of the two is nowhere smaller than here: above 0, the leg stays outside and the corner distance decides.
  if (HERE[0] > 0 || HERE[3] > 0) {
    t = footBetween(Math.min(sideBest, endBest), Math.max(sideBest, endBest))
    look(t)
    const beyondSide = Math.max(HERE[0], 0), beyondEnd = Math.max(HERE[3], 0)
    const distance = Math.sqrt(beyondSide * beyondSide + beyondEnd * beyondEnd)
    if (distance > cutoffMm) return distance
  } else if (Math.max(HERE[0], HERE[3]) > cutoffMm) return Math.max(HERE[0], HERE[3])
  answer[ON_CURVE_X] = startX + t * goX
  answer[ON_CURVE_X + 1] = startY + t * goY
  answer[ON_CURVE_X + 2] = startZ + t * goZ
  answer[ALONG] = t * elements[e + LENGTH]
  return nearestOnCylinder(data, s, answer)
}
