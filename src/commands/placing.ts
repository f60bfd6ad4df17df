/** New equipment with its spigots where the trade puts them. */
import type { Point3 } from '#model/index.ts'
import type { Draft, Kinds } from './outcome.ts'
import { type NewPart, type PartInput, withNewPart } from './parts.ts'
import { type Face, faceSizeMm, spigotOn, spigotRows } from './spigotRows.ts'

type EquipmentInput = PartInput<'equipment'>

interface Body {
  readonly id?: string
  readonly name?: string
  /** middle of the body */
  readonly centre: Point3
  /** along its own x, y and z before it is turned */
  readonly sizeMm: Point3
  readonly rotationDeg?: Point3
  readonly note?: string
}

export type PlacingCommand =
  /** anything, with its spigots as given */
  | { readonly do: 'add-equipment', readonly equipment: NewPart<'equipment'> }
  /** four spigots on one face: supply, extract, intake and exhaust; in a row where they fit with half a diameter between them, else two by two */
  | { readonly do: 'add-unit', readonly face: Face, readonly diameterMm: number, readonly collarMm?: number } & Body
  /** rows of equal spigots p1, p2, ... on one face, and a main one called 'main' on another when `main` is given */
  | { readonly do: 'add-manifold', readonly air?: EquipmentInput['air'], readonly face: Face, readonly count: number, readonly rows?: number, readonly pitchMm: number, readonly diameterMm: number, readonly collarMm?: number, readonly main?: { readonly face: Face, readonly diameterMm: number } } & Body
  /** one or two spigots side by side on one face */
  | { readonly do: 'add-plenum', readonly air?: EquipmentInput['air'], readonly room?: string, readonly face: Face, readonly count: 1 | 2, readonly pitchMm?: number, readonly diameterMm: number, readonly collarMm?: number, readonly packerMm?: number } & Body
  /** one spigot p1 in the middle of a face */
  | { readonly do: 'add-outdoor-terminal', readonly air: 'intake' | 'exhaust', readonly face: Face, readonly diameterMm: number, readonly collarMm?: number } & Body

const UNIT_SPIGOTS = ['supply', 'extract', 'intake', 'exhaust'] as const

export const placingKinds: Kinds<PlacingCommand> = {
  'add-equipment': {
    change: (job, { equipment }) => withNewPart(job, 'equipment', equipment, WORDS[equipment.kind]),
    label: ({ equipment }) => addName(equipment.kind, equipment.name),
  },
  'add-unit': {
    change: (job, { face, diameterMm, collarMm, ...body }) => {
      const [longMm, shortMm] = faceSizeMm(face, body.sizeMm)
      const isRow = longMm / 4 >= diameterMm * 1.5
      if (!isRow && Math.min(longMm, shortMm) / 2 < diameterMm) return `four spigots of ${diameterMm} mm do not go on a face of ${longMm} mm by ${shortMm} mm`
      const spigots = UNIT_SPIGOTS.map((id, i) => isRow
        ? spigotOn(id, face, body.sizeMm, diameterMm, (i - 1.5) * longMm / 4, 0, collarMm)
        : spigotOn(id, face, body.sizeMm, diameterMm, (i % 2 - 0.5) * longMm / 2, (i < 2 ? 1 : -1) * shortMm / 4, collarMm))
      return placed(job, 'unit', body, { spigots })
    },
    label: ({ name }) => addName('unit', name),
  },
  'add-manifold': {
    change: (job, { face, count, rows = 1, pitchMm, diameterMm, collarMm, main, air, ...body }) => {
      if (main?.face === face) return 'the main spigot must be on another face'
      const spigots = spigotRows(face, body.sizeMm, count, rows, pitchMm, diameterMm, collarMm)
      if (typeof spigots === 'string') return spigots
      if (main !== undefined) spigots.push(spigotOn('main', main.face, body.sizeMm, main.diameterMm, 0, 0, collarMm))
      return placed(job, 'manifold', body, { spigots, air })
    },
    label: ({ name }) => addName('manifold', name),
  },
  'add-plenum': {
    change: (job, { face, count, pitchMm, diameterMm, collarMm, air, room, packerMm, ...body }) => {
      const spigots = spigotRows(face, body.sizeMm, count, 1, pitchMm ?? faceSizeMm(face, body.sizeMm)[0] / 2, diameterMm, collarMm)
      return typeof spigots === 'string' ? spigots : placed(job, 'plenum', body, { spigots, air, room, packerMm })
    },
    label: ({ name }) => addName('plenum', name),
  },
  'add-outdoor-terminal': {
    change: (job, { face, diameterMm, collarMm, air, ...body }) =>
      placed(job, 'outdoor-terminal', body, { spigots: [spigotOn('p1', face, body.sizeMm, diameterMm, 0, 0, collarMm)], air }),
    label: ({ name }) => addName('outdoor-terminal', name),
  },
}

const WORDS: Readonly<Record<EquipmentInput['kind'], { readonly name: string, readonly prefix: string }>> = {
  'unit': { name: 'Unit', prefix: 'U' }, 'manifold': { name: 'Manifold', prefix: 'M' }, 'plenum': { name: 'Plenum', prefix: 'V' },
  'outdoor-terminal': { name: 'Outdoor terminal', prefix: 'X' },
}

function placed(job: Parameters<typeof withNewPart>[0], kind: EquipmentInput['kind'], { id, name, centre, sizeMm, rotationDeg, note }: Body, rest: Pick<EquipmentInput, 'spigots' | 'air' | 'room' | 'packerMm'>): Draft {
  return withNewPart(job, 'equipment', { id, name, centre, sizeMm, rotationDeg, note, kind, ...rest }, WORDS[kind])
}

function addName(kind: EquipmentInput['kind'], name: string | undefined): string {
  return `Add ${name ?? `${kind === 'outdoor-terminal' ? 'an' : 'a'} ${WORDS[kind].name.toLowerCase()}`}`
}
