/** Rooms and ceiling zones. */
import type { Kinds } from './outcome.ts'
import { type Changes, type NewPart, type PartInput, changed, missing, nameOf, partOf, withChanged, withNewPart, withoutPart } from './parts.ts'
import { editName } from './stepNames.ts'

export type RoomCommand =
  | { readonly do: 'add-room', readonly room: NewPart<'rooms'> }
  | { readonly do: 'edit-room', readonly id: string, readonly set: Changes<Omit<PartInput<'rooms'>, 'id'>> }
  /** plenums that serve it are left without a room */
  | { readonly do: 'remove-room', readonly id: string }
  | { readonly do: 'add-zone', readonly zone: NewPart<'zones'> }
  | { readonly do: 'edit-zone', readonly id: string, readonly set: Changes<Omit<PartInput<'zones'>, 'id'>> }
  | { readonly do: 'remove-zone', readonly id: string }

export const roomKinds: Kinds<RoomCommand> = {
  'add-room': {
    change: (job, { room }) => withNewPart(job, 'rooms', room),
    label: ({ room }) => `Add ${room.name ?? 'a room'}`,
  },
  'edit-room': {
    change: (job, { id, set }) => withChanged(job, 'rooms', id, room => changed<PartInput<'rooms'>>(room, set)),
    label: ({ id, set }, job) => editName(nameOf(job, 'rooms', id), set),
    dragKey: ({ id, set }) => `edit-room/${id}/${Object.keys(set).join('+')}`,
  },
  'remove-room': {
    change: (job, { id }) => partOf(job, 'rooms', id) === undefined ? missing('rooms', id) : {
      ...withoutPart(job, 'rooms', id),
      equipment: job.equipment.map(equipment => equipment.room === id ? { ...equipment, room: undefined } : equipment),
    },
    label: ({ id }, job) => `Remove ${nameOf(job, 'rooms', id)}`,
  },
  'add-zone': {
    change: (job, { zone }) => withNewPart(job, 'zones', zone),
    label: ({ zone }) => `Add ${zone.name ?? 'a ceiling zone'}`,
  },
  'edit-zone': {
    change: (job, { id, set }) => withChanged(job, 'zones', id, zone => changed<PartInput<'zones'>>(zone, set)),
    label: ({ id, set }, job) => editName(nameOf(job, 'zones', id), set),
    dragKey: ({ id, set }) => `edit-zone/${id}/${Object.keys(set).join('+')}`,
  },
  'remove-zone': {
    change: (job, { id }) => partOf(job, 'zones', id) === undefined ? missing('zones', id) : withoutPart(job, 'zones', id),
    label: ({ id }, job) => `Remove ${nameOf(job, 'zones', id)}`,
  },
}
