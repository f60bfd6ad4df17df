/** What is picked out in the view, and what the camera is asked to do: plain data both ways. */
import type { Assembly } from '#assembly/assembly.ts'
import type { Finding, PartRef } from '#checks/finding.ts'
import type { BoundsMm, Xyz } from './frame.ts'
import type { Stand } from './views.ts'

export type Selection =
  | { readonly kind: 'finding', readonly id: string }
  /** `at`: where it was touched, mm, when it was touched in the view */
  | { readonly kind: 'run', readonly runId: string, readonly at?: Xyz }
  /** `at`: where it was touched, mm */
  | { readonly kind: 'solid', readonly solidIndex: number, readonly at: Xyz }
  | { readonly kind: 'opening', readonly joistIndex: number, readonly number: number, readonly at: Xyz }

export type CameraAsk =
  | { readonly stand: Stand }
  | { readonly placeMm: Xyz }
  | { readonly boundsMm: BoundsMm }
  /** a place to stand, kept by a person */
  | { readonly eyeMm: Xyz, readonly targetMm: Xyz }
  /** nearer below 1, farther above */
  | { readonly zoomBy: number }
  /** round the upright, and over */
  | { readonly turnDeg: readonly [number, number] }
/** A new ticket makes the camera obey again, even when it is told the same as before. */
export type CameraOrder = CameraAsk & { readonly ticket: number }

/** What stays in full colour while the rest fades: indices into the assembly's runs and solids. */
export interface InFocus {
  readonly runs: readonly number[]
  readonly solids: readonly number[]
}
export const NOTHING_IN_FOCUS: InFocus = { runs: [], solids: [] }

export function inFocus(assembly: Assembly, findings: readonly Finding[], selection: Selection | null): InFocus {
  switch (selection?.kind) {
    case undefined: return NOTHING_IN_FOCUS
    case 'run': return { runs: runsNamed(assembly, selection.runId), solids: [] }
    case 'solid': return { runs: [], solids: [selection.solidIndex] }
    case 'opening': return { runs: [], solids: solidsOfJoist(assembly, selection.joistIndex) }
    case 'finding': {
      const finding = findings.find(({ id }) => id === selection.id)
      if (finding === undefined) return NOTHING_IN_FOCUS
      return {
        runs: finding.parts.flatMap((part) => runsNamed(assembly, part.id)),
        solids: finding.parts.flatMap((part) => solidsOfPart(assembly, part)),
      }
    }
  }
}

export function runsNamed(assembly: Assembly, runId: string): number[] {
  return assembly.runs.flatMap((placed, i) => placed.run.id === runId ? [i] : [])
}

/** The solids that a part of a finding names: all of its owner's when it names no part. */
export function solidsOfPart(assembly: Assembly, ref: PartRef): number[] {
  const found: number[] = []
  for (let i = 0; i < assembly.solids.count; i++) {
    if (assembly.parts.ownerIdOf(i) !== ref.id) continue
    if (ref.part === undefined || ref.part === '' || assembly.parts.describe(i).part === ref.part) found.push(i)
  }
  return found
}

function solidsOfJoist(assembly: Assembly, joistIndex: number): number[] {
  const { firstSolid, endSolid } = assembly.joists[joistIndex]
  return Array.from({ length: endSolid - firstSolid }, (_, n) => firstSolid + n)
}
