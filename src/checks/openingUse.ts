/** Which runs pass an opening, and where each of them lies in it. */
import type { PlacedJoist } from '#assembly/assembly.ts'
import type { DuctThere } from '#geometry/fit/largestBeside.ts'
import { BOTTOM_CHORD, FAR_END, TOP_CHORD } from '#geometry/fit/opening.ts'
import type { CheckContext, CheckedRun } from './context.ts'
import { crossingsOf, type Crossing } from './crossings.ts'
import { joistWidthMm } from './refs.ts'

export interface OpeningUser { readonly runIndex: number, readonly crossing: Crossing }

/** Worked out once for each run and kept while that run stays as it is. */
const known = new WeakMap<CheckedRun, readonly Crossing[]>()

/** crossingsOf, remembered. */
export function knownCrossings(context: CheckContext, runIndex: number): readonly Crossing[] {
  const run = context.runs[runIndex]
  let crossings = known.get(run)
  if (crossings === undefined) known.set(run, crossings = crossingsOf(context, runIndex))
  return crossings
}

/** Every crossing of one joist, in the order of the runs. */
export function usersOfJoist(context: CheckContext, joistIndex: number): OpeningUser[] {
  return context.runs.flatMap((_, runIndex) => knownCrossings(context, runIndex).filter((crossing) => crossing.joistIndex === joistIndex).map((crossing) => ({ runIndex, crossing })))
}

/** Runs that pass one opening. */
export function usersOf(context: CheckContext, joistIndex: number, openingNumber: number): OpeningUser[] {
  return usersOfJoist(context, joistIndex).filter(({ crossing }) => crossing.opening === openingNumber)
}

/** The ducts as rounds: each at both faces of the joist and in its middle, as wide as its slant makes it, with the gap that must be left. On the safe side for slanting ones. */
export function ductsOf(users: readonly OpeningUser[], joist: PlacedJoist, gapMm: number): DuctThere[] {
  const half = halfThicknessMm(joist)
  return users.flatMap(({ crossing: { x, y, shear: [sx, sy], ductDiameterMm } }) => {
    const slant = Math.hypot(sx, sy), keptMm = ductDiameterMm / 2 * Math.hypot(1, slant) + gapMm
    return (slant * half < SAME_PLACE_MM ? [0] : [-half, 0, half]).map((n) => ({ x: x + n * sx, y: y + n * sy, keptMm }))
  })
}

const SAME_PLACE_MM = 0.05

/** From the middle plane to the outer face of plates or flanges, mm. */
export function halfThicknessMm(joist: PlacedJoist): number {
  const { section } = joist
  const plates = section.kind === 'open-web' && section.webFaces !== 'middle' ? section.webThicknessMm : 0
  return joistWidthMm(joist) / 2 + plates
}

/** Site name of the member behind an opening's edge: 'web 5', 'top chord'; as the joist's own solids are named. */
export function memberName({ assembly: { parts } }: CheckContext, joist: PlacedJoist, member: number): string {
  const solidIndex = solidOfMember(joist, member)
  return solidIndex < 0 ? 'end of the joist' : parts.describe(solidIndex).name.replace(`${joist.name}, `, '')
}

/** The joist's solid behind an opening's edge; -1 for the bare end of a joist without end blocks. Solids lie in the order: bottom chord, top chord, end blocks, web plates. */
export function solidOfMember({ section, firstSolid }: PlacedJoist, member: number): number {
  const hasBlocks = section.kind === 'open-web' && section.endBlockMm > 0
  if (member === BOTTOM_CHORD) return firstSolid
  if (member === TOP_CHORD) return firstSolid + 1
  if (member < 0) return hasBlocks ? firstSolid + (member === FAR_END ? 3 : 2) : -1
  return firstSolid + (hasBlocks ? 4 : 2) + member
}
