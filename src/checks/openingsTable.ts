/** Every opening of every open-web joist: where it is, what it takes, and what goes through it. */
import { largestEqual } from '#geometry/fit/fitMix.ts'
import { largestStraight } from '#geometry/fit/largestDuct.ts'
import type { Opening } from '#geometry/fit/opening.ts'
import type { CheckContext } from './context.ts'
import { crossingsOf, type Crossing } from './crossings.ts'

export interface OpeningRow {
  readonly joistId: string
  readonly joistName: string
  /** counts from 1 from the joist's datum end */
  readonly opening: number
  /** corners in the joist's own plane: mm from its datum end, mm above its underside; counter-clockwise seen from its right-hand side */
  readonly corners: readonly (readonly [number, number])[]
  /** where the largest duct sits: mm from the joist's datum end, and its height as a level on site */
  readonly alongMm: number
  readonly levelMm: number
  /** largest duct straight through */
  readonly largestMm: number
  /** largest diameter of two, and of three, equal ducts side by side, straight through and touching each other */
  readonly largestOfTwoMm: number
  readonly largestOfThreeMm: number
  readonly crossedBy: readonly OpeningUse[]
}

export interface OpeningUse {
  readonly runId: string
  readonly runName: string
  readonly crossing: Crossing
}

/** In the order of the joists, then along each from its datum end. */
export function openingsTable(context: CheckContext): OpeningRow[] {
  const uses = new Map<string, OpeningUse[]>()
  context.runs.forEach(({ placed: { run } }, runIndex) => {
    for (const crossing of crossingsOf(context, runIndex)) {
      if (crossing.opening === null) continue
      const key = `${crossing.joistIndex}/${crossing.opening}`, use = { runId: run.id, runName: run.name, crossing }
      const there = uses.get(key)
      if (there === undefined) uses.set(key, [use])
      else there.push(use)
    }
  })
  const one = new Float64Array(3)
  const groups = new Map<string, readonly [number, number]>()
  return context.assembly.joists.flatMap((joist, joistIndex) => joist.openings.map(({ number, opening }): OpeningRow => {
    largestStraight(opening, one)
    const shape = shapeOf(opening.verticesXy)
    const [largestOfTwoMm, largestOfThreeMm] = groups.get(shape) ?? largestTogether(opening)
    groups.set(shape, [largestOfTwoMm, largestOfThreeMm])
    return {
      joistId: joist.id, joistName: joist.name, opening: number, corners: cornersOf(opening.verticesXy),
      alongMm: one[1], levelMm: joist.origin[2] + one[2], largestMm: one[0], largestOfTwoMm, largestOfThreeMm,
      crossedBy: uses.get(`${joistIndex}/${number}`) ?? [],
    }
  }))
}

const several = new Float64Array(7)

function largestTogether(opening: Opening): [number, number] {
  largestEqual(opening, 2, several)
  const two = several[0]
  largestEqual(opening, 3, several)
  return [two, several[0]]
}

/** The same for openings that differ only in where they are, to a millionth of a millimetre: a field of joists has few shapes. */
function shapeOf(xy: Float64Array): string {
  return Array.from(xy, (value, i) => (value - xy[i % 2]).toFixed(6)).join(' ')
}

function cornersOf(xy: Float64Array): [number, number][] {
  return Array.from({ length: xy.length / 2 }, (_, i) => [xy[2 * i], xy[2 * i + 1]])
}
