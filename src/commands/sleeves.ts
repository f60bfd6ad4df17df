/** Sleeves through walls, slabs and fascias. */
import type { Point3 } from '#model/index.ts'
import { endsOn, withEndsFollowing } from './ends.ts'
import type { Draft, Kinds } from './outcome.ts'
import { type Changes, type NewPart, type PartInput, changed, missing, nameOf, partOf, withChanged, withNewPart } from './parts.ts'
import { withoutEndHolder } from './removing.ts'
import { editName } from './stepNames.ts'

type SleeveInput = PartInput<'sleeves'>

export type SleeveCommand =
  | { readonly do: 'add-sleeve', readonly sleeve: NewPart<'sleeves'> }
  /** ends of runs on it follow */
  | { readonly do: 'edit-sleeve', readonly id: string, readonly set: Changes<Omit<SleeveInput, 'id' | 'at'>> }
  | { readonly do: 'move-sleeve', readonly id: string, readonly to: Point3, readonly keepAxis?: boolean }
  /** refused while runs end on it, unless they go with it */
  | { readonly do: 'remove-sleeve', readonly id: string, readonly withRuns?: boolean }

export const sleeveKinds: Kinds<SleeveCommand> = {
  'add-sleeve': {
    change: (job, { sleeve }) => withNewPart(job, 'sleeves', sleeve),
    label: ({ sleeve }) => `Add ${sleeve.name ?? 'a sleeve'}`,
  },
  'edit-sleeve': {
    change: (job, { id, set }) => {
      const draft: Draft = withChanged(job, 'sleeves', id, sleeve => changed<SleeveInput>(sleeve, set))
      return typeof draft === 'string' ? draft : withEndsFollowing(job, draft, id)
    },
    label: ({ id, set }, job) => editName(nameOf(job, 'sleeves', id), set),
    dragKey: ({ id, set }) => `edit-sleeve/${id}/${Object.keys(set).join('+')}`,
  },
  'move-sleeve': {
    change: (job, { id, to, keepAxis }) => {
      const draft = withChanged(job, 'sleeves', id, sleeve => ({ ...sleeve, at: to }))
      return typeof draft === 'string' ? draft : withEndsFollowing(job, draft, id, keepAxis)
    },
    label: ({ id }, job) => `Move ${nameOf(job, 'sleeves', id)}`,
    dragKey: ({ id }) => `move-sleeve/${id}`,
  },
  'remove-sleeve': {
    change: (job, { id, withRuns }) => partOf(job, 'sleeves', id) === undefined
      ? missing('sleeves', id)
      : withoutEndHolder(job, 'sleeves', id, job.runs.filter(run => endsOn(run, id)), withRuns),
    label: ({ id, withRuns }, job) => `Remove ${nameOf(job, 'sleeves', id)}${withRuns ? ' and its runs' : ''}`,
  },
}
