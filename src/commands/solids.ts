/** Loose solids: what else is on site that a duct could meet. */
import type { Point2, Point3, Shape } from '#model/index.ts'
import type { Draft, Kinds } from './outcome.ts'
import { type Changes, type NewPart, type PartInput, changed, missing, nameOf, partOf, withChanged, withNewPart, withoutPart } from './parts.ts'
import { boxBetween, movedShape, turnedShape, wallAlong } from './solidShapes.ts'
import { editName, wordsOf } from './stepNames.ts'

type SolidInput = PartInput<'solids'>
type Class = SolidInput['class']
interface Named { readonly id?: string, readonly name?: string, readonly note?: string }
type AllKeys<U> = U extends unknown ? keyof U : never
type AnyOf<U> = { [K in AllKeys<U>]?: U extends unknown ? K extends keyof U ? U[K] : never : never }

export type SolidCommand =
  | { readonly do: 'add-solid', readonly solid: NewPart<'solids'> }
  /** many at once, as they come from a file of a whole building; their ids must be free */
  | { readonly do: 'add-solids', readonly solids: readonly SolidInput[] }
  /** straight, of rectangular section; `from` and `to` are in the middle of its underside */
  | { readonly do: 'add-member', readonly class: Extract<Class, 'trimmer' | 'noggin' | 'strongback' | 'beam' | 'steel' | 'joist' | 'other'>, readonly from: Point3, readonly to: Point3, readonly widthMm: number, readonly depthMm: number } & Named
  /** plumb and round: soil stacks, flues, round columns, the keep-out over a downlight */
  | { readonly do: 'add-stack', readonly class: Class, readonly at: Point2, readonly bottomMm: number, readonly topMm: number, readonly diameterMm: number } & Named
  /** round, through points: pipes and cables */
  | { readonly do: 'add-line', readonly class: Class, readonly points: readonly Point3[], readonly diameterMm: number, readonly bendRadiusMm?: number } & Named
  /** a level box: `at` is the middle of its underside; keep-outs, insulation, steels */
  | { readonly do: 'add-block', readonly class: Class, readonly at: Point3, readonly sizeMm: Point3, readonly turnDeg?: number } & Named
  /** along a line in plan; also fascias */
  | { readonly do: 'add-wall', readonly class?: Class, readonly from: Point2, readonly to: Point2, readonly thicknessMm: number, readonly side?: 'left' | 'right' | 'middle', readonly bottomMm: number, readonly topMm: number } & Named
  /** the shape in part, unless it is of another kind */
  | { readonly do: 'edit-solid', readonly id: string, readonly set: Changes<Pick<SolidInput, 'name' | 'class' | 'note'>> & { readonly shape?: Changes<AnyOf<SolidInput['shape']>> } }
  | { readonly do: 'move-solid', readonly id: string, readonly by: Point3 }
  /** about a plumb line through its own middle when `about` is left out; counter-clockwise from above */
  | { readonly do: 'turn-solid', readonly id: string, readonly byDeg: number, readonly about?: Point2 }
  /** sleeves through it no longer go through it */
  | { readonly do: 'remove-solid', readonly id: string }

/** names of new ones, and how their ids start */
const NEW: Readonly<Partial<Record<Class, { readonly name: string, readonly prefix: string }>>> = {
  'wall': { name: 'Wall', prefix: 'W' }, 'pipe': { name: 'Pipe', prefix: 'P' }, 'soil-stack': { name: 'Soil stack', prefix: 'P' },
  'cable': { name: 'Cable', prefix: 'C' }, 'downlight': { name: 'Downlight', prefix: 'K' }, 'keep-out': { name: 'Keep-out', prefix: 'K' },
  'trimmer': { name: 'Trimmer', prefix: 'T' }, 'noggin': { name: 'Noggin', prefix: 'G' }, 'strongback': { name: 'Strongback', prefix: 'T' },
  'beam': { name: 'Beam', prefix: 'B' }, 'steel': { name: 'Steel', prefix: 'B' }, 'flue': { name: 'Flue', prefix: 'P' },
}

export const solidKinds: Kinds<SolidCommand> = {
  'add-solid': {
    change: (job, { solid }) => withNewPart(job, 'solids', solid, NEW[solid.class]),
    label: ({ solid }) => addName(solid.class, solid.name),
  },
  'add-solids': {
    change: (job, { solids }) => solids.length === 0 ? 'there is nothing to bring in' : { ...job, solids: [...job.solids, ...solids] },
    label: ({ solids }) => solids.length === 1 ? `Bring in ${solids[0].name}` : `Bring in ${solids.length} things`,
  },
  'add-member': {
    change: (job, { class: kind, from, to, widthMm, depthMm, ...named }) => added(job, kind, named, boxBetween(from, to, widthMm, depthMm)),
    label: command => addName(command.class, command.name),
  },
  'add-stack': {
    change: (job, { class: kind, at: [x, y], bottomMm, topMm, diameterMm, ...named }) =>
      added(job, kind, named, { kind: 'cylinder', from: [x, y, bottomMm], to: [x, y, topMm], diameterMm }),
    label: command => addName(command.class, command.name),
  },
  'add-line': {
    change: (job, { class: kind, points, diameterMm, bendRadiusMm, ...named }) =>
      added(job, kind, named, { kind: 'tube', points: [...points], diameterMm, bendRadiusMm }),
    label: command => addName(command.class, command.name),
  },
  'add-block': {
    change: (job, { class: kind, at: [x, y, z], sizeMm, turnDeg = 0, ...named }) =>
      added(job, kind, named, { kind: 'box', centre: [x, y, z + sizeMm[2] / 2], sizeMm, rotationDeg: [0, 0, turnDeg] }),
    label: command => addName(command.class, command.name),
  },
  'add-wall': {
    change: (job, { class: kind = 'wall', from, to, thicknessMm, side = 'left', bottomMm, topMm, ...named }) =>
      added(job, kind, named, wallAlong(from, to, thicknessMm, side, bottomMm, topMm)),
    label: command => addName(command.class ?? 'wall', command.name),
  },
  'edit-solid': {
    change: (job, { id, set: { shape, ...rest } }) => withChanged(job, 'solids', id, (solid) => {
      const next: SolidInput = changed<SolidInput>(solid, rest)
      if (shape === undefined) return next
      const isOther = shape.kind !== undefined && shape.kind !== solid.shape.kind
      return { ...next, shape: isOther ? shape as Shape : changed(solid.shape, shape) }
    }),
    label: ({ id, set: { shape, ...rest } }, job) => editName(nameOf(job, 'solids', id), shape === undefined ? rest : { ...rest, ...shape }),
    dragKey: ({ id, set }) => `edit-solid/${id}/${Object.keys({ ...set, ...set.shape }).join('+')}`,
  },
  'move-solid': {
    change: (job, { id, by }) => withChanged(job, 'solids', id, solid => ({ ...solid, shape: movedShape(solid.shape, by) })),
    label: ({ id }, job) => `Move ${nameOf(job, 'solids', id)}`,
    dragKey: ({ id }) => `move-solid/${id}`,
  },
  'turn-solid': {
    change: (job, { id, byDeg, about }) => withChanged(job, 'solids', id, solid => ({ ...solid, shape: turnedShape(solid.shape, byDeg, about) })),
    label: ({ id, byDeg }, job) => `Turn ${nameOf(job, 'solids', id)} by ${byDeg}°`,
    dragKey: ({ id }) => `turn-solid/${id}`,
  },
  'remove-solid': {
    change: (job, { id }) => partOf(job, 'solids', id) === undefined ? missing('solids', id) : {
      ...withoutPart(job, 'solids', id),
      sleeves: job.sleeves.map(sleeve => sleeve.through.some(host => host === id) ? { ...sleeve, through: sleeve.through.filter(host => host !== id) } : sleeve),
    },
    label: ({ id }, job) => `Remove ${nameOf(job, 'solids', id)}`,
  },
}

function added(job: Parameters<typeof withNewPart>[0], kind: Class, named: Named & { readonly do?: string }, shape: SolidInput['shape'] | undefined): Draft {
  if (shape === undefined) return 'its two ends are the same point'
  return withNewPart(job, 'solids', { id: named.id, name: named.name, note: named.note, class: kind, shape }, NEW[kind])
}

function addName(kind: Class, name: string | undefined): string {
  return `Add ${name ?? `a ${wordsOf(kind).replace('-', ' ')}`}`
}
