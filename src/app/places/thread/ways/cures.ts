/** A change that frees a run, as the router tells it, as a command and in words. */
import type { Command } from '#commands/index.ts'
import { compassOf } from '#geometry/compass.ts'
import type { Job } from '#model/index.ts'
import { mmText } from '../../../figures.ts'

/** As the router names it: kinds that are not known here have no button. */
export interface Cure {
  readonly kind: string
  readonly equipmentId?: string
  readonly spigotId?: string
  readonly typeId?: string
  readonly byMm?: readonly number[]
  readonly runIds?: readonly string[]
}

export interface CureOffer {
  /** follows 'It goes in': 'from Manifold 1, spigot s4 instead' */
  readonly words: string
  /** null where it is nothing that a press should do */
  readonly command: Command | null
}

export function cureOffer(job: Job, runId: string, { kind, equipmentId, spigotId, typeId, byMm, runIds }: Cure): CureOffer | null {
  const run = job.runs.find(({ id }) => id === runId), machine = job.equipment.find(({ id }) => id === equipmentId)
  if (run === undefined) return null
  if (kind === 'next-spigot' && machine !== undefined && spigotId !== undefined) {
    const side = 'equipment' in run.from && run.from.equipment === machine.id ? 'from' : 'to'
    return {
      words: `with ${machine.name}, spigot ${spigotId}, instead of its own`,
      command: { do: 'end-run-at', id: runId, side, end: { equipment: machine.id, spigot: spigotId } },
    }
  }
  if (kind === 'move' && machine !== undefined && byMm?.length === 3) {
    const [x, y, z] = machine.centre
    return { words: `with ${machine.name} moved ${moveText(byMm)}`, command: { do: 'move-equipment', id: machine.id, to: [x + byMm[0], y + byMm[1], z + byMm[2]] } }
  }
  const type = job.ductTypes.find(({ id }) => id === typeId)
  if (kind === 'smaller-type' && type !== undefined) {
    const spigots = [run.from, run.to].flatMap((end): Command[] => 'sleeve' in end ? [] : [{ do: 'edit-spigot', id: end.equipment, spigot: end.spigot, set: { diameterMm: type.outerDiameterMm } }])
    return {
      words: `as ${type.name}, with spigots of ${mmText(type.outerDiameterMm)}`,
      command: { do: 'together', commands: [...spigots, { do: 'set-run-type', type: type.id, runs: [runId] }] },
    }
  }
  if (kind === 'without' && runIds !== undefined) {
    const names = job.runs.filter(({ id }) => runIds.includes(id)).map(({ name }) => name)
    return { words: `where ${names.join(' and ')} ${names.length === 1 ? 'is' : 'are'} not in the way`, command: null }
  }
  return null
}

/** '100 mm east', '12 mm north and 5 mm down' */
export function moveText([x, y, z]: readonly number[]): string {
  const level = Math.hypot(x, y)
  const parts = [...level > 0.05 ? [`${mmText(level)} ${compassOf(x, y)}`] : [], ...Math.abs(z) > 0.05 ? [`${mmText(Math.abs(z))} ${z > 0 ? 'up' : 'down'}`] : []]
  return parts.length === 0 ? 'by nothing' : parts.join(' and ')
}
