/** The record of the handover: passes with the meter, fans, sound, filters, who signs. It is written by the person on site; nothing in it is assumed. */
import type { FanSpeed, Job, JobInput } from '#model/index.ts'
import { type AirInput, airEditName } from './air.ts'
import type { Draft, Kinds } from './outcome.ts'
import { type Changes, changed, nameOf } from './parts.ts'

type Record = NonNullable<AirInput['commissioning']>
type Entry<K extends 'rounds' | 'fans' | 'sound' | 'filters' | 'signatures'> = NonNullable<Record[K]>[number]
type Meter = NonNullable<Record['meter']>

/** Passes, filters and the like are named by their place in their list, 0-based. */
export type CommissioningCommand =
  | { readonly do: 'edit-record', readonly set: Changes<Pick<Record, 'tolerancePercent' | 'note'>> }
  | { readonly do: 'edit-meter', readonly set: Changes<Meter> }
  | { readonly do: 'start-pass', readonly speed: FanSpeed, readonly name?: string, readonly day?: string, readonly by?: string }
  /** ended: readings are no more taken in it */
  | { readonly do: 'edit-pass', readonly pass: number, readonly set: Changes<Omit<Entry<'rounds'>, 'readings'>> }
  | { readonly do: 'remove-pass', readonly pass: number }
  /** takes the place of what was read at that terminal in that pass; turned: its valve was turned first */
  | { readonly do: 'take-reading', readonly pass: number, readonly terminal: string, readonly lps: number, readonly setting?: number | null, readonly turned?: boolean, readonly note?: string | null }
  | { readonly do: 'clear-reading', readonly pass: number, readonly terminal: string }
  /** what the fans are set to for a speed, % of full speed; null clears */
  | { readonly do: 'set-fan', readonly speed: FanSpeed, readonly set: Changes<Pick<Entry<'fans'>, 'supplyPercent' | 'extractPercent'>> }
  /** one reading a room and speed; null takes it away */
  | { readonly do: 'set-sound', readonly room: string, readonly speed: FanSpeed, readonly levelDbA: number | null, readonly note?: string | null }
  | { readonly do: 'add-filter', readonly name: string, readonly fitted?: string, readonly cleanBy?: string }
  | { readonly do: 'edit-filter', readonly filter: number, readonly set: Changes<Entry<'filters'>> }
  | { readonly do: 'remove-filter', readonly filter: number }
  /** name and day of one who signs; the signature itself is on paper */
  | { readonly do: 'set-signature', readonly role: string, readonly set: Changes<Pick<Entry<'signatures'>, 'name' | 'day'>> }

const SPEED_WORDS: Readonly<{ [S in FanSpeed]: string }> = { trickle: 'trickle', normal: 'normal running', boost: 'boost' }
const LIST_NAMES = { rounds: 'pass', filters: 'filter' } as const

export const commissioningKinds: Kinds<CommissioningCommand> = {
  'edit-record': {
    change: (job, { set }) => withRecord(job, (record) => changed<Record>(record, set)),
    label: ({ set }) => 'tolerancePercent' in set && set.note === undefined
      ? set.tolerancePercent === null ? 'Clear the tolerance' : `Set the tolerance to ${set.tolerancePercent} %` : 'Change the record of commissioning',
    dragKey: ({ set }) => `edit-record/${Object.keys(set).join('+')}`,
  },
  'edit-meter': {
    change: (job, { set }) => withRecord(job, (record) => ({ ...record, meter: orNone(changed<Meter>(record.meter ?? {}, set)) })),
    label: ({ set }) => airEditName('the meter', set),
  },
  'start-pass': {
    change: (job, { speed, name, day, by }) => withRecord(job, (record) => ({ ...record, rounds: [...record.rounds ?? [], { name, speed, day, by, readings: [] }] })),
    label: ({ speed }, job) => `Start pass ${roundsOf(job).length + 1}, ${SPEED_WORDS[speed]}`,
  },
  'edit-pass': {
    change: (job, { pass, set }) => withEntry(job, 'rounds', pass, (round) => changed<Entry<'rounds'>>(round, set)),
    label: ({ pass, set }) => set.ended === true ? `End pass ${pass + 1}` : set.ended === null || set.ended === false ? `Open pass ${pass + 1} again` : `Change pass ${pass + 1}`,
  },
  'remove-pass': {
    change: (job, { pass }) => without(job, 'rounds', pass),
    label: ({ pass }) => `Remove pass ${pass + 1}`,
  },
  'take-reading': {
    change: (job, { pass, terminal, lps, setting, turned, note }) => withOpenPass(job, pass, (readings) => {
      const was = readings.findLast((reading) => reading.terminal === terminal)
      const now = changed({ ...was, terminal, lps }, { setting, turned: turned === true ? true : undefined, note })
      return was === undefined ? [...readings, now] : readings.with(readings.lastIndexOf(was), now)
    }),
    label: ({ terminal, lps }, job) => `Read ${lps.toFixed(1)} l/s at ${nameOf(job, 'equipment', terminal)}`,
    dragKey: ({ pass, terminal }) => `take-reading/${pass}/${terminal}`,
  },
  'clear-reading': {
    change: (job, { pass, terminal }) => withOpenPass(job, pass, (readings) => readings.some((reading) => reading.terminal === terminal)
      ? readings.filter((reading) => reading.terminal !== terminal)
      : `${nameOf(job, 'equipment', terminal)} was not read in pass ${pass + 1}`),
    label: ({ terminal }, job) => `Clear the reading at ${nameOf(job, 'equipment', terminal)}`,
  },
  'set-fan': {
    change: (job, { speed, set }) => withRecord(job, (record) => {
      const fans = record.fans ?? [], index = fans.findLastIndex((fan) => fan.speed === speed)
      const now = changed<Entry<'fans'>>(fans[index] ?? { speed }, set)
      if (now.supplyPercent === undefined && now.extractPercent === undefined) return { ...record, fans: fans.filter((fan) => fan.speed !== speed) }
      return { ...record, fans: index < 0 ? [...fans, now] : fans.with(index, now) }
    }),
    label: ({ speed, set }) => {
      const [only, more] = Object.entries(set)
      const fan = only?.[0] === 'supplyPercent' ? 'supply fan' : 'extract fan'
      if (only === undefined || more !== undefined) return `Set the fans for ${SPEED_WORDS[speed]}`
      return only[1] === null ? `Clear the ${fan} for ${SPEED_WORDS[speed]}` : `Set the ${fan} for ${SPEED_WORDS[speed]} to ${only[1]} %`
    },
    dragKey: ({ speed, set }) => `set-fan/${speed}/${Object.keys(set).join('+')}`,
  },
  'set-sound': {
    change: (job, { room, speed, levelDbA, note }) => withRecord(job, (record) => {
      const sound = record.sound ?? [], index = sound.findLastIndex((entry) => entry.room === room && (entry.speed ?? 'normal') === speed)
      if (levelDbA === null) return index < 0 ? `no sound is noted in ${nameOf(job, 'rooms', room)} for ${SPEED_WORDS[speed]}` : { ...record, sound: sound.toSpliced(index, 1) }
      const now = changed<Entry<'sound'>>({ ...sound[index], room, speed, levelDbA }, { note })
      return { ...record, sound: index < 0 ? [...sound, now] : sound.with(index, now) }
    }),
    label: ({ room, speed, levelDbA }, job) => levelDbA === null
      ? `Clear the sound in ${nameOf(job, 'rooms', room)}, ${SPEED_WORDS[speed]}` : `Note ${levelDbA} dB(A) in ${nameOf(job, 'rooms', room)}, ${SPEED_WORDS[speed]}`,
    dragKey: ({ room, speed }) => `set-sound/${room}/${speed}`,
  },
  'add-filter': {
    change: (job, { name, fitted, cleanBy }) => withRecord(job, (record) => ({ ...record, filters: [...record.filters ?? [], { name, fitted, cleanBy }] })),
    label: ({ name }) => `Add filter ${name}`,
  },
  'edit-filter': {
    change: (job, { filter, set }) => withEntry(job, 'filters', filter, (entry) => changed<Entry<'filters'>>(entry, set)),
    label: ({ filter, set }, job) => airEditName(`filter ${job.air?.commissioning?.filters[filter]?.name ?? filter + 1}`, set),
  },
  'remove-filter': {
    change: (job, { filter }) => without(job, 'filters', filter),
    label: ({ filter }, job) => `Remove filter ${job.air?.commissioning?.filters[filter]?.name ?? filter + 1}`,
  },
  'set-signature': {
    change: (job, { role, set }) => withRecord(job, (record) => {
      const signatures = record.signatures ?? [], index = signatures.findIndex((entry) => entry.role === role)
      const now = changed<Entry<'signatures'>>(signatures[index] ?? { role }, set)
      if (now.name === undefined && now.day === undefined) return { ...record, signatures: signatures.filter((entry) => entry.role !== role) }
      return { ...record, signatures: index < 0 ? [...signatures, now] : signatures.with(index, now) }
    }),
    label: ({ role }) => `Change who signs as ${role}`,
  },
}

function roundsOf(job: Job): NonNullable<NonNullable<Job['air']>['commissioning']>['rounds'] {
  return job.air?.commissioning?.rounds ?? []
}

function orNone<T extends object>(thing: T): T | undefined {
  return Object.keys(thing).length === 0 ? undefined : thing
}

function withRecord(job: Job, change: (record: Record) => Record | string): Draft {
  const record = change(job.air?.commissioning ?? {})
  return typeof record === 'string' ? record : { ...job, air: { ...job.air, commissioning: record } } satisfies JobInput
}

function withEntry<L extends 'rounds' | 'filters'>(job: Job, list: L, index: number, change: (entry: Entry<L>) => Entry<L> | string): Draft {
  return withRecord(job, (record) => {
    const entries = (record[list] ?? []) as readonly Entry<L>[]
    if (entries[index] === undefined) return `there is no ${LIST_NAMES[list]} ${index + 1}`
    const entry = change(entries[index])
    return typeof entry === 'string' ? entry : { ...record, [list]: entries.with(index, entry) }
  })
}

function without(job: Job, list: 'rounds' | 'filters', index: number): Draft {
  return withRecord(job, (record) => record[list]?.[index] === undefined ? `there is no ${LIST_NAMES[list]} ${index + 1}` : { ...record, [list]: record[list].toSpliced(index, 1) })
}

type Readings = NonNullable<Entry<'rounds'>['readings']>
function withOpenPass(job: Job, pass: number, change: (readings: Readings) => Readings | string): Draft {
  return withEntry(job, 'rounds', pass, (round) => {
    if (round.ended === true) return `pass ${pass + 1} has ended: open it again first, or start another`
    const readings = change(round.readings ?? [])
    return typeof readings === 'string' ? readings : { ...round, readings }
  })
}
