/**
 * Random ceiling zones whose corners lie on a grid, and the plainest possible reference for them: the grid's cells, each in
 * or out of the void. Everything is in the zones' own frame; `place` turns the plan so that rounding is met as well.
 */
import { SolidSetBuilder } from '#geometry/solid/build.ts'
import type { SolidSet } from '#geometry/solid/solidSet.ts'
import { seeded } from '../../oracle/seeded.ts'

export { seeded }

export type Rect = readonly [x0: number, y0: number, x1: number, y1: number]

export interface GridZone {
  /** plan rings: outline, then holes */
  readonly rings: readonly (readonly number[])[]
  /** the same plan as rectangles put together, less the last one when it has a hole */
  readonly rects: readonly Rect[]
  readonly hole: Rect | null
  readonly bottom: number
  readonly top: number
}

export const STEP = 500
export const COLUMNS = 8
export const HEIGHTS = [2400, 2520, 2700, 2900, 3000]

export function rectRing([x0, y0, x1, y1]: Rect): number[] {
  return [x0, y0, x1, y0, x1, y1, x0, y1]
}

export function rectZone(rect: Rect, bottom: number, top: number): GridZone {
  return { rings: [rectRing(rect)], rects: [rect], hole: null, bottom, top }
}

/** One to six zones: rectangles, L-shapes and frames with a hole. */
export function randomZones(random: () => number): GridZone[] {
  const whole = (low: number, high: number): number => low + Math.floor(random() * (high - low + 1))
  return Array.from({ length: whole(1, 6) }, () => {
    const level = whole(0, HEIGHTS.length - 2)
    const bottom = HEIGHTS[level], top = HEIGHTS[whole(level + 1, HEIGHTS.length - 1)]
    const i = whole(0, COLUMNS - 3), j = whole(0, COLUMNS - 3)
    const x0 = i * STEP, y0 = j * STEP, x2 = whole(i + 3, COLUMNS) * STEP, y2 = whole(j + 3, COLUMNS) * STEP
    const x1 = x0 + STEP * whole(1, (x2 - x0) / STEP - 1), y1 = y0 + STEP * whole(1, (y2 - y0) / STEP - 1)
    const shape = random()
    if (shape < 0.4) return rectZone([x0, y0, whole(0, 1) ? x1 : x2, whole(0, 1) ? y1 : y2], bottom, top)
    if (shape < 0.8) {
      return { rings: [[x0, y0, x2, y0, x2, y1, x1, y1, x1, y2, x0, y2]], rects: [[x0, y0, x2, y1], [x0, y0, x1, y2]], hole: null, bottom, top }
    }
    const hole: Rect = [x0 + STEP, y0 + STEP, x2 - STEP, y2 - STEP]
    return { rings: [rectRing([x0, y0, x2, y2]), rectRing(hole)], rects: [[x0, y0, x2, y2]], hole, bottom, top }
  })
}

/** In any zone? The obviously right answer, away from faces. */
export function holds(zones: readonly GridZone[], x: number, y: number, z: number): boolean {
  const isIn = ([x0, y0, x1, y1]: Rect): boolean => x > x0 && x < x1 && y > y0 && y < y1
  return zones.some(zone => z > zone.bottom && z < zone.top && zone.rects.some(isIn) && !(zone.hole && isIn(zone.hole)))
}

/** A plan turned about the origin and shifted. */
export interface Place {
  readonly c: number
  readonly s: number
  readonly dx: number
  readonly dy: number
}

export const AS_DRAWN: Place = { c: 1, s: 0, dx: 0, dy: 0 }

export function turnedPlace(angleRad: number, dx: number, dy: number): Place {
  return { c: Math.cos(angleRad), s: Math.sin(angleRad), dx, dy }
}

export function placed({ c, s, dx, dy }: Place, x: number, y: number): [number, number] {
  return [c * x - s * y + dx, s * x + c * y + dy]
}

export function unplaced({ c, s, dx, dy }: Place, x: number, y: number): [number, number] {
  return [c * (x - dx) + s * (y - dy), c * (y - dy) - s * (x - dx)]
}

export function zoneSet(zones: readonly GridZone[], place = AS_DRAWN): SolidSet {
  const builder = new SolidSetBuilder()
  for (const zone of zones) {
    const rings = zone.rings.map(ring => Array.from({ length: ring.length / 2 }, (_, i) => placed(place, ring[2 * i], ring[2 * i + 1])).flat())
    builder.addPrism([0, 0, 0], [1, 0, 0, 0, 1, 0, 0, 0, 1], zone.bottom, zone.top, rings)
  }
  return builder.build()
}

/** A face of a grid cell that has void on one side only: a flat box. */
export type Face = readonly [minX: number, minY: number, minZ: number, maxX: number, maxY: number, maxZ: number]

/** The boundary of the union, cell face by cell face. */
export function boundaryFaces(zones: readonly GridZone[]): Face[] {
  const heights = [HEIGHTS[0] - 100, ...HEIGHTS, HEIGHTS.at(-1)! + 100]
  const isIn = (i: number, j: number, k: number): boolean =>
    k >= 0 && k + 1 < heights.length && holds(zones, (i + 0.5) * STEP, (j + 0.5) * STEP, (heights[k] + heights[k + 1]) / 2)
  const faces: Face[] = []
  for (let i = -1; i <= COLUMNS; i++) {
    for (let j = -1; j <= COLUMNS; j++) {
      for (let k = 0; k + 1 < heights.length; k++) {
        const x0 = i * STEP, y0 = j * STEP, x1 = x0 + STEP, y1 = y0 + STEP, z0 = heights[k], z1 = heights[k + 1]
        const here = isIn(i, j, k)
        if (here !== isIn(i + 1, j, k)) faces.push([x1, y0, z0, x1, y1, z1])
        if (here !== isIn(i, j + 1, k)) faces.push([x0, y1, z0, x1, y1, z1])
        if (here !== isIn(i, j, k + 1)) faces.push([x0, y0, z1, x1, y1, z1])
      }
    }
  }
  return faces
}

export function faceDistance(face: Face, x: number, y: number, z: number): number {
  return Math.hypot(
    Math.max(face[0] - x, x - face[3], 0), Math.max(face[1] - y, y - face[4], 0), Math.max(face[2] - z, z - face[5], 0))
}

export function faceArea(face: Face): number {
  const dx = face[3] - face[0], dy = face[4] - face[1], dz = face[5] - face[2]
  return dx === 0 ? dy * dz : dy === 0 ? dx * dz : dx * dy
}
