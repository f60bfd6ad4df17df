/** What the strip's pointer says, in words. */
import type { ClearancesAt, FreeWay } from '#checks/strip.ts'
import { mmText } from '../../figures.ts'

export const WAYS = [['Above', 'above'], ['Below', 'below'], ['Left', 'leftOf'], ['Right', 'rightOf']] as const satisfies readonly (readonly [string, keyof ClearancesAt])[]

export function freeText({ freeMm }: FreeWay): string {
  return freeMm === null ? 'open' : freeMm < 0 ? `${mmText(-freeMm)} into it` : mmText(freeMm)
}

export function partText({ part, freeMm }: FreeWay): string {
  return part === null ? 'nothing within 20 m' : freeMm === 0 ? `touches ${part.name}` : part.name
}

/** One sentence for a screen reader. */
export function spoken(at: ClearancesAt): string {
  return `${mmText(Math.round(at.stationMm))} along. ${WAYS.map(([word, key]) => {
    const way = at[key]
    return `${word}: ${way.part === null ? 'open' : `${freeText(way)}${way.freeMm !== null && way.freeMm >= 0 ? ' to' : ','} ${way.part.name}`}`
  }).join('. ')}.`
}
