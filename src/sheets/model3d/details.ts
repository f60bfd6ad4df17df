/** What is known of each thing of a job, as plain metadata. */
import type { Assembly, PlacedRun } from '#assembly/assembly.ts'
import { isSpigot } from '#assembly/runs.ts'
import { shown } from '../letters.ts'

export type Details = Readonly<Record<string, string | number | readonly number[]>>

export function detailsOf({ job, joists }: Assembly): { ofOwner(id: string): { name: string, extras: Details }, ofRun(placed: PlacedRun): { name: string, extras: Details, air: string } } {
  const known = new Map<string, { name: string, extras: Details }>()
  for (const { id, name, section, lengthMm, field } of joists) known.set(id, { name, extras: { id, section: shown(section.name), field: shown(field.name), lengthMm, depthMm: section.depthMm } })
  for (const { id, name, kind, sizeMm } of job.equipment) known.set(id, { name, extras: { id, kind, sizeMm } })
  for (const { id, name } of job.solids) known.set(id, { name, extras: { id } })
  return {
    ofOwner: (id) => known.get(id) ?? { name: id, extras: { id } },
    ofRun: (placed) => {
      const { run: { id, name }, type, centreline: { lengthMm }, bends } = placed
      return {
        name, air: airOf(placed),
        extras: { id, ductType: shown(type.name), kind: type.kind, boreMm: type.innerDiameterMm, outerDiameterMm: type.outerDiameterMm, insulationMm: type.insulationMm, lengthMm: Math.round(lengthMm * 1000) / 1000, bends: bends.length, air: airOf(placed) },
      }
    },
  }
}

/** supply, extract, intake, exhaust; '' where the run's ends do not say */
export function airOf({ from, to }: Pick<PlacedRun, 'from' | 'to'>): string {
  for (const end of [from, to]) if (isSpigot(end) && end.equipment.air !== undefined) return end.equipment.air
  return ''
}
