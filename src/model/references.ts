/** The second reading: ids that repeat, references that lead nowhere, and values that are each allowed but not together. */
import { LIMITS, isId } from './basics.ts'
import { addContradictions } from './contradictions.ts'
import type { Path, Problems } from './problem.ts'
import { describeFound, pathText, quoted } from './problem.ts'
import type { Job } from './schema.ts'

/** The lists of things that a job holds, in the order of the file. */
export const PARTS_LISTS = ['rooms', 'zones', 'sections', 'joistFields', 'holes', 'solids', 'sleeves', 'equipment', 'ductTypes', 'runs', 'views'] as const
export type PartsList = typeof PARTS_LISTS[number]

/** As much of a job as could be read: undefined stands in the place of what could not. A whole job is one of these. */
export type JobParts =
  { readonly [L in PartsList]: readonly (Job[L][number] | undefined)[] }
  & { readonly settings?: Job['settings'], readonly underlay?: Job['underlay'] }

type Kind = 'room' | 'zone' | 'joist section' | 'joist field' | 'joist' | 'hole' | 'solid' | 'sleeve' | 'piece of equipment' | 'duct type' | 'run' | 'view'
const KIND: Record<PartsList, Kind> = {
  rooms: 'room', zones: 'zone', sections: 'joist section', joistFields: 'joist field', holes: 'hole', solids: 'solid',
  sleeves: 'sleeve', equipment: 'piece of equipment', ductTypes: 'duct type', runs: 'run', views: 'view',
}

/**
 * Adds what is wrong between the parts of a job.
 * @param raw the job as it stands in the file: its ids count as declared even where the rest of their thing is wrong
 * @param parts what could be read of it
 */
export function addReferenceProblems(raw: Readonly<Record<string, unknown>>, parts: JobParts, problems: Problems): void {
  const ids = new Map<string, { kind: Kind, path: Path }>()
  const declare = (kind: Kind, thing: unknown, path: Path): string | undefined => {
    const id = own(thing, 'id')
    if (!isId(id)) return undefined
    const first = ids.get(id)
    if (first === undefined) ids.set(id, { kind, path })
    else problems.add([...path, 'id'], 'repeated-id', `${quoted(id, 64)}, which is already the id of the ${first.kind} at ${pathText(first.path)}`, 'an id that nothing else in the job has')
    return id
  }

  const spigots = new Map<string, Set<string>>()
  for (const list of PARTS_LISTS) {
    entries(raw[list], LIMITS[list]).forEach((thing, i) => {
      const id = declare(KIND[list], thing, [list, i])
      if (list === 'joistFields') entries(own(thing, 'joists'), LIMITS.joistsPerField).forEach((joist, j) => declare('joist', joist, [list, i, 'joists', j]))
      if (list === 'equipment') {
        const names = new Set<string>()
        entries(own(thing, 'spigots'), LIMITS.spigots).forEach((spigot, s) => {
          const name = own(spigot, 'id')
          if (!isId(name)) return
          if (names.has(name)) problems.add([list, i, 'spigots', s, 'id'], 'repeated-id', quoted(name, 64), 'an id that no other spigot of this equipment has')
          names.add(name)
        })
        if (id !== undefined && !spigots.has(id)) spigots.set(id, names)
      }
    })
  }

  const refer = (kind: Kind, id: string, path: Path): boolean => {
    const there = ids.get(id)
    if (there?.kind === kind) return true
    const found = there === undefined ? `${describeFound(id)}, which nothing in the job has as its id` : `${describeFound(id)}, which is a ${there.kind}`
    problems.add(path, 'no-such-thing', found, `the id of a ${kind}`)
    return false
  }

  // read from the file itself, so that a reference is judged even where something else of the same thing is wrong
  const each = (list: PartsList, judge: (thing: unknown, path: Path) => void) => entries(raw[list], LIMITS[list]).forEach((thing, i) => judge(thing, [list, i]))
  const referFrom = (thing: unknown, key: string, kind: Kind, path: Path) => {
    const id = own(thing, key)
    if (isId(id)) refer(kind, id, [...path, key])
  }
  each('joistFields', (field, path) => referFrom(field, 'section', 'joist section', path))
  each('holes', (hole, path) => referFrom(hole, 'joist', 'joist', path))
  each('sleeves', (sleeve, path) => entries(own(sleeve, 'through'), LIMITS.solids).forEach((id, j) => isId(id) && refer('solid', id, [...path, 'through', j])))
  each('equipment', (equipment, path) => referFrom(equipment, 'room', 'room', path))
  each('runs', (run, path) => {
    referFrom(run, 'type', 'duct type', path)
    for (const end of ['from', 'to'] as const) {
      const at = own(run, end)
      referFrom(at, 'sleeve', 'sleeve', [...path, end])
      const equipment = own(at, 'equipment')
      if (!isId(equipment) || !refer('piece of equipment', equipment, [...path, end, 'equipment'])) continue
      const spigot = own(at, 'spigot')
      const names = spigots.get(equipment)
      if (!isId(spigot) || names === undefined || names.has(spigot)) continue
      const some = [...names].slice(0, 12)
      problems.add([...path, end, 'spigot'], 'no-such-thing', `${describeFound(spigot)}, which is no spigot of ${equipment}`,
        some.length === 0 ? 'nothing: it has no spigots' : `one of ${some.join(', ')}${names.size > some.length ? ' and others' : ''}`)
    }
  })
  addContradictions(parts, problems)
}

function own(thing: unknown, key: string): unknown {
  return typeof thing === 'object' && thing !== null && Object.hasOwn(thing, key) ? (thing as Record<string, unknown>)[key] : undefined
}

function entries(list: unknown, most: number): readonly unknown[] {
  return Array.isArray(list) && list.length <= most ? list : []
}
