/** A tool of the plan: what is tapped, which sizes are typed, and the command that comes of it. Plain data, so that a tool is one entry in a list. */
import type { ComponentType } from 'react'
import type { Command } from '#commands/index.ts'
import type { Job, Point2 } from '#model/index.ts'
import type { PenShape } from './pen.ts'
import { type PlanPick } from './planPick.ts'

export type Values = Readonly<Record<string, number | string>>
export interface Choice { readonly value: string, readonly words: string }
export type Ask =
  | { readonly kind: 'length', readonly key: string, readonly label: string, readonly negative?: boolean, readonly zero?: boolean }
  | { readonly kind: 'degrees', readonly key: string, readonly label: string }
  | { readonly kind: 'count', readonly key: string, readonly label: string, readonly most: number }
  | { readonly kind: 'text', readonly key: string, readonly label: string }
  | { readonly kind: 'choice', readonly key: string, readonly label: string, readonly choices: (job: Job) => readonly Choice[] }

export interface Tool {
  readonly id: string
  /** one or two words */
  readonly name: string
  readonly Sketch: ComponentType
  readonly shape: PenShape
  /** what to do for each point in turn; the last one stands for all after it */
  readonly steps: readonly string[]
  readonly asks: readonly Ask[]
  /** sizes that the trade usually has, and heights as the job already has them */
  readonly usual: (job: Job) => Values
  /** the command, or why there is none */
  readonly make: (points: readonly Point2[], values: Values, job: Job) => Command | string
  /** stays in hand for the next one */
  readonly again?: boolean
}

export function numberOf(values: Values, key: string): number {
  const value = values[key]
  return typeof value === 'number' ? value : Number.NaN
}

export function textOf(values: Values, key: string): string {
  return String(values[key] ?? '')
}

/** The name that was typed, or nothing so that one is made. */
export function nameIn(values: Values): { readonly name?: string } {
  const name = textOf(values, 'name').trim()
  return name === '' ? {} : { name }
}

/** The first thing that the job has now and had not before. */
export function newcomer(before: Job, after: Job): PlanPick | null {
  const lists = [
    ['room', before.rooms, after.rooms], ['zone', before.zones, after.zones], ['field', before.joistFields, after.joistFields],
    ['solid', before.solids, after.solids], ['sleeve', before.sleeves, after.sleeves], ['equipment', before.equipment, after.equipment],
  ] as const
  for (const [kind, was, now] of lists) {
    if (was === now) continue
    const had = new Set<string>(was.map(({ id }) => id))
    const fresh = now.find(({ id }) => !had.has(id))
    if (fresh !== undefined) return { kind, id: fresh.id }
  }
  return null
}
