/** Whether legs and bends of one kind of duct keep their clearances, asked of the exact kernels; slack lets a search be less strict than the checks. */
import type { CheckContext } from '#checks/context.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { ANSWER_SIZE, elementDistance } from '#geometry/clearance/index.ts'
import { writeArc, writeLeg } from '#geometry/curve/build.ts'
import { ELEMENT_STRIDE } from '#geometry/curve/centreline.ts'
import { voidHolds } from '#geometry/envelope/voidEnvelope.ts'

const element = new Float64Array(ELEMENT_STRIDE)
const answer = new Float64Array(ANSWER_SIZE)
const found = new IndexList()

export class DuctRoom {
  readonly #context: CheckContext
  readonly radiusMm: number
  /** steps of work done: one for each element asked about */
  asked = 0

  constructor(context: CheckContext, radiusMm: number) {
    this.#context = context
    this.radiusMm = radiusMm
  }

  /** @param exempt solids that it may touch; null for none */
  legIsClear(px: number, py: number, pz: number, qx: number, qy: number, qz: number, slackMm: number, exempt: ReadonlySet<number> | null): boolean {
    writeLeg(element, 0, px, py, pz, qx, qy, qz, 0)
    return this.elementIsClear(element, 0, slackMm, exempt)
  }

  elementIsClear(elements: Float64Array, e: number, slackMm: number, exempt: ReadonlySet<number> | null): boolean {
    this.asked++
    const { assembly: { solids, parts }, clearances, grid, isSound, envelope } = this.#context
    const reachMm = this.radiusMm - slackMm
    const count = grid.nearElement(elements, e, reachMm + clearances.mostMm, found)
    for (let i = 0; i < count; i++) {
      const solid = found.items[i]
      if (isSound[solid] === 0 || exempt !== null && exempt.has(solid)) continue
      const belowMm = reachMm + clearances.mm[parts.classCodeOf(solid)]
      if (elementDistance(elements, e, solids, solid, belowMm, answer) < belowMm) return false
    }
    if (envelope === null) return true
    const sheets = envelope.grid.nearElement(elements, e, reachMm, found)
    for (let i = 0; i < sheets; i++) if (elementDistance(elements, e, envelope.sheets, found.items[i], reachMm, answer) < reachMm) return false
    return true
  }

  /** Whether a place lies in the ceiling void, where the job has one. */
  isInVoid(x: number, y: number, z: number): boolean {
    const { envelope } = this.#context
    return envelope === null || voidHolds(envelope, x, y, z)
  }
}

/**
 * Writes the bend at a corner between two unit directions; false where there is none to speak of.
 * @param tangentMm radius times the tangent of half the turn
 */
export function writeBend(
  elements: Float64Array, e: number, x: number, y: number, z: number,
  ax: number, ay: number, az: number, bx: number, by: number, bz: number, radiusMm: number, tangentMm: number,
): boolean {
  const k = ax * bx + ay * by + az * bz
  let wx = bx - k * ax, wy = by - k * ay, wz = bz - k * az
  const size = Math.sqrt(wx * wx + wy * wy + wz * wz)
  if (!(size > 1e-9)) return false
  wx /= size
  wy /= size
  wz /= size
  const cx = x - tangentMm * ax + radiusMm * wx, cy = y - tangentMm * ay + radiusMm * wy, cz = z - tangentMm * az + radiusMm * wz
  writeArc(elements, e, [cx, cy, cz], [-wx, -wy, -wz], [ax, ay, az], radiusMm, Math.atan2(size, k), 0)
  return true
}
