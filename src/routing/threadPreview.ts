/** What an opening has to spare before it is clicked: alone, and beside the ducts that pass it now. */
import type { CheckContext } from '#checks/context.ts'
import { DUCT_CODE } from '#checks/requirement.ts'
import { mm } from '#checks/wording.ts'
import { largestStraight } from '#geometry/fit/largestDuct.ts'
import { MOST_DUCTS, fitMix } from '#geometry/fit/fitMix.ts'
import type { DuctType } from '#model/index.ts'
import { usersOf } from '#checks/openingUse.ts'
import { joistPassage, siteOf } from './threadGates.ts'
import type { Vec } from './threadVector.ts'

export interface GatePreview {
  readonly joistName: string
  readonly opening: number
  /** duct plus insulation, mm */
  readonly ductDiameterMm: number
  /** largest duct straight through the empty opening */
  readonly largestMm: number
  /** runs that pass it now */
  readonly passing: readonly { readonly runId: string, readonly name: string, readonly diameterMm: number }[]
  /** largest duct straight through beside those where they are; the same as largestMm when there are none */
  readonly roomLeftMm: number
  /** where that one's middle lies, on site */
  readonly at: Vec
  /** what the duct has to spare in diameter after the clearances that the job asks for; negative: it does not fit */
  readonly spareMm: number
  /** true when all of them would fit if the others were moved, false when not even then; null when nothing would have to move */
  readonly fitsIfOthersMove: boolean | null
  readonly words: string
}

/** @param exceptRunId a run being laid again: its own duct does not count. @returns null when the joist has no such opening */
export function gatePreview(context: CheckContext, type: DuctType, joistId: string, openingNumber: number, exceptRunId?: string): GatePreview | null {
  const { joists } = context.assembly
  const joistIndex = joists.findIndex(({ id }) => id === joistId)
  const runIndex = context.runs.findIndex(({ placed }) => placed.run.id === exceptRunId)
  const outerRadiusMm = type.outerDiameterMm / 2 + type.insulationMm
  const passage = joistIndex < 0 ? null : joistPassage(context, { outerRadiusMm, runIndex }, joistIndex, openingNumber, false)
  if (passage === null) return null
  const { joist, opening, beside, keepMm } = passage
  const users = usersOf(context, joistIndex, openingNumber).filter((user) => user.runIndex !== runIndex)
  largestStraight(opening, fit)
  const largestMm = fit[0], ductMm = 2 * outerRadiusMm
  // clearances differ from member to member: the largest of those round this opening is what is kept
  const clearanceMm = Math.max(0, ...keepMm) - (keepMm.length > 0 ? outerRadiusMm : 0)
  const spareMm = beside.diameterMm - ductMm - 2 * clearanceMm
  const gapMm = context.clearances.mm[DUCT_CODE]
  const fitsIfOthersMove = users.length === 0 || spareMm >= 0 || users.length + 1 > MOST_DUCTS ? null
    : fitMix(opening, [...users.map(({ crossing }) => crossing.ductDiameterMm + 2 * clearanceMm), ductMm + 2 * clearanceMm], Math.max(0, gapMm - 2 * clearanceMm)).ok
  const names = users.map((user) => context.runs[user.runIndex].placed.run)
  return {
    joistName: joist.name, opening: openingNumber, ductDiameterMm: ductMm, largestMm,
    passing: users.map(({ crossing }, i) => ({ runId: names[i].id, name: names[i].name, diameterMm: crossing.ductDiameterMm })),
    roomLeftMm: beside.diameterMm, at: siteOf(joist, beside.x, beside.y), spareMm, fitsIfOthersMove,
    words: wordsOf(`${joist.name}, opening ${openingNumber}`, largestMm, names.map(({ name }) => name), beside.diameterMm, spareMm, ductMm, clearanceMm, fitsIfOthersMove),
  }
}

const fit = new Float64Array(3)

function wordsOf(
  name: string, largestMm: number, others: readonly string[], roomLeftMm: number, spareMm: number, ductMm: number, clearanceMm: number, ifMoved: boolean | null,
): string {
  const takes = others.length === 0 ? `${name} takes ${mm(largestMm)}.` : `${name} takes ${mm(largestMm)}; ${others.join(' and ')} in it ${others.length > 1 ? 'leave' : 'leaves'} ${mm(roomLeftMm)}.`
  const kept = clearanceMm > 0 ? ` and ${mm(clearanceMm)} clear all round` : ''
  const verdict = spareMm >= 0 ? ` ${mm(ductMm)}${kept} leaves ${mm(spareMm)} to spare.` : ` ${mm(ductMm)}${kept} is ${mm(-spareMm)} too much.`
  return takes + verdict + (ifMoved === true ? ' All would fit if the others were moved.' : ifMoved === false ? ' They would not fit together wherever they lay.' : '')
}
