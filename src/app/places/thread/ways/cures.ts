/** A change that frees a run, as the router tells it, as a command and in words. */
import type { Command } from '#commands/index.ts'
import { compassOf } from '#geometry/compass.ts'
import type { Job } from '#model/index.ts'
import type { Cure } from '#routing/router/cures.ts'
import { mmText } from '../../../figures.ts'

export interface CureOffer {
  /** follows 'It goes in': 'from Manifold 1, spigot s4 instead' */
  readonly words: string
  /** null where it is nothing that a press should do */
  readonly command: Command | null
}

/** Null where what it speaks of is not in the job. */
export function cureOffer(job: Job, runId: string, cure: Cure): CureOffer | null {
  const run = job.runs.find(({ id }) => id === runId)
  if (run === undefined) return null
  const machine = 'equipmentId' in cure ? job.equipment.find(({ id }) => id === cure.equipmentId) : undefined
  switch (cure.kind) {
    case 'next-spigot': {
      if (machine === undefined) return null
      const side = 'equipment' in run.from && run.from.equipment === machine.id ? 'from' : 'to'
      return { words: `with ${machine.name}, spigot ${cure.spigotId}, instead of its own`, command: { do: 'end-run-at', id: runId, side, end: { equipment: machine.id, spigot: cure.spigotId } } }
    }
    case 'move': {
      if (machine === undefined) return null
      const [x, y, z] = machine.centre, [dx, dy, dz] = cure.byMm
      return { words: `with ${machine.name} moved ${moveText(cure.byMm)}`, command: { do: 'move-equipment', id: machine.id, to: [x + dx, y + dy, z + dz] } }
    }
    case 'smaller-type': {
      const type = job.ductTypes.find(({ id }) => id === cure.typeId)
      if (type === undefined) return null
      const spigots = [run.from, run.to].flatMap((end): Command[] => 'sleeve' in end ? [] : [{ do: 'edit-spigot', id: end.equipment, spigot: end.spigot, set: { diameterMm: type.outerDiameterMm } }])
      return { words: `as ${type.name}, with spigots of ${mmText(type.outerDiameterMm)}`, command: { do: 'together', commands: [...spigots, { do: 'set-run-type', type: type.id, runs: [runId] }] } }
    }
    case 'without': {
      const names = job.runs.filter(({ id }) => cure.runIds.includes(id)).map(({ name }) => name)
      return { words: `where ${names.join(' and ')} ${names.length === 1 ? 'is' : 'are'} not in the way`, command: null }
    }
  }
}

/** '100 mm east', '12 mm north and 5 mm down' */
export function moveText([x, y, z]: readonly number[]): string {
  const level = Math.hypot(x, y)
  const parts = [...level > 0.05 ? [`${mmText(level)} ${compassOf(x, y)}`] : [], ...Math.abs(z) > 0.05 ? [`${mmText(Math.abs(z))} ${z > 0 ? 'up' : 'down'}`] : []]
  return parts.length === 0 ? 'by nothing' : parts.join(' and ')
}
