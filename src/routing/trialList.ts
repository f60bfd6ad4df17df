/** Trial sizes of one run, a group or all, as a list: when each fails alone, and when all of them grow together. Nothing in the job changes. */
import { boundsMeet, type CheckContext } from '#checks/context.ts'
import type { PartRef, Place } from '#checks/finding.ts'
import { placeOf, runRef } from '#checks/refs.ts'
import { DUCT_CODE } from '#checks/requirement.ts'
import { ALONG, ALONG_OTHER, ON_CURVE_X, ON_SOLID_X, PAIR_ANSWER_SIZE, centrelineDistance } from '#geometry/clearance/index.ts'
import { trialSize, type TrialSize } from './trialSize.ts'

/** What is grown; `runIds` before `group` before all. */
export interface TrialAsk {
  readonly runIds?: readonly string[]
  readonly group?: string
  /** added to every outer diameter of the set, mm; negative to shrink */
  readonly growMm: number
}

export interface TrialLimit {
  /** outer diameter at which it touches, mm; null when nothing is there to touch */
  readonly diameterMm: number | null
  /** how much it has grown by then, mm in diameter; negative when it touches already */
  readonly growMm: number | null
  readonly touchesFirst: PartRef | null
  readonly at: Place | null
  readonly stationMm: number | null
}

export interface TrialRow {
  readonly runId: string
  readonly name: string
  /** duct plus insulation, mm, as it is and at the trial size */
  readonly diameterMm: number
  readonly trialMm: number
  /** it alone grows, all others staying as they are */
  readonly alone: TrialLimit
  /** all of the set grow by as much */
  readonly together: TrialLimit
  /** all of the set grow by as much, and what the job asks to be kept clear is only just kept */
  readonly keepsClear: TrialLimit
  /** it touches at the trial size, all of the set having grown */
  readonly fails: boolean
}

export interface TrialList {
  /** those that fail first, first */
  readonly rows: readonly TrialRow[]
  /** the most that all of the set can grow together before anything touches, mm in diameter; null when nothing is there to touch */
  readonly largestCommonGrowthMm: number | null
}

interface Limit { growMm: number, diameterMm: number, part: PartRef | null, at: Place | null, stationMm: number | null }

/** @param tell hears how far it is, 0 to 1, after each run */
export function trialList(context: CheckContext, ask: TrialAsk, tell: (doneRatio: number) => void = () => {}): TrialList {
  const set = context.runs.flatMap(({ placed: { run } }, runIndex) => isAsked(ask, run.id, run.group) ? [runIndex] : [])
  const inSet = new Set(set)
  const together = new Map<number, Limit>(), clear = new Map<number, Limit>()
  set.forEach((runIndex, done) => {
    tell(done / set.length * 2 / 3)
    // against everything that does not grow with it
    const staying = context.runs.flatMap((_, other) => other === runIndex || !inSet.has(other) ? [other] : [])
    const among = withRunsOnly(context, staying), index = staying.indexOf(runIndex)
    together.set(runIndex, limitOf(trialSize(among, index), diameterOf(context, runIndex)))
    clear.set(runIndex, limitOf(trialSize(among, index, 'clearance'), diameterOf(context, runIndex)))
  })
  limitByEachOther(context, set, together, 0)
  limitByEachOther(context, set, clear, context.clearances.mm[DUCT_CODE])
  const rows = set.map((runIndex, done): TrialRow => {
    tell((2 + done / set.length) / 3)
    const { placed } = context.runs[runIndex]
    const diameterMm = diameterOf(context, runIndex), trialMm = Math.max(0, diameterMm + ask.growMm)
    const alone = trialSize(context, runIndex), limit = together.get(runIndex)!
    return {
      runId: placed.run.id, name: placed.run.name, diameterMm, trialMm,
      alone: { diameterMm: alone.diameterMm, growMm: alone.diameterMm === null ? null : alone.diameterMm - diameterMm, touchesFirst: alone.touchesFirst, at: alone.at, stationMm: alone.stationMm },
      together: told(limit), keepsClear: told(clear.get(runIndex)!),
      fails: limit.growMm < ask.growMm,
    }
  })
  rows.sort((a, b) => growthOf(a) - growthOf(b) || (a.runId < b.runId ? -1 : 1))
  return { rows, largestCommonGrowthMm: rows.length === 0 ? null : rows[0].together.growMm }
}

function limitOf({ diameterMm, touchesFirst, at, stationMm }: TrialSize, nowMm: number): Limit {
  return { growMm: diameterMm === null ? Infinity : diameterMm - nowMm, diameterMm: diameterMm ?? Infinity, part: touchesFirst, at, stationMm }
}

function told({ part, diameterMm, growMm, at, stationMm }: Limit): TrialLimit {
  return part === null ? { diameterMm: null, growMm: null, touchesFirst: null, at: null, stationMm: null } : { diameterMm, growMm, touchesFirst: part, at, stationMm }
}

function growthOf({ together }: TrialRow): number {
  return together.growMm ?? Number.MAX_VALUE
}

function isAsked({ runIds, group }: TrialAsk, id: string, ownGroup: string | undefined): boolean {
  return runIds !== undefined ? runIds.includes(id) : group === undefined || ownGroup === group
}

function diameterOf(context: CheckContext, runIndex: number): number {
  return 2 * context.runs[runIndex].placed.outerRadiusMm
}

function withRunsOnly(context: CheckContext, kept: readonly number[]): CheckContext {
  return { ...context, assembly: { ...context.assembly, runs: kept.map((i) => context.assembly.runs[i]) }, runs: kept.map((i) => context.runs[i]) }
}

const answer = new Float64Array(PAIR_ANSWER_SIZE)

/** Two runs that grow by g in diameter each come g nearer to each other: they touch when g is what is clear between them. @param gapMm what is to be left clear */
function limitByEachOther(context: CheckContext, set: readonly number[], limits: ReadonlyMap<number, Limit>, gapMm: number): void {
  set.forEach((one, i) => {
    for (const two of set.slice(i + 1)) {
      const a = context.runs[one], b = context.runs[two], limitA = limits.get(one)!, limitB = limits.get(two)!
      const radiiMm = a.placed.outerRadiusMm + b.placed.outerRadiusMm
      const cutoffMm = Math.max(limitA.growMm, limitB.growMm) + radiiMm + gapMm
      if (!boundsMeet(a.boundsMm, 0, b.boundsMm, 0, cutoffMm)) continue
      const distanceMm = centrelineDistance(a.placed.centreline, b.placed.centreline, cutoffMm, answer)
      if (!(distanceMm <= cutoffMm)) continue
      // no duct grows to less than nothing: two centrelines nearer than that touch whatever their size
      const growMm = distanceMm - radiiMm - gapMm
      if (growMm < limitA.growMm) Object.assign(limitA, { growMm, diameterMm: 2 * a.placed.outerRadiusMm + growMm, part: runRef(b.placed), at: placeOf(answer.subarray(ON_SOLID_X)), stationMm: answer[ALONG] })
      if (growMm < limitB.growMm) Object.assign(limitB, { growMm, diameterMm: 2 * b.placed.outerRadiusMm + growMm, part: runRef(a.placed), at: placeOf(answer.subarray(ON_CURVE_X)), stationMm: answer[ALONG_OTHER] })
    }
  })
}
