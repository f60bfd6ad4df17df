import { ARC, ELEMENT_STRIDE, KIND, LENGTH, RADIUS } from '../curve/centreline.ts'
import { SAME_POINT_MM, UNIT_AXIS_ERROR } from '../tolerance.ts'
import { ringAreaMm2, ringHolds, ringsCross } from './ring.ts'
import { BOX, CYLINDER, PRISM, TUBE } from './solidSet.ts'
import type { SolidSet } from './solidSet.ts'

/**
 * Why a solid is not a proper body, in words for a person ('is 0 mm thick'), or null when it is sound.
 * Clearances to a solid that is not sound are still numbers, but nothing is promised about them.
 */
export function whyDegenerate(set: SolidSet, solidIndex: number): string | null {
  const { data, offset } = set
  const s = offset[solidIndex], end = offset[solidIndex + 1]
  for (let i = s; i < end; i++) if (!Number.isFinite(data[i])) return 'has a size or place that is not a number'
  switch (set.kind[solidIndex]) {
    case BOX: return whyBox(data, s)
    case PRISM: return whyPrism(data, s)
    case CYLINDER: return whyCylinder(data, s)
    case TUBE: return whyTube(data, s)
    default: return 'is of no known kind'
  }
}

/** The rings of a packed prism as views into `data`: the outline, then the holes. */
export function ringsOf(data: Float64Array, s: number): Float64Array[] {
  const rings: Float64Array[] = []
  let at = s + 15
  for (let i = 0; i < data[s + 14]; i++) {
    const length = 2 * data[at]
    rings.push(data.subarray(at + 1, at + 1 + length))
    at += 1 + length
  }
  return rings
}

function whyBox(data: Float64Array, s: number): string | null {
  for (let k = 0; k < 3; k++) {
    const size = 2 * data[s + 3 + k]
    if (!(size > SAME_POINT_MM)) return size < 0 ? `has a negative size (${size} mm)` : `is ${size} mm thick`
  }
  return whyAxes(data, s + 6)
}

function whyPrism(data: Float64Array, s: number): string | null {
  const height = data[s + 13] - data[s + 12]
  if (!(height > SAME_POINT_MM)) return height < 0 ? 'has its top below its bottom' : `is ${height} mm high`
  const rings = ringsOf(data, s)
  if (rings.length === 0) return 'has no outline'
  for (const [i, ring] of rings.entries()) {
    const name = i === 0 ? 'its outline' : `its hole ${i}`
    if (ring.length < 6) return `${name} has fewer than three different corners`
    if (ringsCross(ring, ring)) return `${name} crosses or touches itself`
    if (!(Math.abs(ringAreaMm2(ring)) > SAME_POINT_MM ** 2)) return `${name} has no area`
  }
  for (let i = 1; i < rings.length; i++) {
    if (!ringHolds(rings[0], rings[i][0], rings[i][1]) || ringsCross(rings[0], rings[i])) return `its hole ${i} is not inside its outline`
    for (let j = 1; j < rings.length; j++) {
      if (j === i) continue
      if (ringHolds(rings[j], rings[i][0], rings[i][1]) || j < i && ringsCross(rings[j], rings[i])) return `its holes ${Math.min(i, j)} and ${Math.max(i, j)} overlap`
    }
  }
  return whyAxes(data, s + 3)
}

function whyCylinder(data: Float64Array, s: number): string | null {
  if (!(data[s + 6] > SAME_POINT_MM)) return `has a radius of ${data[s + 6]} mm`
  if (!(2 * data[s + 7] > SAME_POINT_MM)) return `is ${2 * data[s + 7]} mm long`
  return isUnit(data, s + 3) ? null : 'has an axis that is not of length 1'
}

function whyTube(data: Float64Array, s: number): string | null {
  const radius = data[s], count = data[s + 1]
  if (!(radius > SAME_POINT_MM)) return `has a radius of ${radius} mm`
  if (count < 1) return 'has no centreline'
  let length = 0
  for (let i = 0, e = s + 2; i < count; i++, e += ELEMENT_STRIDE) {
    length += data[e + LENGTH]
    if (data[e + KIND] === ARC && radius > data[e + RADIUS]) {
      return `folds into itself: its radius ${radius} mm is more than its bend radius ${data[e + RADIUS]} mm`
    }
  }
  return length > SAME_POINT_MM ? null : `is ${length} mm long`
}

/** Unit axes, square to each other and right-handed, to within rounding: u x v must be w. */
function whyAxes(data: Float64Array, a: number): string | null {
  for (let k = 0; k < 9; k += 3) if (!isUnit(data, a + k)) return 'has an axis that is not of length 1'
  const offX = data[a + 1] * data[a + 5] - data[a + 2] * data[a + 4] - data[a + 6]
  const offY = data[a + 2] * data[a + 3] - data[a] * data[a + 5] - data[a + 7]
  const offZ = data[a] * data[a + 4] - data[a + 1] * data[a + 3] - data[a + 8]
  return Math.sqrt(offX * offX + offY * offY + offZ * offZ) < UNIT_AXIS_ERROR ? null : 'has axes that are not square to each other and right-handed'
}

function isUnit(data: Float64Array, a: number): boolean {
  return Math.abs(Math.sqrt(data[a] ** 2 + data[a + 1] ** 2 + data[a + 2] ** 2) - 1) < UNIT_AXIS_ERROR
}
