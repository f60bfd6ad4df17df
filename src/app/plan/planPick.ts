/** What can be picked out in plan, and the corner of it that is held. */
import type { Job } from '#model/index.ts'

export const PICK_KINDS = ['room', 'zone', 'field', 'joist', 'solid', 'sleeve', 'equipment', 'run', 'finding'] as const
export type PickKind = (typeof PICK_KINDS)[number]
export interface PlanPick { readonly kind: PickKind, readonly id: string }
/** A corner of a room, of a ceiling zone or of a prism; ring 0 is the outline, others are its holes. */
export interface PlanCorner { readonly of: PlanPick, readonly ring: number, readonly corner: number }

export function isPick(a: PlanPick | null | undefined, kind: PickKind, id: string): boolean {
  return a !== null && a !== undefined && a.kind === kind && a.id === id
}

export function isPickKind(text: string | undefined): text is PickKind {
  return (PICK_KINDS as readonly string[]).includes(text ?? '')
}

/** Whether what was picked out is still in the job; findings come and go with the verdict and are not looked for. */
export function isThere(job: Job, { kind, id }: PlanPick): boolean {
  const has = (list: readonly { readonly id: string }[]): boolean => list.some(one => one.id === id)
  switch (kind) {
    case 'room': return has(job.rooms)
    case 'zone': return has(job.zones)
    case 'field': return has(job.joistFields)
    case 'joist': return job.joistFields.some(field => has(field.joists))
    case 'solid': return has(job.solids)
    case 'sleeve': return has(job.sleeves)
    case 'equipment': return has(job.equipment)
    case 'run': return has(job.runs)
    case 'finding': return true
  }
}

/** Site name of it: 'Room 1', 'joist J3'. */
export function nameOfPick(job: Job, { kind, id }: PlanPick): string {
  switch (kind) {
    case 'joist': return job.joistFields.flatMap(field => field.joists).find(joist => joist.id === id)?.name ?? `joist ${id}`
    case 'finding': return 'a finding'
    default: return listOf(job, kind).find(one => one.id === id)?.name ?? id
  }
}

function listOf(job: Job, kind: Exclude<PickKind, 'joist' | 'finding'>): readonly { readonly id: string, readonly name: string }[] {
  switch (kind) {
    case 'room': return job.rooms
    case 'zone': return job.zones
    case 'field': return job.joistFields
    case 'solid': return job.solids
    case 'sleeve': return job.sleeves
    case 'equipment': return job.equipment
    case 'run': return job.runs
  }
}
