/** Distance from a point to one sheet of an envelope (voidEnvelope.ts): an upright rectangle or a level convex polygon. Mm. */
import { BOX } from '../solid/solidSet.ts'
import type { SolidSet } from '../solid/solidSet.ts'

/** @param foot gets the nearest point of the sheet in foot[0..2] */
export function sheetDistance(sheets: SolidSet, sheetIndex: number, x: number, y: number, z: number, foot: Float64Array): number {
  const { data } = sheets, s = sheets.offset[sheetIndex]
  if (sheets.kind[sheetIndex] === BOX) {
    const along = clamped((x - data[s]) * data[s + 6] + (y - data[s + 1]) * data[s + 7], data[s + 3])
    foot[0] = data[s] + along * data[s + 6]
    foot[1] = data[s + 1] + along * data[s + 7]
    foot[2] = data[s + 2] + clamped(z - data[s + 2], data[s + 5])
  } else {
    nearestInRing(data, s + 16, data[s + 15], x, y, foot)
    foot[2] = data[s + 12]
  }
  return Math.sqrt((x - foot[0]) ** 2 + (y - foot[1]) ** 2 + (z - foot[2]) ** 2)
}

/** The nearest point of a convex counter-clockwise ring's inside, to foot[0..1]. */
function nearestInRing(data: Float64Array, at: number, count: number, x: number, y: number, foot: Float64Array): void {
  let nearest = Infinity, isInside = true
  for (let i = 0; i < count; i++) {
    const a = at + 2 * i, b = i + 1 < count ? a + 2 : at
    const ax = data[a], ay = data[a + 1], dx = data[b] - ax, dy = data[b + 1] - ay
    if (dx * (y - ay) - dy * (x - ax) >= 0) continue
    isInside = false
    const t = Math.min(Math.max(((x - ax) * dx + (y - ay) * dy) / (dx * dx + dy * dy), 0), 1)
    const px = ax + t * dx, py = ay + t * dy, square = (px - x) ** 2 + (py - y) ** 2
    if (square >= nearest) continue
    nearest = square
    foot[0] = px
    foot[1] = py
  }
  if (!isInside) return
  foot[0] = x
  foot[1] = y
}

function clamped(value: number, half: number): number {
  return Math.min(Math.max(value, -half), half)
}
