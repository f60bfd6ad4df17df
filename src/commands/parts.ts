/** Finding, adding, changing and taking away the parts of a job, whichever list they are in. */
import { type PartsList, PARTS_LISTS } from '#model/references.ts'
import type { Job, JobInput } from '#model/index.ts'
import type { Draft } from './outcome.ts'

export type { PartsList }
/** A part as the job holds it. */
export type Part<L extends PartsList> = Job[L][number]
/** A part as a person writes it: what has a default may be left out. */
export type PartInput<L extends PartsList> = NonNullable<JobInput[L]>[number]
/** A part to add: its id is the next free one and its name is made from it where they are left out. */
export type NewPart<L extends PartsList> = PartInput<L> extends infer P ? P extends unknown ? Omit<P, 'id' | 'name'> & { readonly id?: string, readonly name?: string } : never : never
/** What to change in a part: null goes back to the default, where there is one; what is left out stays. */
export type Changes<T> = { readonly [K in keyof T]?: undefined extends T[K] ? T[K] | null : T[K] }

/** how the ids of each list start, and what one of them is called */
const WORDS: Readonly<Record<PartsList | 'joists', { readonly prefix: string, readonly one: string }>> = {
  rooms: { prefix: 'R', one: 'room' }, zones: { prefix: 'Z', one: 'ceiling zone' }, sections: { prefix: 'S', one: 'joist section' },
  joistFields: { prefix: 'F', one: 'joist field' }, joists: { prefix: 'J', one: 'joist' }, holes: { prefix: 'H', one: 'hole' },
  solids: { prefix: 'B', one: 'solid' }, sleeves: { prefix: 'SL', one: 'sleeve' }, equipment: { prefix: 'E', one: 'piece of equipment' },
  ductTypes: { prefix: 'D', one: 'duct type' }, runs: { prefix: 'N', one: 'run' }, views: { prefix: 'L', one: 'view' },
}
/** numbers above this in ids are names of their own, not counted on from */
const LAST_COUNTED = 1e9

/** The ids that the next `count` parts of a list get: one after the highest number there is, none used by anything else. */
export function nextIds(job: Job, list: PartsList | 'joists', count: number, prefix = WORDS[list].prefix): string[] {
  const used = new Set<string>()
  for (const parts of PARTS_LISTS) for (const { id } of job[parts]) used.add(id)
  for (const field of job.joistFields) for (const { id } of field.joists) used.add(id)
  let number = 0
  for (const id of used) {
    const rest = id.startsWith(prefix) ? id.slice(prefix.length) : ''
    if (/^\d{1,9}$/.test(rest) && Number(rest) < LAST_COUNTED) number = Math.max(number, Number(rest))
  }
  const ids: string[] = []
  while (ids.length < count) {
    const id = `${prefix}${++number}`
    if (!used.has(id)) ids.push(id)
  }
  return ids
}

export function nextId(job: Job, list: PartsList | 'joists', prefix?: string): string {
  return nextIds(job, list, 1, prefix)[0]
}

export function partOf<L extends PartsList>(job: Job, list: L, id: string): Part<L> | undefined {
  return (job[list] as readonly Part<L>[]).find(part => part.id === id)
}

/** Refusal of a command whose target is not there. */
export function missing(list: PartsList | 'joists', id: string): string {
  return `there is no ${WORDS[list].one} ${id} in the job`
}

/** What a person calls it: its name, else its id. */
export function nameOf(job: Job, list: PartsList, id: string): string {
  const part = partOf(job, list, id)
  return part !== undefined && 'name' in part && typeof part.name === 'string' ? part.name : id
}

/** The name of a new part that was given none: 'Run 7' of N7. */
export function nameFor(list: PartsList, id: string): string {
  const { one } = WORDS[list]
  const number = /\d+$/.exec(id)?.[0]
  return `${one.charAt(0).toUpperCase()}${one.slice(1)} ${number ?? id}`
}

export function withPart<L extends PartsList>(job: Job, list: L, part: PartInput<L>): JobInput {
  return { ...job, [list]: [...job[list], part] }
}

/** @param given the part, with or without its id and name */
export function withNewPart<L extends PartsList>(job: Job, list: L, given: NewPart<L>, words?: { readonly prefix?: string, readonly name?: string }): JobInput {
  const id = given.id ?? nextId(job, list, words?.prefix)
  const number = /\d+$/.exec(id)?.[0] ?? id
  const name = given.name ?? (words?.name === undefined ? nameFor(list, id) : `${words.name} ${number}`)
  const part = list === 'holes' ? { ...given, id } : { ...given, id, name }
  return withPart(job, list, part as unknown as PartInput<L>)
}

/** @param change the part that takes its place, or why there can be none */
export function withChanged<L extends PartsList>(job: Job, list: L, id: string, change: (part: Part<L>, index: number) => PartInput<L> | string): Draft {
  const parts = job[list] as readonly Part<L>[]
  const index = parts.findIndex(part => part.id === id)
  if (index < 0) return missing(list, id)
  const changed = change(parts[index], index)
  return typeof changed === 'string' ? changed : { ...job, [list]: parts.with(index, changed as unknown as Part<L>) }
}

export function withoutPart<L extends PartsList>(job: Job, list: L, id: string): JobInput {
  return { ...job, [list]: (job[list] as readonly Part<L>[]).filter(part => part.id !== id) }
}

/** The thing with some of its keys changed. */
export function changed<T extends object>(thing: T, set: { readonly [K in keyof T]?: unknown }): T {
  const next = { ...thing } as Record<string, unknown>
  for (const [key, value] of Object.entries(set)) {
    if (value === undefined) continue
    if (value === null) delete next[key]
    else next[key] = value
  }
  return next as T
}

/** 'Run 3', 'Run 3 and Run 4', 'Run 3, Run 4 and 2 more'. */
export function listed(names: readonly string[], most = 3): string {
  if (names.length === 1) return names[0]
  const shown = names.slice(0, names.length > most ? most : names.length - 1)
  const last = names.length > most ? `${names.length - most} more` : names[names.length - 1]
  return `${shown.join(', ')} and ${last}`
}
