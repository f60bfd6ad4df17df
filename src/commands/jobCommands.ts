/** The job as a whole: what it is called, where its datum is, and what it requires. */
import type { JobInput, SolidClass } from '#model/index.ts'
import type { Draft, Kinds } from './outcome.ts'
import { type Changes, changed } from './parts.ts'
import { editName, wordsOf } from './stepNames.ts'
import { formatLength } from './typedLength.ts'

type SettingsInput = NonNullable<JobInput['settings']>
type ClassOrAny = SolidClass | 'any'
type Pair = readonly [ClassOrAny, ClassOrAny]
/** groups of settings may be given in part */
type SettingsChanges = { readonly [K in Exclude<keyof SettingsInput, 'clearances'>]?: (SettingsInput[K] extends object | undefined ? Changes<NonNullable<SettingsInput[K]>> : SettingsInput[K]) | null }

export type JobCommand =
  | { readonly do: 'edit-job', readonly set: Changes<Pick<JobInput, 'name' | 'note' | 'datum'>> }
  | { readonly do: 'edit-settings', readonly set: SettingsChanges }
  /** least clear distance between two classes, either way round; takes the place of an entry for the same two */
  | { readonly do: 'set-clearance', readonly between: Pair, readonly mm: number, readonly why?: string }
  | { readonly do: 'remove-clearance', readonly between: Pair }

export const jobKinds: Kinds<JobCommand> = {
  'edit-job': {
    change: (job, { set }) => changed<JobInput>(job, { name: set.name, note: set.note, datum: set.datum }),
    label: ({ set }) => editName('the job', set),
  },
  'edit-settings': {
    change: (job, { set }) => {
      const groups = Object.entries(set).map(([key, value]) => {
        const group = job.settings[key as keyof SettingsInput]
        return [key, isGroup(value) && isGroup(group) ? changed(group, value) : value] as const
      })
      return { ...job, settings: changed<SettingsInput>(job.settings, Object.fromEntries(groups)) }
    },
    label: ({ set }) => {
      const [only, more] = Object.entries(set)
      if (only === undefined || more !== undefined) return 'Change the requirements'
      const [key, value] = only
      return isGroup(value) ? editName(`the requirement “${wordsOf(key)}”`, value) : editName('the job', set)
    },
    dragKey: ({ set }) => `edit-settings/${Object.keys(set).join('+')}`,
  },
  'set-clearance': {
    change: (job, { between, mm, why }) => {
      const { clearances } = job.settings
      const index = clearances.findIndex(entry => isSamePair(entry.between, between))
      const entry = { between: [...between] as [ClassOrAny, ClassOrAny], mm, why: why ?? clearances[index]?.why ?? '' }
      return { ...job, settings: { ...job.settings, clearances: index < 0 ? [...clearances, entry] : clearances.with(index, entry) } }
    },
    label: ({ between, mm }) => `Set clearance between ${pairText(between)} to ${formatLength(mm)}`,
    dragKey: ({ between }) => `set-clearance/${between.join('/')}`,
  },
  'remove-clearance': {
    change: (job, { between }): Draft => {
      const clearances = job.settings.clearances.filter(entry => !isSamePair(entry.between, between))
      if (clearances.length === job.settings.clearances.length) return `no clearance is set between ${pairText(between)}`
      return { ...job, settings: { ...job.settings, clearances } }
    },
    label: ({ between }) => `Remove clearance between ${pairText(between)}`,
  },
}

function isGroup(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

function isSamePair(a: Pair, b: Pair): boolean {
  return (a[0] === b[0] && a[1] === b[1]) || (a[0] === b[1] && a[1] === b[0])
}

function pairText([a, b]: Pair): string {
  return `${a} and ${b === 'any' ? 'anything' : b}`
}
