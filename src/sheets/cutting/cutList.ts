/**
 * What is cut and bought for every run.
 *
 * The drawn run ends at its spigots' mouths and the duct slides on over the whole collar, so both collars are added. Bendable duct
 * is cut in one piece with a trim to spare. Rigid duct goes from shoulder to shoulder: a fitting's own ends slide into the duct as far as
 * the end of its bend, so a piece between two fittings is as long as the straight that is drawn between their bends, and of it
 * the fittings take up their insertions. A straight longer than the stock, or than goes in between the joists, is cut into equal pieces with couplers.
 */
import type { PlacedRun } from '#assembly/assembly.ts'
import { isSpigot } from '#assembly/runs.ts'
import { endOf, nearestFitting, startOf } from '#checks/bends.ts'
import type { CheckContext } from '#checks/context.ts'
import type { DuctType } from '#model/index.ts'
import { rigidRuns, type RigidRun } from '#routing/willItGoIn.ts'
import type { SheetOptions } from '../options.ts'

export interface RigidPiece {
  /** 'R20-2a': run, straight, piece */
  readonly label: string
  readonly lengthMm: number
  /** the straight that it is part of, shoulder to shoulder with the collars at its ends, mm */
  readonly straightMm: number
  /** of the straight, taken up inside the duct by fittings and collars, at its start and end */
  readonly insertedMm: readonly [number, number]
  readonly goesInLater: boolean
  /** longest piece that goes in there; null when nothing limits it */
  readonly longestMm: number | null
}

export interface RunCut {
  readonly runIndex: number
  readonly placed: PlacedRun
  /** along the centreline, mm */
  readonly centrelineMm: number
  readonly collarMm: readonly [from: number, to: number]
  /** of bendable duct; 0 for rigid */
  readonly trimMm: number
  /** bendable: the piece to cut, whole mm; rigid: all its pieces together */
  readonly cutMm: number
  /** of rigid duct, from its start to its end */
  readonly pieces: readonly RigidPiece[]
  readonly fittings: readonly { readonly angleDeg: number, readonly radiusMm: number }[]
  /** of rigid duct: joints between two pieces of one straight */
  readonly couplers: number
  /** one at every end of duct that is pushed on or holds something pushed in */
  readonly seals: number
  readonly supports: number
  readonly insulationMm: number
}

/** A hair above a whole millimetre is that millimetre. */
const wholeUp = (mm: number): number => Math.ceil(mm - 1e-6)

export function cutList(context: CheckContext, options: SheetOptions): RunCut[] {
  const rigid = new Map(rigidRuns(context).map((run) => [run.runIndex, run]))
  return context.runs.map(({ placed }, runIndex) => cutOf(placed, runIndex, options, rigid.get(runIndex)))
}

function cutOf(placed: PlacedRun, runIndex: number, options: SheetOptions, rigid: RigidRun | undefined): RunCut {
  const { centreline: { lengthMm: centrelineMm }, type, from, to } = placed
  const collarMm = [from, to].map((end) => isSpigot(end) ? end.spigot.lengthMm : 0) as [number, number]
  const spigots = [from, to].filter(isSpigot).length
  const insulationMm = type.insulationMm > 0 ? centrelineMm : 0
  const common = { runIndex, placed, centrelineMm, collarMm, insulationMm }
  if (type.kind === 'semi-rigid') {
    const cutMm = wholeUp(centrelineMm + collarMm[0] + collarMm[1] + options.trimMm)
    return { ...common, trimMm: options.trimMm, cutMm, pieces: [], fittings: [], couplers: 0, seals: spigots, supports: supportsFor(centrelineMm, options.bendableSupportMm) }
  }
  const { pieces, couplers } = rigidPieces(placed, type, collarMm, options, rigid)
  const fittings = placed.bends.map((bend) => nearestFitting(type, bend.turnRad * 180 / Math.PI, bend.askedMm))
  return {
    ...common, trimMm: 0, cutMm: pieces.reduce((sum, { lengthMm }) => sum + lengthMm, 0), pieces, fittings, couplers,
    seals: spigots + 2 * fittings.length + 2 * couplers, supports: supportsFor(centrelineMm, options.rigidSupportMm),
  }
}

/** One for every spacing begun. */
export const supportsFor = (lengthMm: number, spacingMm: number): number => Math.max(1, Math.ceil(lengthMm / spacingMm - 1e-9))

type RigidType = Extract<DuctType, { kind: 'rigid' }>

function rigidPieces({ run, centreline, bends }: PlacedRun, type: RigidType, collarMm: readonly [number, number], { stockMm }: SheetOptions, rigid: RigidRun | undefined): { pieces: RigidPiece[], couplers: number } {
  const insertion = (i: number): number => nearestFitting(type, bends[i].turnRad * 180 / Math.PI, bends[i].askedMm).insertionMm
  const pieces: RigidPiece[] = []
  let couplers = 0
  for (let i = 0; i <= bends.length; i++) {
    const fromMm = i === 0 ? 0 : endOf(bends[i - 1]), toMm = i === bends.length ? centreline.lengthMm : startOf(bends[i])
    const own = toMm - fromMm, collars = (i === 0 ? collarMm[0] : 0) + (i === bends.length ? collarMm[1] : 0)
    // two fittings end to end: nothing to cut between them
    if (own + collars < 0.5) continue
    const straightMm = own + collars
    const leg = rigid?.legs.find((each) => Math.abs((each.fromMm + each.toMm) / 2 - (fromMm + toMm) / 2) < 1)
    const longestMm = leg?.longestMm ?? null, goesInLater = leg === undefined || leg.verdict === 'goes-in'
    const mostMm = Math.min(stockMm, goesInLater && longestMm !== null ? longestMm : Infinity)
    const count = Math.max(1, Math.ceil(straightMm / mostMm - 1e-9))
    const insertedMm = [i === 0 ? collarMm[0] : insertion(i - 1), i === bends.length ? collarMm[1] : insertion(i)] as const
    for (let k = 0; k < count; k++) {
      pieces.push({ label: `${run.id}-${i + 1}${count > 1 ? suffix(k) : ''}`, lengthMm: straightMm / count, straightMm, insertedMm, goesInLater, longestMm })
    }
    couplers += count - 1
  }
  return { pieces, couplers }
}

/** a to z, then aa, ab, ... */
const suffix = (k: number): string => k < 26 ? String.fromCharCode(97 + k) : suffix(Math.floor(k / 26) - 1) + suffix(k % 26)
