/** Saved views, and the picture of a plan to trace over. */
import type { JobInput, Point2 } from '#model/index.ts'
import type { Kinds } from './outcome.ts'
import { type Changes, type NewPart, type PartInput, changed, missing, nameOf, partOf, withChanged, withNewPart, withoutPart } from './parts.ts'
import { editName } from './stepNames.ts'

type UnderlayInput = NonNullable<JobInput['underlay']>

export type ViewCommand =
  | { readonly do: 'add-view', readonly view: NewPart<'views'> }
  | { readonly do: 'edit-view', readonly id: string, readonly set: Changes<Omit<PartInput<'views'>, 'id'>> }
  | { readonly do: 'remove-view', readonly id: string }
  | { readonly do: 'set-underlay', readonly underlay: UnderlayInput }
  | { readonly do: 'remove-underlay' }

export const viewKinds: Kinds<ViewCommand> = {
  'add-view': {
    change: (job, { view }) => withNewPart(job, 'views', view),
    label: ({ view }) => `Keep ${view.name ?? 'a view'}`,
  },
  'edit-view': {
    change: (job, { id, set }) => withChanged(job, 'views', id, view => changed<PartInput<'views'>>(view, set)),
    label: ({ id, set }, job) => editName(nameOf(job, 'views', id), set),
  },
  'remove-view': {
    change: (job, { id }) => partOf(job, 'views', id) === undefined ? missing('views', id) : withoutPart(job, 'views', id),
    label: ({ id }, job) => `Remove ${nameOf(job, 'views', id)}`,
  },
  'set-underlay': {
    change: (job, { underlay }) => ({ ...job, underlay }),
    label: (_, job) => job.underlay === undefined ? 'Put a plan under the job' : 'Change the plan under the job',
    dragKey: () => 'set-underlay',
  },
  'remove-underlay': {
    change: job => job.underlay === undefined ? 'there is no plan under the job' : { ...job, underlay: undefined },
    label: () => 'Take the plan away',
  },
}

/**
 * The two marks of a picture that is scaled by one known distance and lies straight: its right is +x, its top +y.
 * @param from, to picture points, from its left and its top
 * @param at where `from` is on site
 * @returns undefined when the two are the same point, or the distance is none
 */
export function marksAtDistance(from: Point2, to: Point2, distanceMm: number, at: Point2 = [0, 0]): UnderlayInput['marks'] | undefined {
  const right = to[0] - from[0], down = to[1] - from[1], apart = Math.hypot(right, down)
  if (!(apart > 0 && distanceMm > 0)) return undefined
  const mmPerPixel = distanceMm / apart
  return [{ pixel: from, at }, { pixel: to, at: [at[0] + right * mmPerPixel, at[1] - down * mmPerPixel] }]
}
