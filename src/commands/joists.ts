/** Site measurements of single joists, joists more or fewer in a field, and the holes drilled through them. */
import type { Job, JoistField } from '#model/index.ts'
import type { Draft, Kinds } from './outcome.ts'
import { type Changes, type NewPart, type PartInput, changed, missing, nameOf, nextIds, partOf, withChanged, withNewPart, withoutPart } from './parts.ts'
import { editName } from './stepNames.ts'
import { formatLength } from './typedLength.ts'

type JoistInput = PartInput<'joistFields'>['joists'][number]

export type JoistCommand =
  /** null clears a measurement: the joist is then as its field says */
  | { readonly do: 'edit-joist', readonly id: string, readonly set: Changes<Omit<JoistInput, 'id'>> }
  /** at the end of the field, at its centres from the last joist */
  | { readonly do: 'add-joists', readonly field: string, readonly count: number }
  /** with its holes; the joists after it stay where they are */
  | { readonly do: 'remove-joist', readonly id: string }
  | { readonly do: 'add-hole', readonly hole: Omit<NewPart<'holes'>, 'name'> }
  | { readonly do: 'edit-hole', readonly id: string, readonly set: Changes<Omit<PartInput<'holes'>, 'id'>> }
  | { readonly do: 'remove-hole', readonly id: string }

export const joistKinds: Kinds<JoistCommand> = {
  'edit-joist': {
    change: (job, { id, set }) => {
      const field = fieldOf(job, id)
      if (field === undefined) return missing('joists', id)
      return withChanged(job, 'joistFields', field.id, () => ({
        ...field, joists: field.joists.map((joist): JoistInput => joist.id === id ? changed<JoistInput>(joist, set) : joist),
      }))
    },
    label: ({ id, set }, job) => editName(joistName(job, id), set),
    dragKey: ({ id, set }) => `edit-joist/${id}/${Object.keys(set).join('+')}`,
  },
  'add-joists': {
    change: (job, { field: id, count }) => {
      if (!Number.isInteger(count) || count < 1 || count > 5_000) return 'the number of joists must be 1 to 5000'
      return withChanged(job, 'joistFields', id, field => ({ ...field, joists: [...field.joists, ...joistsAfter(field, nextIds(job, 'joists', count))] }))
    },
    label: ({ field, count }, job) => `Add ${count === 1 ? 'a joist' : `${count} joists`} to ${nameOf(job, 'joistFields', field)}`,
  },
  'remove-joist': {
    change: removeJoist,
    label: ({ id }, job) => `Remove ${joistName(job, id)}`,
  },
  'add-hole': {
    change: (job, { hole }) => withNewPart(job, 'holes', hole as NewPart<'holes'>),
    label: ({ hole }, job) => `Add a ${formatLength(hole.diameterMm)} hole in ${joistName(job, hole.joist)}`,
  },
  'edit-hole': {
    change: (job, { id, set }) => withChanged(job, 'holes', id, hole => changed<PartInput<'holes'>>(hole, set)),
    label: ({ id, set }) => editName(`hole ${id}`, set),
    dragKey: ({ id, set }) => `edit-hole/${id}/${Object.keys(set).join('+')}`,
  },
  'remove-hole': {
    change: (job, { id }) => partOf(job, 'holes', id) === undefined ? missing('holes', id) : withoutPart(job, 'holes', id),
    label: ({ id }) => `Remove hole ${id}`,
  },
}

/** A place of its own only for a joist that its place in the list would put elsewhere. */
function joistsAfter({ joists, centresMm }: JoistField, ids: readonly string[]): JoistInput[] {
  const lastMm = Math.max(...joists.map((joist, i) => joist.positionMm ?? i * centresMm))
  return ids.map((id, k) => {
    const positionMm = lastMm + (k + 1) * centresMm
    return positionMm === (joists.length + k) * centresMm ? { id } : { id, positionMm }
  })
}

function removeJoist(job: Job, { id }: { readonly id: string }): Draft {
  const field = fieldOf(job, id)
  if (field === undefined) return missing('joists', id)
  if (field.joists.length === 1) return `it is the only joist of ${field.name}: remove the field instead`
  const index = field.joists.findIndex(joist => joist.id === id)
  const stays = (joist: JoistInput, from: number, to: number): JoistInput =>
    from === to || joist.positionMm !== undefined ? joist : { ...joist, positionMm: from * field.centresMm }
  return {
    ...job,
    joistFields: job.joistFields.map(each => each !== field ? each : {
      ...field, joists: field.joists.flatMap((joist, i): JoistInput[] => i === index ? [] : [stays(joist, i, i < index ? i : i - 1)]),
    }),
    holes: job.holes.filter(hole => hole.joist !== id),
  }
}

export function fieldOf(job: Job, joistId: string): JoistField | undefined {
  return job.joistFields.find(field => field.joists.some(joist => joist.id === joistId))
}

function joistName(job: Job, id: string): string {
  return fieldOf(job, id)?.joists.find(joist => joist.id === id)?.name ?? id
}
