/**
 * Straight leg against an oriented box. The signed distance of a convex solid is convex along a line, so the least
 * value is where its slope changes sign: outside, the half-slope of the squared distance is a rising chain of straight
 * pieces, one per set of faces the point lies beyond; inside, the distance is the largest of six straight lines.
 */
import { END_X, LENGTH, START_X } from '../curve/centreline.ts'
import { ALONG, DISTANCE, ON_CURVE_X, ON_SOLID_X, type PairKernel } from './answer.ts'
import { BOX_FRAME, deepestInBox, deepestPart } from './deepestInBox.ts'

// Own copies: unbundled, an imported constant is loaded from its module at every use, which made this kernel 3 times slower.
const FROM = START_X, TO = END_X, LENGTH_AT = LENGTH
const DISTANCE_AT = DISTANCE, CURVE = ON_CURVE_X, SOLID = ON_SOLID_X, ALONG_AT = ALONG
const FRAME = BOX_FRAME, DEEPEST = deepestPart

/** Newton on a chain of at most seven straight pieces needs a few steps; the bracket halves if it ever bounces. */
const MOST_STEPS = 80

/**
 * Least signed distance, mm, of a straight leg to a box (layouts: curve/centreline.ts, solid/solidSet.ts).
 * Outside > 0, touching 0, inside the negative depth below the nearest face. Zero length and zero thickness allowed.
 */
export const legBox: PairKernel = (elements, e, data, s, cutoffMm, answer) => {
  const startX = elements[e + FROM], startY = elements[e + FROM + 1], startZ = elements[e + FROM + 2]
  const goX = elements[e + TO] - startX, goY = elements[e + TO + 1] - startY, goZ = elements[e + TO + 2] - startZ
  const relX = startX - data[s], relY = startY - data[s + 1], relZ = startZ - data[s + 2]
  const cutoffSquared = cutoffMm > 0 ? cutoffMm * cutoffMm : 0

  // Box frame, each axis mirrored so that the leg runs towards +: start p, whole step d >= 0, half size h.
  const hx = data[s + 3]
  let px = relX * data[s + 6] + relY * data[s + 7] + relZ * data[s + 8]
  let dx = goX * data[s + 6] + goY * data[s + 7] + goZ * data[s + 8]
  let signX = 1
  if (dx < 0) { px = -px; signX = -1 }
  dx = Math.abs(dx) // turns -0 to 0 as well, which is divided by below
  let gap = px > hx ? px - hx : px + dx < -hx ? px + dx + hx : 0
  let gapSquared = gap * gap

  const hy = data[s + 4]
  let py = relX * data[s + 9] + relY * data[s + 10] + relZ * data[s + 11]
  let dy = goX * data[s + 9] + goY * data[s + 10] + goZ * data[s + 11]
  let signY = 1
  if (dy < 0) { py = -py; signY = -1 }
  dy = Math.abs(dy)
  gap = py > hy ? py - hy : py + dy < -hy ? py + dy + hy : 0
  gapSquared += gap * gap

  const hz = data[s + 5]
  let pz = relX * data[s + 12] + relY * data[s + 13] + relZ * data[s + 14]
  let dz = goX * data[s + 12] + goY * data[s + 13] + goZ * data[s + 14]
  let signZ = 1
  if (dz < 0) { pz = -pz; signZ = -1 }
  dz = Math.abs(dz)
  gap = pz > hz ? pz - hz : pz + dz < -hz ? pz + dz + hz : 0
  gapSquared += gap * gap
  if (gapSquared > cutoffSquared) return Math.sqrt(gapSquared)

  // Where the line enters and leaves each slab. 0/0 (running in a face) gives NaN, which the comparisons pass over.
  let enter = -Infinity, leave = Infinity
  let at = (-hx - px) / dx
  if (at > enter) enter = at
  at = (hx - px) / dx
  if (at < leave) leave = at
  at = (-hy - py) / dy
  if (at > enter) enter = at
  at = (hy - py) / dy
  if (at < leave) leave = at
  at = (-hz - pz) / dz
  if (at > enter) enter = at
  at = (hz - pz) / dz
  if (at < leave) leave = at

  let t = 0
  if (enter <= leave && enter <= 1 && leave >= 0) {
    FRAME[0] = px; FRAME[1] = py; FRAME[2] = pz
    FRAME[3] = dx; FRAME[4] = dy; FRAME[5] = dz
    FRAME[6] = hx; FRAME[7] = hy; FRAME[8] = hz
    const distance = deepestInBox(enter > 0 ? enter : 0, leave < 1 ? leave : 1)
    if (distance > cutoffMm) return distance
    t = DEEPEST[0]
    answer[CURVE] = startX + t * goX; answer[CURVE + 1] = startY + t * goY; answer[CURVE + 2] = startZ + t * goZ
    const axis = DEEPEST[1]
    const out = -distance * DEEPEST[2] * (axis === 0 ? signX : axis === 1 ? signY : signZ)
    const f = s + 6 + 3 * axis
    answer[SOLID] = answer[CURVE] + out * data[f]
    answer[SOLID + 1] = answer[CURVE + 1] + out * data[f + 1]
    answer[SOLID + 2] = answer[CURVE + 2] + out * data[f + 2]
    answer[DISTANCE_AT] = distance
    answer[ALONG_AT] = t * elements[e + LENGTH_AT]
    return distance
  }

  // Outside. Before `leave` nothing is beyond a far face, after `enter` nothing is short of a near one: the root lies between.
  let lo = 0, hi = 1
  if (enter > leave) {
    if (leave > lo) lo = leave < 1 ? leave : 1
    if (enter < hi) hi = enter > 0 ? enter : 0
  } else if (enter > 1) lo = 1
  else hi = 0

  let bx = 0, by = 0, bz = 0 // how far the point lies beyond the box along each axis, signed
  let lastRegion = -1 // the faces beyond which a Newton step started: landing beyond the same ones, it was exact
  t = lo > 0 && hi < 1 ? 0.5 * (lo + hi) : lo > 0 ? lo : hi < 1 ? hi : 0.5
  for (let step = 0; step < MOST_STEPS; step++) {
    bx = px + dx * t
    by = py + dy * t
    bz = pz + dz * t
    let slope = 0, bend = 0, region = 0
    if (bx > hx) { bx -= hx; slope += dx * bx; bend += dx * dx; region = 1 } else if (bx < -hx) { bx += hx; slope += dx * bx; bend += dx * dx; region = 2 } else bx = 0
    if (by > hy) { by -= hy; slope += dy * by; bend += dy * dy; region += 3 } else if (by < -hy) { by += hy; slope += dy * by; bend += dy * dy; region += 6 } else by = 0
    if (bz > hz) { bz -= hz; slope += dz * bz; bend += dz * dz; region += 9 } else if (bz < -hz) { bz += hz; slope += dz * bz; bend += dz * dz; region += 18 } else bz = 0
    if (region === lastRegion || slope === 0) break
    if (slope < 0) {
      if (t >= hi) break
      lo = t
    } else {
      if (t <= lo) break
      hi = t
    }
    lastRegion = region
    t -= slope / bend
    if (!(t > lo)) {
      lastRegion = -1
      t = slope > 0 && lo === 0 ? 0 : 0.5 * (lo + hi)
    } else if (!(t < hi)) {
      lastRegion = -1
      t = slope < 0 && hi === 1 ? 1 : 0.5 * (lo + hi)
    }
  }
  const squared = bx * bx + by * by + bz * bz
  const distance = Math.sqrt(squared)
  if (squared > cutoffSquared || distance > cutoffMm) return distance
  const qx = (px + dx * t - bx) * signX, qy = (py + dy * t - by) * signY, qz = (pz + dz * t - bz) * signZ
  answer[DISTANCE_AT] = distance
  answer[CURVE] = startX + t * goX
  answer[CURVE + 1] = startY + t * goY
  answer[CURVE + 2] = startZ + t * goZ
  answer[SOLID] = data[s] + qx * data[s + 6] + qy * data[s + 9] + qz * data[s + 12]
  answer[SOLID + 1] = data[s + 1] + qx * data[s + 7] + qy * data[s + 10] + qz * data[s + 13]
  answer[SOLID + 2] = data[s + 2] + qx * data[s + 8] + qy * data[s + 11] + qz * data[s + 14]
  answer[ALONG_AT] = t * elements[e + LENGTH_AT]
  return distance
}
