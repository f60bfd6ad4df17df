/** A tape between any two surfaces: the shortest clearance between two solids, runs or faces of the ceiling void. */
import { SolidSetBuilder } from '#geometry/solid/build.ts'
import { SIDE, TOP, UNDERSIDE } from '#geometry/envelope/voidEnvelope.ts'
import { solidsApart, type Apart } from '#geometry/apart/solidsApart.ts'
import type { SolidSet } from '#geometry/solid/solidSet.ts'
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'
import type { CheckContext } from './context.ts'
import type { PartRef, Place } from './finding.ts'
import { placeOf, runRef, solidRef } from './refs.ts'
import { mm } from './wording.ts'

export type TapeEnd =
  | { readonly kind: 'solid', readonly solidIndex: number }
  /** with its round ends and its insulation */
  | { readonly kind: 'run', readonly runIndex: number }
  | { readonly kind: 'zone', readonly zoneId: string, readonly face: 'underside' | 'top' | 'side' }

export interface Tape {
  readonly from: PartRef
  readonly to: PartRef
  /** surface to surface, mm; 0 when they touch; when they overlap the depth below 0 where it is known exactly, else null */
  readonly clearanceMm: number | null
  readonly overlap: boolean
  /** the nearest points of the two surfaces; where they overlap, a place where they do */
  readonly onFrom: Place
  readonly onTo: Place
  readonly words: string
}

/** @returns the measure, or why there is none */
export function tape(context: CheckContext, a: TapeEnd, b: TapeEnd): Tape | { readonly why: string } {
  const first = surfacesOf(context, a), second = surfacesOf(context, b)
  if ('why' in first) return first
  if ('why' in second) return second
  let best: Apart | null = null
  for (const i of first.indices) {
    for (const j of second.indices) {
      const apart = solidsApart(first.set, i, second.set, j)
      if (best === null || apart.distanceMm < best.distanceMm) best = apart
    }
  }
  if (best === null) return { why: `${first.indices.length === 0 ? first.ref.name : second.ref.name} is not part of the void's outside: the void goes on beyond it.` }
  // a face of the void has no inside: what crosses it has no depth
  const isSheet = a.kind === 'zone' || b.kind === 'zone'
  const overlap = best.distanceMm < -ANSWER_ERROR_MM || isSheet && best.distanceMm <= 0
  const clearanceMm = overlap ? best.depthIsExact && !isSheet ? best.distanceMm : null : Math.max(0, best.distanceMm)
  const words = !overlap ? `${first.ref.name} to ${second.ref.name}: ${mm(clearanceMm ?? 0)}.`
    : `${first.ref.name} and ${second.ref.name} ${isSheet ? 'cross or touch' : 'overlap'}${clearanceMm === null ? '' : ` by ${mm(-clearanceMm)}`}.`
  return { from: first.ref, to: second.ref, clearanceMm, overlap, onFrom: placeOf(best.onFirst), onTo: placeOf(best.onSecond), words }
}

interface Surfaces { readonly set: SolidSet, readonly indices: readonly number[], readonly ref: PartRef }

function surfacesOf(context: CheckContext, end: TapeEnd): Surfaces | { readonly why: string } {
  const { assembly, unsound, runs, envelope } = context
  switch (end.kind) {
    case 'solid': {
      if (!(end.solidIndex >= 0 && end.solidIndex < assembly.solids.count)) return { why: 'There is no such part.' }
      const ref = solidRef(assembly, end.solidIndex), why = unsound.get(end.solidIndex)
      return why === undefined ? { set: assembly.solids, indices: [end.solidIndex], ref } : { why: `${ref.name} is no proper body: ${why}.` }
    }
    case 'run': {
      if (runs[end.runIndex] === undefined) return { why: 'There is no such run.' }
      const { placed } = runs[end.runIndex]
      const builder = new SolidSetBuilder()
      builder.addTube(placed.centreline, placed.outerRadiusMm)
      return { set: builder.build(), indices: [0], ref: runRef(placed) }
    }
    case 'zone': {
      const zoneIndex = assembly.job.zones.findIndex(({ id }) => id === end.zoneId)
      if (zoneIndex < 0 || envelope === null) return { why: `The job has no ceiling zone ${end.zoneId}.` }
      const face = end.face === 'underside' ? UNDERSIDE : end.face === 'top' ? TOP : SIDE
      const indices = Array.from({ length: envelope.sheets.count }, (_, i) => i).filter((i) => envelope.sheetZone[i] === zoneIndex && envelope.sheetFace[i] === face)
      return { set: envelope.sheets, indices, ref: { id: end.zoneId, part: end.face, name: `the ${end.face} of ${assembly.job.zones[zoneIndex].name}` } }
    }
  }
}
