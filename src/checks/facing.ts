/** What stands in front of a spigot: how far a duct can go straight on before it would touch anything. */
import { ANSWER_SIZE, elementDistance } from '#geometry/clearance/index.ts'
import { writeLeg } from '#geometry/curve/build.ts'
import { ELEMENT_STRIDE } from '#geometry/curve/centreline.ts'
import { IndexList } from '#geometry/broad/indexList.ts'
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'
import type { PlacedSpigot } from '#assembly/assembly.ts'
import type { CheckContext } from './context.ts'
import type { PartRef } from './finding.ts'
import { solidRef } from './refs.ts'

export interface Facing {
  /** what a duct straight on would touch first */
  readonly ref: PartRef
  /** how far the duct goes before it touches, mm from the spigot's mouth; 0 when it touches there */
  readonly straightMm: number
}

const leg = new Float64Array(ELEMENT_STRIDE), answer = new Float64Array(ANSWER_SIZE), found = new IndexList()

/**
 * @param radiusMm of the duct, insulation included
 * @param reachMm how far to look
 * @returns null where nothing stands within reach; exact to ANSWER_ERROR_MM
 */
export function whatItFaces({ assembly, grid, isSound }: CheckContext, spigot: PlacedSpigot, radiusMm: number, reachMm: number): Facing | null {
  const { solids, parts } = assembly, { at, axis } = spigot
  const own = parts.ownerIndexOf(spigot.bodySolid)
  const legTo = (mm: number): void => { writeLeg(leg, 0, at[0], at[1], at[2], at[0] + mm * axis[0], at[1] + mm * axis[1], at[2] + mm * axis[2], 0) }
  let nearestIndex = -1, nearestMm = reachMm
  legTo(reachMm)
  grid.nearElement(leg, 0, radiusMm, found)
  const near = Array.from({ length: found.count }, (_, k) => found.items[k])
  for (const solidIndex of near) {
    if (isSound[solidIndex] === 0 || parts.ownerIndexOf(solidIndex) === own) continue
    const touches = (mm: number): boolean => {
      legTo(mm)
      return elementDistance(leg, 0, solids, solidIndex, radiusMm, answer) < radiusMm - ANSWER_ERROR_MM
    }
    if (!touches(nearestMm)) continue
    // the longer the leg, the nearer: the first length that touches lies between one that does not and one that does
    let clear = 0, met = nearestMm
    if (touches(SHORTEST_MM)) met = 0
    else while (met - clear > ANSWER_ERROR_MM) {
      const middle = (clear + met) / 2
      if (touches(middle)) met = middle
      else clear = middle
    }
    nearestIndex = solidIndex
    nearestMm = met
    if (met === 0) break
  }
  return nearestIndex < 0 ? null : { ref: solidRef(assembly, nearestIndex), straightMm: nearestMm }
}

/** a leg of no length has no direction */
const SHORTEST_MM = 0.01
