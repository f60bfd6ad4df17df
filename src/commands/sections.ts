/** Joist sections and duct types: what joists and runs are made of. */
import type { Kinds } from './outcome.ts'
import { type Changes, type NewPart, type PartInput, changed, listed, missing, nameOf, partOf, withChanged, withNewPart, withoutPart } from './parts.ts'
import { editName } from './stepNames.ts'

/** keys of every kind, so that one set may change the kind and give what the new one wants */
type AllKeys<U> = U extends unknown ? keyof U : never
type AnyOf<U> = { [K in AllKeys<U>]?: U extends unknown ? K extends keyof U ? U[K] : never : never }

export type SectionCommand =
  | { readonly do: 'add-section', readonly section: NewPart<'sections'> }
  /** with another `kind`, what the old kind alone had is dropped and the set must give what the new one wants */
  | { readonly do: 'edit-section', readonly id: string, readonly set: Changes<Omit<AnyOf<PartInput<'sections'>>, 'id'>> }
  /** refused while a joist field is made of it */
  | { readonly do: 'remove-section', readonly id: string }
  | { readonly do: 'add-duct-type', readonly type: NewPart<'ductTypes'> }
  | { readonly do: 'edit-duct-type', readonly id: string, readonly set: Changes<Omit<AnyOf<PartInput<'ductTypes'>>, 'id'>> }
  /** refused while a run is of it */
  | { readonly do: 'remove-duct-type', readonly id: string }

export const sectionKinds: Kinds<SectionCommand> = {
  'add-section': {
    change: (job, { section }) => withNewPart(job, 'sections', section),
    label: ({ section }) => `Add ${section.name ?? 'a joist section'}`,
  },
  'edit-section': {
    change: (job, { id, set }) => withChanged(job, 'sections', id, (section) => {
      const isOther = set.kind !== undefined && set.kind !== section.kind
      const kept = isOther ? { id: section.id, name: section.name, depthMm: section.depthMm } : section
      return changed(kept, set) as PartInput<'sections'>
    }),
    label: ({ id, set }, job) => editName(nameOf(job, 'sections', id), set),
    dragKey: ({ id, set }) => `edit-section/${id}/${Object.keys(set).join('+')}`,
  },
  'remove-section': {
    change: (job, { id }) => {
      if (partOf(job, 'sections', id) === undefined) return missing('sections', id)
      const users = job.joistFields.filter(field => field.section === id).map(({ name }) => name)
      return users.length > 0 ? `${listed(users)} ${users.length === 1 ? 'is' : 'are'} made of it` : withoutPart(job, 'sections', id)
    },
    label: ({ id }, job) => `Remove ${nameOf(job, 'sections', id)}`,
  },
  'add-duct-type': {
    change: (job, { type }) => withNewPart(job, 'ductTypes', type),
    label: ({ type }) => `Add ${type.name ?? 'a duct type'}`,
  },
  'edit-duct-type': {
    change: (job, { id, set }) => withChanged(job, 'ductTypes', id, (type) => {
      const { id: own, name, innerDiameterMm, outerDiameterMm, insulationMm } = type
      const isOther = set.kind !== undefined && set.kind !== type.kind
      return changed(isOther ? { id: own, name, innerDiameterMm, outerDiameterMm, insulationMm } : type, set) as PartInput<'ductTypes'>
    }),
    label: ({ id, set }, job) => editName(nameOf(job, 'ductTypes', id), set),
    dragKey: ({ id, set }) => `edit-duct-type/${id}/${Object.keys(set).join('+')}`,
  },
  'remove-duct-type': {
    change: (job, { id }) => {
      if (partOf(job, 'ductTypes', id) === undefined) return missing('ductTypes', id)
      const users = job.runs.filter(run => run.type === id).map(({ name }) => name)
      return users.length > 0 ? `${listed(users)} ${users.length === 1 ? 'is' : 'are'} of this type` : withoutPart(job, 'ductTypes', id)
    },
    label: ({ id }, job) => `Remove ${nameOf(job, 'ductTypes', id)}`,
  },
}
