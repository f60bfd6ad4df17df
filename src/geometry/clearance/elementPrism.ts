/**
 * Leg or arc against an extruded polygon. The element is cut where it passes a wall in plan or the level of an end; a
 * stretch whose middle is inside lies inside, and then the answer is the deepest point. With no stretch inside, the
 * nearest point is on a wall (a rectangle: a box of no thickness) or straight above or below an end, which can only be
 * least at an end of the element, at a cut, or where an arc turns over.
 */
import { CENTRE_X, END_X, LENGTH, RADIAL_X, RADIUS, START_X, TANGENT_X, TURN } from '../curve/centreline.ts'
import { SAME_POINT_MM } from '../tolerance.ts'
import { addCrossings, addCut, cutAngles, cutCount, startCuts } from './angleCuts.ts'
import { ALONG, ANSWER_SIZE, DISTANCE, ON_CURVE_X, ON_SOLID_X } from './answer.ts'
import { arcBox } from './arcBox.ts'
import { DEEPEST, PATH, PLACE, deepestInPrism, loadPrism, place, placeInPlan } from './deepestInPrism.ts'
import { legBox } from './legBox.ts'
import { PLAN_BOUNDS, WALL, readWall } from './prismWalls.ts'

/** A wall as a packed box of no thickness, and the answer to it. */
const SHEET = new Float64Array(15)
const SHEET_ANSWER = new Float64Array(ANSWER_SIZE)
/** least and greatest u, v, w the element reaches, by a bound that is quick rather than close */
const LOW = new Float64Array(3), HIGH = new Float64Array(3)
let isArc = false

/** Fills PATH and the element's bounds in the prism's frame. */
const layPath = (elements: Float64Array, e: number, data: Float64Array, s: number): void => {
  const radius = isArc ? elements[e + RADIUS] : 0
  const base = e + (isArc ? CENTRE_X : START_X)
  const sagitta = isArc && elements[e + TURN] < Math.PI ? radius * (1 - Math.cos(0.5 * elements[e + TURN])) : Infinity
  for (let i = 0; i < 3; i++) {
    const f = s + 3 + 3 * i
    const ux = data[f], uy = data[f + 1], uz = data[f + 2]
    const a = (elements[base] - data[s]) * ux + (elements[base + 1] - data[s + 1]) * uy + (elements[base + 2] - data[s + 2]) * uz
    const end = (elements[e + END_X] - data[s]) * ux + (elements[e + END_X + 1] - data[s + 1]) * uy + (elements[e + END_X + 2] - data[s + 2]) * uz
    PATH[i] = a
    if (isArc) {
      const b = radius * (elements[e + RADIAL_X] * ux + elements[e + RADIAL_X + 1] * uy + elements[e + RADIAL_X + 2] * uz)
      const c = radius * (elements[e + TANGENT_X] * ux + elements[e + TANGENT_X + 1] * uy + elements[e + TANGENT_X + 2] * uz)
      const swing = Math.sqrt(b * b + c * c)
      PATH[i + 3] = b
      PATH[i + 6] = c
      LOW[i] = Math.max(a - swing, Math.min(a + b, end) - sagitta)
      HIGH[i] = Math.min(a + swing, Math.max(a + b, end) + sagitta)
      PATH[12] = swing // the last, of w, stays
    } else {
      PATH[i + 3] = (elements[e + END_X] - elements[base]) * ux + (elements[e + END_X + 1] - elements[base + 1]) * uy + (elements[e + END_X + 2] - elements[base + 2]) * uz
      PATH[i + 6] = 0
      LOW[i] = Math.min(a, end)
      HIGH[i] = Math.max(a, end)
      PATH[12] = 0
    }
  }
  PATH[9] = data[s + 12]
  PATH[10] = data[s + 13]
  PATH[11] = radius
}

/** Adds a cut at t if the element is then at WALL, give or take a point, and not only at its line. */
const cutIfAtWall = (t: number): void => {
  place(t)
  const along = (PLACE[0] - WALL[0]) * WALL[4] + (PLACE[1] - WALL[1]) * WALL[5]
  if (along >= -SAME_POINT_MM && along <= WALL[6] + SAME_POINT_MM) addCut(t)
}

const cutLegAt = (t: number): void => {
  if (t > 0 && t < 1) addCut(t)
}

const cutLegAtWall = (): void => {
  const goU = PATH[3], goV = PATH[4]
  const plan = Math.sqrt(goU * goU + goV * goV)
  if (!(plan > 0)) return
  // Distances of the wall's ends from the leg's line in plan. A corner on the line is a cut of its own, for a leg along a
  // wall; each corner is the far end of one wall.
  const from = ((WALL[0] - PATH[0]) * goV - (WALL[1] - PATH[1]) * goU) / plan
  const to = ((WALL[2] - PATH[0]) * goV - (WALL[3] - PATH[1]) * goU) / plan
  if (Math.abs(to) <= SAME_POINT_MM) cutLegAt(((WALL[2] - PATH[0]) * goU + (WALL[3] - PATH[1]) * goV) / (plan * plan))
  if (from * to < 0) {
    const part = from / (from - to)
    const u = WALL[0] + part * (WALL[2] - WALL[0]), v = WALL[1] + part * (WALL[3] - WALL[1])
    cutLegAt(((u - PATH[0]) * goU + (v - PATH[1]) * goV) / (plan * plan))
  }
}

const cutArcAtWall = (): void => {
  const b = PATH[3] * WALL[5] - PATH[4] * WALL[4], c = PATH[6] * WALL[5] - PATH[7] * WALL[4]
  const offset = (PATH[0] - WALL[0]) * WALL[5] - (PATH[1] - WALL[1]) * WALL[4]
  const swing = Math.sqrt(b * b + c * c)
  const spare = swing - Math.abs(offset)
  if (!(spare >= -SAME_POINT_MM)) return
  const middle = Math.atan2(c, b)
  if (spare <= SAME_POINT_MM) cutIfAtWall(offset < 0 ? middle : middle + Math.PI) // touching: see addCrossings
  if (!(spare > 0)) return
  const half = Math.acos(-offset / swing)
  cutIfAtWall(middle + half)
  cutIfAtWall(middle - half)
}

const cutAtLevel = (level: number): void => {
  if (isArc) addCrossings(PATH[2] - level, PATH[5], PATH[8])
  else cutLegAt((level - PATH[2]) / PATH[5])
}

/** Lays WALL out as a packed box of no thickness, in the world. */
const laySheet = (data: Float64Array, s: number): void => {
  const middleU = 0.5 * (WALL[0] + WALL[2]), middleV = 0.5 * (WALL[1] + WALL[3]), middleW = 0.5 * (data[s + 12] + data[s + 13])
  const eu = WALL[6] > 0 ? WALL[4] : 1, ev = WALL[5]
  for (let i = 0; i < 3; i++) {
    const u = data[s + 3 + i], v = data[s + 6 + i], w = data[s + 9 + i]
    SHEET[i] = data[s + i] + middleU * u + middleV * v + middleW * w
    SHEET[6 + i] = eu * u + ev * v
    SHEET[9 + i] = eu * v - ev * u
    SHEET[12 + i] = w
  }
  SHEET[3] = 0.5 * WALL[6]
  SHEET[4] = 0
  SHEET[5] = 0.5 * (data[s + 13] - data[s + 12])
}

const writeCurvePoint = (elements: Float64Array, e: number, t: number, answer: Float64Array): void => {
  const cosine = isArc ? elements[e + RADIUS] * Math.cos(t) : 0, sine = isArc ? elements[e + RADIUS] * Math.sin(t) : 0
  for (let i = 0; i < 3; i++) {
    answer[ON_CURVE_X + i] = isArc
      ? elements[e + CENTRE_X + i] + cosine * elements[e + RADIAL_X + i] + sine * elements[e + TANGENT_X + i]
      : elements[e + START_X + i] + t * (elements[e + END_X + i] - elements[e + START_X + i])
  }
  answer[ALONG] = isArc ? Math.min(t * elements[e + RADIUS], elements[e + LENGTH]) : t * elements[e + LENGTH]
}

/** ON_SOLID = ON_CURVE moved by (u, v, w) of the prism's frame. */
const writeSolidPoint = (data: Float64Array, s: number, u: number, v: number, w: number, answer: Float64Array): void => {
  for (let i = 0; i < 3; i++) {
    answer[ON_SOLID_X + i] = answer[ON_CURVE_X + i] + u * data[s + 3 + i] + v * data[s + 6 + i] + w * data[s + 9 + i]
  }
}

const answerInside = (elements: Float64Array, e: number, data: Float64Array, s: number, walls: number, answer: Float64Array): number => {
  const t = DEEPEST[1], feature = DEEPEST[2]
  writeCurvePoint(elements, e, t, answer)
  place(t)
  if (feature < walls) {
    readWall(feature)
    const along = Math.min(Math.max((PLACE[0] - WALL[0]) * WALL[4] + (PLACE[1] - WALL[1]) * WALL[5], 0), WALL[6])
    writeSolidPoint(data, s, WALL[0] + along * WALL[4] - PLACE[0], WALL[1] + along * WALL[5] - PLACE[1], 0, answer)
  } else writeSolidPoint(data, s, 0, 0, feature === walls ? PATH[9] - PLACE[2] : PATH[10] - PLACE[2], answer)
  answer[DISTANCE] = -DEEPEST[0]
  return -DEEPEST[0]
}

/** Least distance from an element that is nowhere inside. */
const leastOutside = (elements: Float64Array, e: number, data: Float64Array, s: number, cutoffMm: number, walls: number, answer: Float64Array): number => {
  let least = Infinity, beyondCutoff = Infinity
  if (isArc) {
    const top = Math.atan2(PATH[8], PATH[5])
    addCut(top)
    addCut(top + Math.PI)
  }
  for (let k = cutCount() - 1; k >= 0; k--) {
    place(cutAngles[k])
    const over = Math.max(PATH[9] - PLACE[2], PLACE[2] - PATH[10], 0)
    if (over < least && over <= cutoffMm && placeInPlan()) {
      least = over
      writeCurvePoint(elements, e, cutAngles[k], answer)
      writeSolidPoint(data, s, 0, 0, PLACE[2] > PATH[10] ? -over : over, answer)
      answer[DISTANCE] = over
    }
  }
  for (let wall = 0; wall < walls; wall++) {
    readWall(wall)
    const limit = Math.max(Math.min(least, cutoffMm), 0)
    const gapU = Math.max(LOW[0] - Math.max(WALL[0], WALL[2]), Math.min(WALL[0], WALL[2]) - HIGH[0], 0)
    const gapV = Math.max(LOW[1] - Math.max(WALL[1], WALL[3]), Math.min(WALL[1], WALL[3]) - HIGH[1], 0)
    let distance = Math.sqrt(gapU * gapU + gapV * gapV)
    if (distance <= limit) {
      laySheet(data, s)
      distance = isArc ? arcBox(elements, e, SHEET, 0, limit, SHEET_ANSWER) : legBox(elements, e, SHEET, 0, limit, SHEET_ANSWER)
    }
    if (distance > cutoffMm) beyondCutoff = Math.min(beyondCutoff, distance)
    else if (distance < least) {
      least = distance
      for (let i = 0; i < ANSWER_SIZE; i++) answer[i] = SHEET_ANSWER[i]
    }
  }
  return Math.min(least, beyondCutoff)
}

/** legPrism and arcPrism in one: see there. */
export const elementPrism = (
  arc: boolean, elements: Float64Array, e: number, data: Float64Array, s: number, cutoffMm: number, answer: Float64Array,
): number => {
  isArc = arc
  layPath(elements, e, data, s)
  const gapW = Math.max(LOW[2] - PATH[10], PATH[9] - HIGH[2], 0)
  if (gapW > 0 && gapW > cutoffMm) return gapW
  const walls = loadPrism(data, s)
  const gapU = Math.max(LOW[0] - PLAN_BOUNDS[2], PLAN_BOUNDS[0] - HIGH[0], 0)
  const gapV = Math.max(LOW[1] - PLAN_BOUNDS[3], PLAN_BOUNDS[1] - HIGH[1], 0)
  const gap = Math.sqrt(gapU * gapU + gapV * gapV + gapW * gapW)
  if (gap > 0 && gap > cutoffMm) return gap

  startCuts(isArc ? elements[e + TURN] : 1)
  DEEPEST[0] = -1
  if (gap === 0) {
    for (let wall = 0; wall < walls; wall++) {
      readWall(wall)
      if (isArc) cutArcAtWall()
      else cutLegAtWall()
    }
    cutAtLevel(PATH[9])
    cutAtLevel(PATH[10])
    for (let k = cutCount() - 1; k > 0; k--) {
      place(0.5 * (cutAngles[k - 1] + cutAngles[k]))
      if (PLACE[2] > PATH[9] && PLACE[2] < PATH[10] && placeInPlan()) deepestInPrism(cutAngles[k - 1], cutAngles[k])
    }
  }
  if (DEEPEST[0] >= 0) return -DEEPEST[0] > cutoffMm ? -DEEPEST[0] : answerInside(elements, e, data, s, walls, answer)
  return leastOutside(elements, e, data, s, cutoffMm, walls, answer)
}
