/** Corners of outlines: of rooms, of ceiling zones, and of prisms. */
import type { Job, Point2 } from '#model/index.ts'
import type { Draft, Kinds } from './outcome.ts'
import { nameOf, partOf, withChanged } from './parts.ts'

interface Corner {
  /** id of the room, ceiling zone or prism */
  readonly of: string
  /** 0 (when left out) is the outline, 1 and on its holes */
  readonly ring?: number
  /** which corner of the ring, from 0 */
  readonly corner: number
}
/** `at` is in plan; for a prism in its own x and y */
export type CornerCommand =
  | { readonly do: 'move-corner', readonly at: Point2 } & Corner
  /** the new corner gets this place in the ring; the ring's length puts it last */
  | { readonly do: 'insert-corner', readonly at: Point2 } & Corner
  | { readonly do: 'remove-corner' } & Corner

type Ring = readonly Point2[]
const FEWEST_CORNERS = 3

export const cornerKinds: Kinds<CornerCommand> = {
  'move-corner': {
    change: (job, command) => withRing(job, command, 1, ring => ring.with(command.corner, command.at)),
    label: (command, job) => `Move corner ${command.corner + 1} of ${nameOfOutlined(job, command.of)}`,
    dragKey: ({ of, ring = 0, corner }) => `move-corner/${of}/${ring}/${corner}`,
  },
  'insert-corner': {
    change: (job, command) => withRing(job, command, 0, ring => ring.toSpliced(command.corner, 0, command.at)),
    label: (command, job) => `Add a corner to ${nameOfOutlined(job, command.of)}`,
  },
  'remove-corner': {
    change: (job, command) => withRing(job, command, 1, ring => ring.length > FEWEST_CORNERS ? ring.toSpliced(command.corner, 1) : 'an outline needs three corners'),
    label: (command, job) => `Remove corner ${command.corner + 1} of ${nameOfOutlined(job, command.of)}`,
  },
}

/** @param short how much less than the ring's length the corner's index must be */
function withRing(job: Job, { of, ring = 0, corner }: Corner, short: 0 | 1, change: (ring: Ring) => Ring | string): Draft {
  const edit = <T extends { readonly outline: Point2[], readonly holes?: Point2[][] }>(thing: T): T | string => {
    const old = ring === 0 ? thing.outline : thing.holes?.[ring - 1]
    if (old === undefined) return `${nameOfOutlined(job, of)} has no ring ${ring}`
    if (!Number.isInteger(corner) || corner < 0 || corner > old.length - short) return `${nameOfOutlined(job, of)} has no corner ${corner + 1}`
    const next = change(old)
    if (typeof next === 'string') return next
    return ring === 0 ? { ...thing, outline: [...next] } : { ...thing, holes: thing.holes!.with(ring - 1, [...next]) }
  }
  if (partOf(job, 'rooms', of) !== undefined) return withChanged(job, 'rooms', of, edit)
  if (partOf(job, 'zones', of) !== undefined) return withChanged(job, 'zones', of, edit)
  const solid = partOf(job, 'solids', of)
  if (solid?.shape.kind !== 'prism') return `there is no room, ceiling zone or prism ${of} in the job`
  const shape = edit(solid.shape)
  return typeof shape === 'string' ? shape : withChanged(job, 'solids', of, () => ({ ...solid, shape }))
}

function nameOfOutlined(job: Job, id: string): string {
  const list = (['rooms', 'zones', 'solids'] as const).find(each => partOf(job, each, id) !== undefined)
  return list === undefined ? id : nameOf(job, list, id)
}
