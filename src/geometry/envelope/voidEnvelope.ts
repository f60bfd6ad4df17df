/** The envelope of a ceiling void: the boundary of the union of its zones, as flat sheets without thickness. Mm, z up. */
import { BoxIndex } from '../broad/boxIndex.ts'
import { IndexList } from '../broad/indexList.ts'
import { SolidGrid } from '../broad/solidGrid.ts'
import { SolidSetBuilder } from '../solid/build.ts'
import type { SolidSet } from '../solid/solidSet.ts'
import { SAME_POINT_MM } from '../tolerance.ts'
import { gapFillings } from './gapFillings.ts'
import { isConvex, planCells } from './planCells.ts'
import { wallSheets } from './wallSheets.ts'
import { neighboursOf, planHolds, planNearlyHolds, zonePrismsOf } from './zonePrism.ts'
import type { ZonePrism } from './zonePrism.ts'

export const UNDERSIDE = 0
export const TOP = 1
export const SIDE = 2
/** what a sheet is of its zone */
export type SheetFace = typeof UNDERSIDE | typeof TOP | typeof SIDE

export interface VoidEnvelope {
  /**
   * the sheets, all convex: walls as boxes (u along the wall, v outward, half size along v 0, w up), undersides and tops
   * as prisms with wBottom == wTop
   */
  readonly sheets: SolidSet
  /** which zone each sheet belongs to: an index into the set the envelope was made from */
  readonly sheetZone: Uint32Array
  /** UNDERSIDE, TOP or SIDE of that zone */
  readonly sheetFace: Uint8Array
  /** what the envelope encloses: the zones, then the fillings of gaps below ZONES_TOUCH_MM between them */
  readonly prisms: readonly ZonePrism[]
  /** finds the sheets near a place */
  readonly grid: SolidGrid
  /** finds the prisms near a place */
  readonly prismIndex: BoxIndex
}

/**
 * The boundary of the union of ceiling zones. Zones may share whole or parts of walls, overlap, or stand on one another;
 * a wall or face that has void on both sides is left out, and so is a gap below ZONES_TOUCH_MM. Every sheet is truly
 * boundary; coplanar sheets meet at seams. A zone without height, or with under three corners, adds nothing.
 * @throws when a zone is not an upright prism
 */
export function voidEnvelope(zones: SolidSet): VoidEnvelope {
  const drawn = zonePrismsOf(zones)
  const prisms = [...drawn, ...gapFillings(drawn)]
  const near = neighboursOf(prisms, SAME_POINT_MM)
  const builder = new SolidSetBuilder()
  const sheetZone: number[] = [], sheetFace: number[] = []
  prisms.forEach((prism, i) => {
    const others = near[i].map(j => prisms[j])
    const before = new Set(near[i].filter(j => j < i).map(j => prisms[j]))
    const isBefore = (other: ZonePrism): boolean => before.has(other)
    const note = (face: SheetFace): void => {
      sheetZone.push(prism.zone)
      sheetFace.push(face)
    }
    for (const face of [UNDERSIDE, TOP] as const) {
      const z = face === TOP ? prism.top : prism.bottom
      for (const ring of openPlan(prism, others.filter(other => goesOn(other, z, face, isBefore(other))))) {
        builder.addPrism([0, 0, 0], UPRIGHT, z, z, [ring])
        note(face)
      }
    }
    wallSheets(prism, others, isBefore, (ax, ay, bx, by, low, high) => {
      const length = Math.hypot(bx - ax, by - ay)
      const c = (bx - ax) / length, s = (by - ay) / length
      // v = (s, -c) points out of the zone, so u x v = -z: u runs from b to a to keep the frame right-handed with w up
      builder.addBox([(ax + bx) / 2, (ay + by) / 2, (low + high) / 2], [length / 2, 0, (high - low) / 2], [-c, -s, 0, s, -c, 0, 0, 0, 1])
      note(SIDE)
    })
  })
  const sheets = builder.build()
  return {
    sheets, sheetZone: Uint32Array.from(sheetZone), sheetFace: Uint8Array.from(sheetFace), prisms,
    grid: new SolidGrid(sheets),
    prismIndex: new BoxIndex(Float64Array.from(prisms.flatMap(p => [p.minX, p.minY, p.bottom, p.maxX, p.maxY, p.top]))),
  }
}

/**
 * Whether a point is inside the void: in a zone, or in a gap between zones that touch. A point within SAME_POINT_MM of the void counts
 * as in it: on a seam between two zones rounding may put it in neither.
 */
export function voidHolds(envelope: VoidEnvelope, x: number, y: number, z: number): boolean {
  const hair = SAME_POINT_MM
  const count = envelope.prismIndex.near(x - hair, y - hair, z - hair, x + hair, y + hair, z + hair, found)
  for (let i = 0; i < count; i++) if (planNearlyHolds(envelope.prisms[found.items[i]], x, y)) return true
  return false
}

const found = new IndexList()
const UPRIGHT = [1, 0, 0, 0, 1, 0, 0, 0, 1]

/** Whether another prism has void just beyond the face at height z, or the same face and the first claim to it. */
function goesOn(other: ZonePrism, z: number, face: SheetFace, isBefore: boolean): boolean {
  const near = face === TOP ? other.bottom - z : z - other.top
  const far = face === TOP ? other.top - z : z - other.bottom
  if (near > SAME_POINT_MM) return false
  return far > SAME_POINT_MM || isBefore && far >= -SAME_POINT_MM
}

/** The parts of the prism's plan that none of the covers reach, as convex rings. */
function openPlan(prism: ZonePrism, covers: readonly ZonePrism[]): readonly Float64Array[] {
  if (covers.length === 0 && prism.rings.length === 1 && isConvex(prism.rings[0])) return prism.rings
  return planCells(prism, covers, (x, y) => planHolds(prism, x, y) && !covers.some(cover => planHolds(cover, x, y)))
}

