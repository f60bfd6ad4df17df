/** Equipment that is there: moved, turned, resized, named, given a room and its air, its spigots changed, removed. */
import type { Job, JobInput, Point3 } from '#model/index.ts'
import { endsOn, withEndsFollowing } from './ends.ts'
import type { Draft, Kinds } from './outcome.ts'
import { type Changes, type PartInput, changed, missing, nameOf, partOf, withChanged } from './parts.ts'
import { whyRunsKeep, withoutEndHolder, withoutRuns } from './removing.ts'
import { wrappedDeg } from './solidShapes.ts'
import { type SpigotInput, spigotsResized } from './spigotRows.ts'
import { editName } from './stepNames.ts'
import { formatLength } from './typedLength.ts'

type EquipmentInput = PartInput<'equipment'>

/** Ends of runs follow; with `keepAxis` the next corner too, so that the straight at the spigot survives. Refused where such a run is locked. */
export type EquipmentCommand =
  | { readonly do: 'edit-equipment', readonly id: string, readonly set: Changes<Pick<EquipmentInput, 'name' | 'kind' | 'air' | 'room' | 'note'>> }
  | { readonly do: 'move-equipment', readonly id: string, readonly to: Point3, readonly keepAxis?: boolean }
  /** height of its underside */
  | { readonly do: 'set-equipment-underside', readonly id: string, readonly undersideMm: number, readonly keepAxis?: boolean }
  /** to this turn about x, then y, then z; or further about the plumb line through its centre, counter-clockwise from above */
  | { readonly do: 'turn-equipment', readonly id: string, readonly keepAxis?: boolean } & ({ readonly toDeg: Point3 } | { readonly byDeg: number })
  /** about its centre; collars stay on their faces */
  | { readonly do: 'resize-equipment', readonly id: string, readonly sizeMm: Point3, readonly keepAxis?: boolean }
  /** lifts or lowers a plenum to stand on packers of this height; null takes them away */
  | { readonly do: 'set-packer', readonly id: string, readonly packerMm: number | null, readonly keepAxis?: boolean }
  | { readonly do: 'add-spigot', readonly id: string, readonly spigot: Omit<SpigotInput, 'id'> & { readonly id?: string } }
  | { readonly do: 'edit-spigot', readonly id: string, readonly spigot: string, readonly set: Changes<Omit<SpigotInput, 'id'>>, readonly keepAxis?: boolean }
  /** refused while a run ends on it, unless the run goes with it */
  | { readonly do: 'remove-spigot', readonly id: string, readonly spigot: string, readonly withRuns?: boolean }
  /** refused while runs end on it, unless they go with it */
  | { readonly do: 'remove-equipment', readonly id: string, readonly withRuns?: boolean }

export const equipmentKinds: Kinds<EquipmentCommand> = {
  'edit-equipment': {
    change: (job, { id, set: { name, kind, air, room, note } }) => withChanged(job, 'equipment', id, equipment => changed<EquipmentInput>(equipment, { name, kind, air, room, note })),
    label: ({ id, set }, job) => typeof set.room === 'string'
      ? editName(nameOf(job, 'equipment', id), { ...set, room: nameOf(job, 'rooms', set.room) })
      : editName(nameOf(job, 'equipment', id), set),
  },
  'move-equipment': {
    change: (job, { id, to, keepAxis }) => withMoved(job, id, keepAxis, equipment => ({ ...equipment, centre: to })),
    label: ({ id }, job) => `Move ${nameOf(job, 'equipment', id)}`,
    dragKey: ({ id }) => `move-equipment/${id}`,
  },
  'set-equipment-underside': {
    change: (job, { id, undersideMm, keepAxis }) => withMoved(job, id, keepAxis, (equipment) => {
      if (equipment.rotationDeg[0] % 180 !== 0 || equipment.rotationDeg[1] % 180 !== 0) return 'it is tilted: set the height of its centre instead'
      return { ...equipment, centre: equipment.centre.with(2, undersideMm + equipment.sizeMm[2] / 2) as Point3 }
    }),
    label: ({ id, undersideMm }, job) => `Set underside of ${nameOf(job, 'equipment', id)} to ${formatLength(undersideMm)}`,
    dragKey: ({ id }) => `set-equipment-underside/${id}`,
  },
  'turn-equipment': {
    change: (job, command) => withMoved(job, command.id, command.keepAxis, equipment => ({
      ...equipment, rotationDeg: 'toDeg' in command ? command.toDeg : equipment.rotationDeg.with(2, wrappedDeg(equipment.rotationDeg[2] + command.byDeg)) as Point3,
    })),
    label: ({ id }, job) => `Turn ${nameOf(job, 'equipment', id)}`,
    dragKey: ({ id }) => `turn-equipment/${id}`,
  },
  'resize-equipment': {
    change: (job, { id, sizeMm, keepAxis }) => withMoved(job, id, keepAxis, equipment => ({
      ...equipment, sizeMm, spigots: spigotsResized(equipment.spigots, equipment.sizeMm, sizeMm),
    })),
    label: ({ id }, job) => `Change size of ${nameOf(job, 'equipment', id)}`,
    dragKey: ({ id }) => `resize-equipment/${id}`,
  },
  'set-packer': {
    change: (job, { id, packerMm, keepAxis }) => withMoved(job, id, keepAxis, (equipment) => {
      if (equipment.kind !== 'plenum') return 'only plenums stand on packers'
      const byMm = (packerMm ?? 0) - (equipment.packerMm ?? 0)
      return { ...equipment, packerMm: packerMm ?? undefined, centre: equipment.centre.with(2, equipment.centre[2] + byMm) as Point3 }
    }),
    label: ({ id, packerMm }, job) => editName(nameOf(job, 'equipment', id), { packerMm }),
    dragKey: ({ id }) => `set-packer/${id}`,
  },
  'add-spigot': {
    change: (job, { id, spigot }) => withChanged(job, 'equipment', id, equipment => ({
      ...equipment, spigots: [...equipment.spigots, { ...spigot, id: spigot.id ?? freeSpigotId(equipment) }],
    })),
    label: ({ id }, job) => `Add a spigot to ${nameOf(job, 'equipment', id)}`,
  },
  'edit-spigot': {
    change: (job, { id, spigot: spigotId, set, keepAxis }) => withMoved(job, id, keepAxis, equipment => equipment.spigots.some(spigot => spigot.id === spigotId)
      ? { ...equipment, spigots: equipment.spigots.map((spigot): SpigotInput => spigot.id === spigotId ? changed<SpigotInput>(spigot, set) : spigot) }
      : noSpigot(equipment, spigotId)),
    label: ({ id, spigot, set }, job) => editName(`spigot ${spigot} of ${nameOf(job, 'equipment', id)}`, set),
    dragKey: ({ id, spigot, set }) => `edit-spigot/${id}/${spigot}/${Object.keys(set).join('+')}`,
  },
  'remove-spigot': {
    change: removeSpigot,
    label: ({ id, spigot }, job) => `Remove spigot ${spigot} of ${nameOf(job, 'equipment', id)}`,
  },
  'remove-equipment': {
    change: (job, { id, withRuns }) => partOf(job, 'equipment', id) === undefined
      ? missing('equipment', id)
      : withoutEndHolder(job, 'equipment', id, job.runs.filter(run => endsOn(run, id)), withRuns),
    label: ({ id, withRuns }, job) => `Remove ${nameOf(job, 'equipment', id)}${withRuns ? ' and its runs' : ''}`,
  },
}

function withMoved(job: Job, id: string, keepAxis: boolean | undefined, change: (equipment: Job['equipment'][number]) => EquipmentInput | string): Draft {
  const draft = withChanged(job, 'equipment', id, change)
  return typeof draft === 'string' ? draft : withEndsFollowing(job, draft, id, keepAxis)
}

function removeSpigot(job: Job, { id, spigot: spigotId, withRuns }: { readonly id: string, readonly spigot: string, readonly withRuns?: boolean }): Draft {
  const equipment = partOf(job, 'equipment', id)
  if (equipment === undefined) return missing('equipment', id)
  if (!equipment.spigots.some(spigot => spigot.id === spigotId)) return noSpigot(equipment, spigotId)
  const runs = job.runs.filter(({ from, to }) => [from, to].some(end => 'spigot' in end && end.equipment === id && end.spigot === spigotId))
  return whyRunsKeep(runs, withRuns) ?? withChanged(withoutRuns(job, runs), 'equipment', id, each => ({ ...each, spigots: each.spigots.filter(spigot => spigot.id !== spigotId) }))
}

function noSpigot({ name }: { readonly name: string }, spigotId: string): string {
  return `${name} has no spigot ${spigotId}`
}

function freeSpigotId({ spigots }: NonNullable<JobInput['equipment']>[number]): string {
  const used = new Set(spigots?.map(({ id }) => id))
  let number = used.size + 1
  while (used.has(`p${number}`)) number++
  return `p${number}`
}
