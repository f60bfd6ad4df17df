/**
 * The deepest point of a leg or an arc inside an extruded polygon: depth is the distance to the nearest feature (a wall
 * or an end), and a distance to a convex feature is convex in position, so over a stretch each feature lies below the
 * straight line between its end values, plus what the arc bulges. The features nearest at the two ends give an upper
 * bound; stretches that cannot beat the best depth by more than the gap are dropped, the others split where those two
 * lines meet. That is exact after a few splits where depth is made of planes, and at once where depth is constant.
 */
import { WALL, insidePlan, loadWalls, nearestWall, readWall, wallDistance } from './prismWalls.ts'

/**
 * The element in the prism's frame (u, v, w): a leg at a + t b, 0 <= t <= 1; an arc at a + b cos t + c sin t.
 * a (3), b (3), c (3), bottom w, top w, radius (0 for a leg), swing of w (0 for a leg).
 */
export const PATH = new Float64Array(13)
/** the point last placed, u, v, w */
export const PLACE = new Float64Array(3)
/** depth found, where (t), and its feature: wall number, or the wall count for the bottom and one more for the top */
export const DEEPEST = new Float64Array(3)

/** A leg's depth is exact to this, mm, and an arc's to the second; both far below what is asked. */
const LEG_GAP_MM = 1e-11, ARC_GAP_MM = 1e-8
/** A stretch shorter than this part of the leg, or angle of the arc, is a point. */
const SHORTEST = 1e-13
const MOST_SPLITS = 20_000

let wallCount = 0
let feature = 0
/** from, depth there, feature there, to, depth there, feature there */
const STACK = new Float64Array(6 * 256)

export const loadPrism = (data: Float64Array, s: number): number => {
  wallCount = loadWalls(data, s)
  return wallCount
}

/** Sets PLACE to the element's point at t. */
export const place = (t: number): void => {
  if (PATH[11] > 0) {
    const cosine = Math.cos(t), sine = Math.sin(t)
    for (let i = 0; i < 3; i++) PLACE[i] = PATH[i] + PATH[i + 3] * cosine + PATH[i + 6] * sine
  } else for (let i = 0; i < 3; i++) PLACE[i] = PATH[i] + t * PATH[i + 3]
}

/** Whether PLACE lies inside the outline in plan. */
export const placeInPlan = (): boolean => insidePlan(wallCount, PLACE[0], PLACE[1])

/** Distance, mm, from PLACE to one feature. */
const featureDistance = (f: number): number =>
  f < wallCount ? wallDistance(f, PLACE[0], PLACE[1]) : f === wallCount ? PLACE[2] - PATH[9] : PATH[10] - PLACE[2]

/** Depth at t: the distance to the nearest feature, which is left in `feature`. */
const depthAt = (t: number): number => {
  place(t)
  feature = nearestWall(wallCount, PLACE[0], PLACE[1])
  let depth = featureDistance(feature)
  if (PLACE[2] - PATH[9] < depth) {
    depth = PLACE[2] - PATH[9]
    feature = wallCount
  }
  if (PATH[10] - PLACE[2] < depth) {
    depth = PATH[10] - PLACE[2]
    feature = wallCount + 1
  }
  if (depth > DEEPEST[0]) {
    DEEPEST[0] = depth
    DEEPEST[1] = t
    DEEPEST[2] = feature
  }
  return depth
}

/** How fast the distance to a corner at (u, v), at least `near` over the stretch, can curve down, mm per rad^2. */
const cornerBend = (u: number, v: number, near: number): number => {
  const radius = PATH[11]
  if (near <= 0) return radius
  const au = PATH[0] - u, av = PATH[1] - v, bu = PATH[3], bv = PATH[4], cu = PATH[6], cv = PATH[7]
  const first = Math.hypot(au * cu + av * cv, au * bu + av * bv)
  const second = Math.hypot(bu * cu + bv * cv, 0.5 * (cu * cu + cv * cv - bu * bu - bv * bv))
  const slope = first + second // of half the squared distance, at most; its own slope is at most first + 2 second
  return Math.min(radius, (slope * slope / (near * near) + first + 2 * second) / near)
}

/** How fast the distance to a feature can curve down over an arc's stretch, mm per rad^2: 0 where it is constant. */
const bendOf = (f: number, from: number, to: number, near: number): number => {
  const radius = PATH[11]
  if (radius === 0) return 0
  if (f >= wallCount) return PATH[12]
  readWall(f)
  const eu = WALL[4], ev = WALL[5]
  const stray = 0.125 * radius * (to - from) * (to - from)
  place(from)
  const alongFrom = (PLACE[0] - WALL[0]) * eu + (PLACE[1] - WALL[1]) * ev
  place(to)
  const alongTo = (PLACE[0] - WALL[0]) * eu + (PLACE[1] - WALL[1]) * ev
  const low = Math.min(alongFrom, alongTo) - stray, high = Math.max(alongFrom, alongTo) + stray
  let bend = 0
  if (high > 0 && low < WALL[6]) bend = Math.hypot(PATH[3] * ev - PATH[4] * eu, PATH[6] * ev - PATH[7] * eu)
  if (low < 0) bend = Math.max(bend, cornerBend(WALL[0], WALL[1], near - stray))
  if (high > WALL[6]) bend = Math.max(bend, cornerBend(WALL[2], WALL[3], near - stray))
  return bend
}

/**
 * Raises DEEPEST to the deepest point of the stretch `first`..`last`, which lies inside the prism; call loadPrism, fill
 * PATH and set DEEPEST[0] first.
 */
export const deepestInPrism = (first: number, last: number): void => {
  const gap = PATH[11] > 0 ? ARC_GAP_MM : LEG_GAP_MM
  STACK[0] = first
  STACK[1] = depthAt(first)
  STACK[2] = feature
  STACK[3] = last
  STACK[4] = depthAt(last)
  STACK[5] = feature
  let top = 6
  for (let split = 0; top > 0 && split < MOST_SPLITS; split++) {
    top -= 6
    const from = STACK[top], fromDepth = STACK[top + 1], fromFeature = STACK[top + 2]
    const to = STACK[top + 3], toDepth = STACK[top + 4], toFeature = STACK[top + 5]
    const width = to - from
    if (!(width > SHORTEST)) continue
    place(to)
    const fromAtTo = featureDistance(fromFeature) // >= toDepth
    place(from)
    const toAtFrom = featureDistance(toFeature) // >= fromDepth
    let part = 0.5, bound = 0
    const bulge = 0.125 * width * width
    if (fromAtTo <= fromDepth) bound = fromDepth + bulge * bendOf(fromFeature, from, to, Math.min(fromDepth, fromAtTo))
    else if (toAtFrom <= toDepth) bound = toDepth + bulge * bendOf(toFeature, from, to, Math.min(toDepth, toAtFrom))
    else if (fromFeature === toFeature) bound = Math.max(fromDepth, toDepth) + bulge * bendOf(fromFeature, from, to, Math.min(fromDepth, toDepth))
    else {
      part = (toAtFrom - fromDepth) / (fromAtTo - fromDepth + toAtFrom - toDepth)
      bound = fromDepth + part * (fromAtTo - fromDepth)
      if (bound > DEEPEST[0] + gap || PATH[11] > 0) {
        bound += bulge * Math.max(bendOf(fromFeature, from, to, fromDepth), bendOf(toFeature, from, to, toDepth))
      }
      if (split % 3 === 2 || !(part > 0 && part < 1)) part = 0.5
    }
    if (bound <= DEEPEST[0] + gap || top + 12 > STACK.length) continue
    const middle = from + part * width
    const depth = depthAt(middle)
    STACK[top + 3] = middle
    STACK[top + 4] = depth
    STACK[top + 5] = feature
    top += 6
    STACK[top] = middle
    STACK[top + 1] = depth
    STACK[top + 2] = feature
    STACK[top + 3] = to
    STACK[top + 4] = toDepth
    STACK[top + 5] = toFeature
    top += 6
  }
}
