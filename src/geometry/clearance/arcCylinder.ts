/**
 * Circular arc against a flat-ended cylinder. The arc is cut where its distance from the cylinder's axis or its height
 * turns over, at mid height and at the levels of the ends, so that on each stretch both change one way only. Level with the
 * cylinder the signed distance is the larger of side and end distance, least at a stretch's end or where the two tie.
 * Past an end it is the distance to the end disc, least at a stretch's end unless one distance rises while the other
 * falls: that is the distance between two circles in space (up to eight roots), searched by halving with a bound on how
 * sharply the squared distance can curve. The bound is 0 where the distance is constant, so those cases end at once.
 */
import { CENTRE_X, END_X, LENGTH, RADIAL_X, RADIUS, TANGENT_X, TURN } from '../curve/centreline.ts'
import { addCrossings, addCut, cutAngles, cutCount, startCuts } from './angleCuts.ts'
import { ALONG, ON_CURVE_X, type PairKernel } from './answer.ts'
import { NEAREST_IN, NEAREST_OUT, nearestDirections } from './nearestDirections.ts'
import { nearestOnCylinder } from './nearestOnCylinder.ts'

/** The rim search stops within this of the truth, mm. */
const RIM_GAP_MM = 1e-8
const MOST_SPLITS = 20_000, MOST_STEPS = 100

/** across the axis: a, b, c (3 each); along it: a, b, c; radius and half length of the cylinder; swing of the height */
const WAVE = new Float64Array(15)
/** at the angle last looked at: distance beyond the side and beyond the nearer end, mm */
const HERE = new Float64Array(2)
/** from, beyond side there, beyond end there, to, beyond side there, beyond end there */
const STACK = new Float64Array(6 * 64)
let least = 0, leastAngle = 0

/** Signed distance at angle t; parts left in HERE. */
const look = (t: number): number => {
  const cosine = Math.cos(t), sine = Math.sin(t)
  const x = WAVE[0] + WAVE[3] * cosine + WAVE[6] * sine
  const y = WAVE[1] + WAVE[4] * cosine + WAVE[7] * sine
  const z = WAVE[2] + WAVE[5] * cosine + WAVE[8] * sine
  const side = Math.sqrt(x * x + y * y + z * z) - WAVE[12]
  const end = Math.abs(WAVE[9] + WAVE[10] * cosine + WAVE[11] * sine) - WAVE[13]
  HERE[0] = side
  HERE[1] = end
  const distance = side > 0 && end > 0 ? Math.sqrt(side * side + end * end) : Math.max(side, end)
  if (distance < least) {
    least = distance
    leastAngle = t
  }
  return distance
}

/** Products of the wave's vectors across the axis: a.b, a.c, and the swing and angle of the height's top. */
const cutWhereOutTurns = (top: number): void => {
  const cosine = Math.cos(top), sine = Math.sin(top)
  let ab = 0, ac = 0
  for (let i = 0; i < 3; i++) {
    ab += WAVE[i] * WAVE[i + 3]
    ac += WAVE[i] * WAVE[i + 6]
  }
  const m = ac * cosine - ab * sine, n = -ab * cosine - ac * sine
  // Half the slope of the squared distance from the axis is k sin s cos s + m cos s + n sin s, s from the top: first its
  // least values, then, a quarter turn on with the sign changed, its greatest.
  NEAREST_IN[0] = WAVE[14] * WAVE[14]
  NEAREST_IN[1] = m
  NEAREST_IN[2] = n
  let found = nearestDirections()
  for (let i = 0; i < found; i++) addCut(top + Math.atan2(NEAREST_OUT[2 * i + 1], NEAREST_OUT[2 * i]))
  NEAREST_IN[1] = -n
  NEAREST_IN[2] = m
  found = nearestDirections()
  for (let i = 0; i < found; i++) addCut(top + Math.atan2(NEAREST_OUT[2 * i + 1], NEAREST_OUT[2 * i]) + 0.5 * Math.PI)
}

/** Where side and end distance tie, one rising and the other falling: `spare` = side - end changes sign from `from` to `to`. */
const lookAtTie = (from: number, spareFrom: number, to: number, spareTo: number): void => {
  let low = from, lowSpare = spareFrom, high = to, highSpare = spareTo
  // False position, the stale end's value halved (Illinois: Dowell & Jarratt 1971, BIT 11), with a bisection every fourth step.
  let stale = 0
  for (let step = 1; step < MOST_STEPS; step++) {
    let t = step % 4 === 0 ? 0.5 * (low + high) : low + (high - low) * lowSpare / (lowSpare - highSpare)
    if (!(t > low && t < high)) t = 0.5 * (low + high)
    if (t === low || t === high) return
    look(t)
    const spare = HERE[0] - HERE[1]
    if (spare === 0) return
    if (spare < 0 === lowSpare < 0) {
      low = t
      lowSpare = spare
      if (stale === 1) highSpare *= 0.5
      stale = 1
    } else {
      high = t
      highSpare = spare
      if (stale === -1) lowSpare *= 0.5
      stale = -1
    }
  }
}

/** Most that the squared distance to the end disc on side `endSide` (+1, -1) curves up, mm^2 per rad^2, where past the end. */
const rimBend = (endSide: number): number => {
  const radius = WAVE[12], height = WAVE[9] - endSide * WAVE[13], swing = WAVE[14]
  let ab = 0, ac = 0, bb = 0, cc = 0
  for (let i = 0; i < 3; i++) {
    ab += WAVE[i] * WAVE[i + 3]
    ac += WAVE[i] * WAVE[i + 6]
    bb += WAVE[i + 3] * WAVE[i + 3]
    cc += WAVE[i + 6] * WAVE[i + 6]
  }
  // Squared distance to the rim = constant + centre term (one wave) - 2 radius out, out being the distance from the axis.
  const centreTerm = 2 * Math.hypot(ab + height * WAVE[10], ac + height * WAVE[11])
  const first = Math.hypot(ab, ac), second = 0.5 * swing * swing
  const outSlopeSquared = radius > 0 ? Math.min(bb + cc, (first + second) * (first + second) / (radius * radius)) : bb + cc
  const rim = centreTerm + 2 * (outSlopeSquared + first + 2 * second)
  // Over the disc itself it is the squared height.
  const disc = 2 * swing * (swing + Math.abs(height) + swing)
  return Math.max(rim, disc)
}

const searchPastEnd = (from: number, sideFrom: number, endFrom: number, to: number, sideTo: number, endTo: number, endSide: number): void => {
  const bend = rimBend(endSide)
  STACK[0] = from
  STACK[1] = sideFrom
  STACK[2] = endFrom
  STACK[3] = to
  STACK[4] = sideTo
  STACK[5] = endTo
  let top = 6
  for (let split = 0; top > 0 && split < MOST_SPLITS; split++) {
    top -= 6
    const low = STACK[top], sideLow = Math.max(STACK[top + 1], 0), endLow = Math.max(STACK[top + 2], 0)
    const high = STACK[top + 3], sideHigh = Math.max(STACK[top + 4], 0), endHigh = Math.max(STACK[top + 5], 0)
    const sideLeast = Math.min(sideLow, sideHigh), endLeast = Math.min(endLow, endHigh)
    const monotone = sideLeast * sideLeast + endLeast * endLeast
    const curved = Math.min(sideLow * sideLow + endLow * endLow, sideHigh * sideHigh + endHigh * endHigh) - 0.125 * bend * (high - low) * (high - low)
    const target = least - RIM_GAP_MM
    if (target <= 0 || Math.max(monotone, curved) >= target * target) continue
    const middle = 0.5 * (low + high)
    if (!(middle > low && middle < high) || top + 12 > STACK.length) continue
    look(middle)
    const side = HERE[0], end = HERE[1]
    const sideAfter = STACK[top + 4], endAfter = STACK[top + 5]
    STACK[top + 3] = middle
    STACK[top + 4] = side
    STACK[top + 5] = end
    top += 6
    STACK[top] = middle
    STACK[top + 1] = side
    STACK[top + 2] = end
    STACK[top + 3] = high
    STACK[top + 4] = sideAfter
    STACK[top + 5] = endAfter
    top += 6
  }
}

/** Fills WAVE. @returns a distance, mm, that every point of the arc exceeds or equals, 0 if none is known */
const layWave = (elements: Float64Array, e: number, data: Float64Array, s: number): number => {
  const radius = elements[e + RADIUS]
  let height = 0, heightB = 0, heightC = 0, endHeight = 0
  for (let i = 0; i < 3; i++) {
    const axis = data[s + 3 + i]
    WAVE[i] = elements[e + CENTRE_X + i] - data[s + i]
    WAVE[i + 3] = radius * elements[e + RADIAL_X + i]
    WAVE[i + 6] = radius * elements[e + TANGENT_X + i]
    height += WAVE[i] * axis
    heightB += WAVE[i + 3] * axis
    heightC += WAVE[i + 6] * axis
    endHeight += (elements[e + END_X + i] - data[s + i]) * axis
  }
  let outSquared = 0
  for (let i = 0; i < 3; i++) {
    const axis = data[s + 3 + i]
    WAVE[i] -= height * axis
    WAVE[i + 3] -= heightB * axis
    WAVE[i + 6] -= heightC * axis
    outSquared += WAVE[i] * WAVE[i]
  }
  const swing = Math.sqrt(heightB * heightB + heightC * heightC)
  WAVE[9] = height
  WAVE[10] = heightB
  WAVE[11] = heightC
  WAVE[12] = data[s + 6]
  WAVE[13] = data[s + 7]
  WAVE[14] = swing
  const turn = elements[e + TURN]
  const sagitta = turn < Math.PI ? radius * (1 - Math.cos(0.5 * turn)) : Infinity
  const low = Math.max(height - swing, Math.min(height + heightB, endHeight) - sagitta)
  const high = Math.min(height + swing, Math.max(height + heightB, endHeight) + sagitta)
  const endGap = Math.max(low - data[s + 7], -data[s + 7] - high, 0)
  const sideGap = Math.max(Math.sqrt(outSquared) - radius - data[s + 6], 0)
  return Math.sqrt(endGap * endGap + sideGap * sideGap)
}

/**
 * Least signed distance, mm, of a circular arc to a cylinder (layouts: curve/centreline.ts, solid/solidSet.ts).
 * Outside > 0, touching 0, inside the negative depth below the side or an end. Good to 1e-8 mm, and to rounding where the
 * nearest point is on the side, over an end, or inside. Any turn up to 2 pi.
 */
export const arcCylinder: PairKernel = (elements, e, data, s, cutoffMm, answer) => {
  const gap = layWave(elements, e, data, s)
  if (gap > 0 && gap > cutoffMm) return gap

  startCuts(elements[e + TURN])
  const top = Math.atan2(WAVE[11], WAVE[10])
  addCut(top)
  addCut(top + Math.PI)
  cutWhereOutTurns(top)
  addCrossings(WAVE[9], WAVE[10], WAVE[11])
  addCrossings(WAVE[9] - WAVE[13], WAVE[10], WAVE[11])
  addCrossings(WAVE[9] + WAVE[13], WAVE[10], WAVE[11])

  least = Infinity
  const count = cutCount()
  for (let k = 0; k < count; k++) look(cutAngles[k])
  look(cutAngles[0])
  let side = HERE[0], end = HERE[1]
  for (let k = 1; k < count; k++) {
    const from = cutAngles[k - 1], to = cutAngles[k]
    const sideFrom = side, endFrom = end
    look(to)
    side = HERE[0]
    end = HERE[1]
    if ((side - sideFrom) * (end - endFrom) >= 0) continue // both rise or both fall: an end of the stretch is least
    const sideLeast = Math.min(sideFrom, side), endLeast = Math.min(endFrom, end)
    if (Math.max(sideLeast, endLeast) >= least) continue
    if (endFrom + end <= 0) {
      if (sideFrom < endFrom !== side < end) lookAtTie(from, sideFrom - endFrom, to, side - end)
    } else {
      const middle = 0.5 * (from + to)
      const height = WAVE[9] + WAVE[10] * Math.cos(middle) + WAVE[11] * Math.sin(middle)
      searchPastEnd(from, sideFrom, endFrom, to, side, end, height < 0 ? -1 : 1)
    }
  }
  if (least > cutoffMm) return least

  const radius = elements[e + RADIUS]
  const cosine = radius * Math.cos(leastAngle), sine = radius * Math.sin(leastAngle)
  for (let i = 0; i < 3; i++) {
    answer[ON_CURVE_X + i] = elements[e + CENTRE_X + i] + cosine * elements[e + RADIAL_X + i] + sine * elements[e + TANGENT_X + i]
  }
  answer[ALONG] = Math.min(leastAngle * radius, elements[e + LENGTH])
  return nearestOnCylinder(data, s, answer)
}
