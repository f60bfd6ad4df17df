import { ELEMENT_STRIDE, KIND, LEG, RADIAL_X, RADIUS, TANGENT_X } from '../curve/centreline.ts'
import { ALONG_OTHER, ANSWER_SIZE, DISTANCE, ON_CURVE_X, ON_SOLID_X, PAIR_ANSWER_SIZE } from './answer.ts'
import type { CurveKernel } from './answer.ts'

const TUBE_RADIUS = 0
const TUBE_COUNT = 1
const TUBE_ELEMENTS = 2

const found = new Float64Array(PAIR_ANSWER_SIZE)

/**
 * Least distance from an element to a tube: the least over the tube's elements, less its radius. Exact outside; inside, the depth
 * below the surface of the nearest leg or bend, which is the whole tube's except on the inner side of a sharp corner, where that is deeper.
 * @param toLeg, toArc kernels for the element's kind against a leg and against an arc
 */
export function leastToTube(
  toLeg: CurveKernel, toArc: CurveKernel,
  elements: Float64Array, e: number, data: Float64Array, s: number, cutoffMm: number, answer: Float64Array,
): number {
  const radius = data[s + TUBE_RADIUS], count = data[s + TUBE_COUNT]
  // a hair more than cutoff + radius, so that whatever rounds to the cutoff below has been filled in
  const limit = cutoffMm + radius + 4 * Number.EPSILON * (Math.abs(cutoffMm) + radius)
  let least = Infinity, nearest = -1
  for (let i = 0, o = s + TUBE_ELEMENTS; i < count; i++, o += ELEMENT_STRIDE) {
    const kernel = data[o + KIND] === LEG ? toLeg : toArc
    const cutoff = Math.min(least, limit)
    const distance = kernel(elements, e, data, o, cutoff, found)
    if (distance <= cutoff) nearest = o
    if (distance < least) least = distance
  }
  const distance = least - radius
  if (distance <= cutoffMm) {
    for (let k = 0; k < ANSWER_SIZE; k++) answer[k] = found[k]
    answer[DISTANCE] = distance
    moveToSurface(data, nearest, radius, least, answer)
  }
  return distance
}

/** Move ON_SOLID from the tube's centreline out to its surface, towards the point it is nearest to. */
function moveToSurface(data: Float64Array, o: number, radius: number, least: number, answer: Float64Array): void {
  let dx = answer[ON_CURVE_X] - answer[ON_SOLID_X]
  let dy = answer[ON_CURVE_X + 1] - answer[ON_SOLID_X + 1]
  let dz = answer[ON_CURVE_X + 2] - answer[ON_SOLID_X + 2]
  let length = least
  if (!(length > 0)) {
    // the two centrelines meet, so any direction square to the tube will do
    const angle = data[o + KIND] === LEG ? 0 : found[ALONG_OTHER] / data[o + RADIUS]
    const c = Math.cos(angle), s = Math.sin(angle)
    const tx = data[o + KIND] === LEG ? data[o + RADIAL_X] : c * data[o + TANGENT_X] - s * data[o + RADIAL_X]
    const ty = data[o + KIND] === LEG ? data[o + RADIAL_X + 1] : c * data[o + TANGENT_X + 1] - s * data[o + RADIAL_X + 1]
    const tz = data[o + KIND] === LEG ? data[o + RADIAL_X + 2] : c * data[o + TANGENT_X + 2] - s * data[o + RADIAL_X + 2]
    const flat = Math.abs(tx) + Math.abs(ty) < Math.abs(tz)
    dx = flat ? tz : -ty
    dy = flat ? 0 : tx
    dz = flat ? -tx : 0
    length = Math.hypot(dx, dy, dz)
    if (!(length > 0)) {
      dz = 1
      length = 1
    }
  }
  const scale = radius / length
  answer[ON_SOLID_X] += scale * dx
  answer[ON_SOLID_X + 1] += scale * dy
  answer[ON_SOLID_X + 2] += scale * dz
}
