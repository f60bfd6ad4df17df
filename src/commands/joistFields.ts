/** Joist fields: laid between two corners of the plan, changed as a whole, removed. */
import { cosDeg, sinDeg } from '#geometry/solid/rotation.ts'
import type { Job, JoistSection, Point2 } from '#model/index.ts'
import { LIMITS } from '#model/basics.ts'
import type { Draft, Kinds } from './outcome.ts'
import { type Changes, type PartInput, changed, missing, nameFor, nameOf, nextId, nextIds, partOf, withChanged, withoutPart, withPart } from './parts.ts'
import { editName } from './stepNames.ts'

type FieldInput = PartInput<'joistFields'>

export interface LayJoistField {
  readonly do: 'lay-joist-field'
  readonly id?: string
  readonly name?: string
  /** opposite corners of the box that the joists fill, plan; the datum end of the first joist is at the first of them */
  readonly corners: readonly [Point2, Point2]
  /** id of the joist section */
  readonly section: string
  readonly centresMm: number
  /** the line that the joists run along, from the x axis: 0 along x, 90 along y; which way along it follows from the corners */
  readonly directionDeg: number
  /** height of the joists' underside */
  readonly undersideMm: number
  readonly firstNodeMm?: number
  readonly bearingMm?: number
}

export type JoistFieldCommand =
  | LayJoistField
  | { readonly do: 'edit-joist-field', readonly id: string, readonly set: Changes<Omit<FieldInput, 'id' | 'joists'>> }
  /** with the holes drilled through its joists */
  | { readonly do: 'remove-joist-field', readonly id: string }

/** Less than this of a joist is rounding of the corners, mm. */
const HAIR_MM = 1e-6

export const joistFieldKinds: Kinds<JoistFieldCommand> = {
  'lay-joist-field': {
    change: layJoistField,
    label: ({ name }) => `Lay ${name ?? 'a joist field'}`,
  },
  'edit-joist-field': {
    change: (job, { id, set }) => withChanged(job, 'joistFields', id, field => changed<FieldInput>(field, set)),
    label: ({ id, set }, job) => editName(nameOf(job, 'joistFields', id), set),
    dragKey: ({ id, set }) => `edit-joist-field/${id}/${Object.keys(set).join('+')}`,
  },
  'remove-joist-field': {
    change: (job, { id }) => {
      const field = partOf(job, 'joistFields', id)
      if (field === undefined) return missing('joistFields', id)
      const gone = new Set<string>(field.joists.map(joist => joist.id))
      return { ...withoutPart(job, 'joistFields', id), holes: job.holes.filter(hole => !gone.has(hole.joist)) }
    },
    label: ({ id }, job) => `Remove ${nameOf(job, 'joistFields', id)}`,
  },
}

/**
 * The outer faces of the first and the last joist lie on the sides of the box. Joists stand at the centres from the
 * first; where those do not come out at the far side, one more closes the field there, and gets its actual position.
 */
function layJoistField(job: Job, command: LayJoistField): Draft {
  const { corners: [a, b], centresMm, directionDeg } = command
  const section = partOf(job, 'sections', command.section)
  if (section === undefined) return missing('sections', command.section)
  if (!(centresMm > 0)) return 'the centres must be more than 0'
  const c = cosDeg(directionDeg), s = sinDeg(directionDeg)
  const alongMm = (b[0] - a[0]) * c + (b[1] - a[1]) * s
  const acrossMm = (b[1] - a[1]) * c - (b[0] - a[0]) * s
  const widthMm = widthOf(section)
  const spreadMm = Math.abs(acrossMm) - widthMm
  if (spreadMm < -HAIR_MM) return `the box is narrower than one joist, ${widthMm} mm`
  const regular = Math.floor(spreadMm / centresMm + HAIR_MM) + 1
  if (!(regular < LIMITS.joistsPerField)) return `that would be more than ${LIMITS.joistsPerField} joists`
  const leftMm = spreadMm - (regular - 1) * centresMm
  // a closing joist must not stand in the one before it
  const isClosed = leftMm >= widthMm
  const ids = nextIds(job, 'joists', regular + (isClosed ? 1 : 0))
  const side = acrossMm < 0 ? -1 : 1
  const inset = side * widthMm / 2
  // seen along the direction that the joists run
  const isBack = alongMm < 0
  const id = command.id ?? nextId(job, 'joistFields')
  return withPart(job, 'joistFields', {
    id,
    name: command.name ?? nameFor('joistFields', id),
    section: command.section,
    origin: [a[0] - s * inset, a[1] + c * inset, command.undersideMm],
    directionDeg: isBack ? (directionDeg > 0 ? directionDeg - 180 : directionDeg + 180) : directionDeg,
    next: (side > 0) === isBack ? 'right' : 'left',
    centresMm,
    lengthMm: Math.abs(alongMm),
    firstNodeMm: command.firstNodeMm,
    bearingMm: command.bearingMm,
    joists: ids.map((joist, i) => i < regular ? { id: joist } : { id: joist, positionMm: spreadMm }),
  })
}

/** across the joist, over all but the web plates of open-web ones */
export function widthOf(section: JoistSection): number {
  switch (section.kind) {
    case 'open-web': return section.chordWidthMm
    case 'solid-timber': return section.widthMm
    case 'i-section': case 'cold-formed': return section.flangeWidthMm
  }
}
