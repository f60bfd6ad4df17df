/** A change that frees a run, as the router tells it, as a command and in words. */
import type { Command } from '#commands/index.ts'
import type { Job, RunEnd } from '#model/index.ts'
import type { Cure } from '#routing/router/cures.ts'
import { cureCaution, cureWords } from '#routing/router/whyWords.ts'

export interface CureOffer {
  /** follows 'It goes in': 'from Manifold 1, spigot s4 instead' */
  readonly words: string
  /** what to mind first; '' for nothing */
  readonly caution: string
  /** null where it is nothing that a press should do: what touches a joist is its maker's to say, and other runs are not left out by the way */
  readonly command: Command | null
}

/** Null where what it speaks of is not in the job. */
export function cureOffer(job: Job, runId: string, cure: Cure, curedWith: readonly string[] = []): CureOffer | null {
  const run = job.runs.find(({ id }) => id === runId), words = cureWords(job, runId, cure, curedWith)
  if (run === undefined || words === null) return null
  return { words, caution: cureCaution(cure), command: commandOf(job, run, cure) }
}

function commandOf(job: Job, run: Job['runs'][number], cure: Cure): Command | null {
  switch (cure.kind) {
    case 'next-spigot': return { do: 'end-run-at', id: run.id, side: sideOn(run, cure.equipmentId), end: { equipment: cure.equipmentId, spigot: cure.spigotId } }
    case 'swap-spigots': {
      const other = job.runs.find(({ id }) => id === cure.withRunId)
      if (other === undefined) return null
      const own = sideOn(run, cure.equipmentId), its = sideOn(other, cure.equipmentId)
      return { do: 'together', commands: [{ do: 'end-run-at', id: run.id, side: own, end: other[its] }, { do: 'end-run-at', id: other.id, side: its, end: run[own] }] }
    }
    case 'move': {
      const machine = job.equipment.find(({ id }) => id === cure.equipmentId)
      if (machine === undefined) return null
      const [x, y, z] = machine.centre, [dx, dy, dz] = cure.byMm
      return { do: 'move-equipment', id: machine.id, to: [x + dx, y + dy, z + dz] }
    }
    case 'spigot-of-size': return { do: 'edit-spigot', id: cure.equipmentId, spigot: cure.spigotId, set: { diameterMm: cure.diameterMm } }
    case 'smaller-type': {
      const type = job.ductTypes.find(({ id }) => id === cure.typeId)
      if (type === undefined) return null
      const spigots = [run.from, run.to].flatMap((end): Command[] => 'sleeve' in end ? [] : [{ do: 'edit-spigot', id: end.equipment, spigot: end.spigot, set: { diameterMm: type.outerDiameterMm } }])
      return { do: 'together', commands: [...spigots, { do: 'set-run-type', type: type.id, runs: [run.id] }] }
    }
    case 'shift-webs':
    case 'turn-joist':
    case 'move-web-free':
    case 'without': return null
  }
}

function sideOn(run: { readonly from: RunEnd }, equipmentId: string): 'from' | 'to' {
  return 'equipment' in run.from && run.from.equipment === equipmentId ? 'from' : 'to'
}
