/** How much air, by which rule, and what its parts cost in pressure: what the user enters in place of what the tables say. */
import type { JobInput } from '#model/index.ts'
import type { Kinds } from './outcome.ts'
import { type Changes, type PartInput, changed, nameOf, withChanged } from './parts.ts'
import { editName } from './stepNames.ts'

export type AirInput = NonNullable<JobInput['air']>
type RoomAir = NonNullable<PartInput<'rooms'>['airflow']>
type EquipmentAir = NonNullable<PartInput<'equipment'>['airflow']>
type InLine = NonNullable<PartInput<'runs'>['inLine']>

export type AirCommand =
  /** null goes back to what is assumed or to the table */
  | { readonly do: 'edit-air', readonly set: Changes<Omit<AirInput, 'commissioning'>> }
  | { readonly do: 'edit-room-air', readonly id: string, readonly set: Changes<RoomAir> }
  /** lists, such as a valve's settings or a fan's curve, are given whole */
  | { readonly do: 'edit-equipment-air', readonly id: string, readonly set: Changes<EquipmentAir> }
  /** silencers and other parts put into a run, given whole; null takes them out */
  | { readonly do: 'set-run-parts', readonly id: string, readonly parts: InLine | null }
  /** gap under one of a room's doors, by its place in the list (0-based) */
  | { readonly do: 'set-undercut', readonly room: string, readonly door: number, readonly undercutMm: number | null }

/** what a step calls the lists that are given whole */
const LISTS: Readonly<Record<string, string>> = {
  settings: 'valve settings', fan: 'fan curve', extractFan: 'extract fan curve', losses: 'pressure losses',
}
/** keys whose number wants its unit in the step's name */
const UNITS: readonly (readonly [ending: string, unit: string])[] = [
  ['M2', 'm²'], ['Lps', 'l/s'], ['Mm2', 'mm²'], ['Kg', 'kg'], ['Mps', 'm/s'], ['Percent', '%'], ['DbA', 'dB(A)'],
]
const NAMES: Readonly<Record<string, string>> = {
  airC: 'temperature', altitudeM: 'altitude', wholeLps: 'whole-dwelling rate', boostLps: 'boost rate', trickleLps: 'trickle rate', mostPerTerminalLps: 'most per terminal', table: 'rate table',
  bends: 'losses of bends', bedroomMps: 'speed limit to bedrooms', elsewhereMps: 'speed limit elsewhere', hoodMm: 'side of the meter’s hood', cornerMm: 'distance from corners',
  normalLps: 'normal flow', mostLps: 'most flow', supplyLps: 'supply', extractLps: 'extract', transferMm2: 'transfer grilles', freeAreaMm2: 'free area', weightKg: 'weight', floorAreaM2: 'floor area',
}

export const airKinds: Kinds<AirCommand> = {
  'edit-air': {
    change: (job, { set }) => ({ ...job, air: changed<AirInput>(job.air ?? {}, set) }),
    label: ({ set }) => airEditName('the air', set),
    dragKey: ({ set }) => `edit-air/${Object.keys(set).join('+')}`,
  },
  'edit-room-air': {
    change: (job, { id, set }) => withChanged(job, 'rooms', id, (room) => ({ ...room, airflow: orNone(changed<RoomAir>(room.airflow ?? {}, set)) })),
    label: ({ id, set }, job) => airEditName(nameOf(job, 'rooms', id), set),
    dragKey: ({ id, set }) => `edit-room-air/${id}/${Object.keys(set).join('+')}`,
  },
  'edit-equipment-air': {
    change: (job, { id, set }) => withChanged(job, 'equipment', id, (equipment) => ({ ...equipment, airflow: orNone(changed<EquipmentAir>(equipment.airflow ?? {}, set)) })),
    label: ({ id, set }, job) => airEditName(nameOf(job, 'equipment', id), set),
    dragKey: ({ id, set }) => `edit-equipment-air/${id}/${Object.keys(set).join('+')}`,
  },
  'set-run-parts': {
    change: (job, { id, parts }) => withChanged(job, 'runs', id, (run) => ({ ...run, inLine: parts === null || parts.length === 0 ? undefined : parts })),
    label: ({ id, parts }, job) => `${parts === null ? 'Take out' : 'Change'} the parts in ${nameOf(job, 'runs', id)}`,
  },
  'set-undercut': {
    change: (job, { room: id, door, undercutMm }) => withChanged(job, 'rooms', id, (room) => room.doors[door] === undefined
      ? `${room.name} has no door ${door + 1}`
      : { ...room, doors: room.doors.with(door, { ...room.doors[door], undercutMm: undercutMm ?? undefined }) }),
    label: ({ room, undercutMm }, job) => undercutMm === null ? `Clear the gap under a door of ${nameOf(job, 'rooms', room)}` : `Set the gap under a door of ${nameOf(job, 'rooms', room)} to ${undercutMm} mm`,
    dragKey: ({ room, door }) => `set-undercut/${room}/${door}`,
  },
}

/** Nothing entered is nothing kept. */
function orNone<T extends object>(thing: T): T | undefined {
  return Object.keys(thing).length === 0 ? undefined : thing
}

/** 'Set normal flow of Bath valve to 6 l/s' */
export function airEditName(thing: string, set: object): string {
  const changes = Object.entries(set).filter(([, value]) => value !== undefined)
  if (changes.length !== 1) return `Change ${thing}`
  const [key, value] = changes[0] as [string, unknown]
  const list = LISTS[key]
  if (list !== undefined) return `${value === null ? 'Clear' : 'Change'} the ${list} of ${thing}`
  const words = NAMES[key]
  if (words === undefined) return editName(thing, set)
  if (value === null) return `Clear ${words} of ${thing}`
  if (typeof value !== 'number') return `Set ${words} of ${thing} to ${String(value)}`
  return `Set ${words} of ${thing} to ${value}${unitOf(key)}`
}

function unitOf(key: string): string {
  if (key === 'airC') return ' °C'
  if (key === 'altitudeM') return ' m'
  if (key.endsWith('Mm')) return ' mm'
  const unit = UNITS.find(([ending]) => key.endsWith(ending))?.[1]
  return unit === undefined ? '' : ` ${unit}`
}

