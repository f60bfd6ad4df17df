/** Packers tried under a terminal together with its runs, before anything is changed: which points of the run come along, what it then has to spare, what would be wrong with it. Pure. */
import type { PlacedRun } from '#assembly/assembly.ts'
import type { CheckContext } from '#checks/context.ts'
import { crossingsOf, type Crossing } from '#checks/crossings.ts'
import type { Finding } from '#checks/finding.ts'
import { checkRun } from '#checks/index.ts'
import { apply, type Command } from '#commands/index.ts'
import type { Job } from '#model/index.ts'
import { stationNear } from '#geometry/curve/stationNear.ts'
import { packerFor, type Packer } from '#routing/packer.ts'
import { setOut, setOutAgain, type SetOut } from '../../editing/setOut.ts'

export interface RunOnPackers {
  readonly name: string
  /** the opening or hole that it passes first from the terminal: 'joist J5, opening 15' */
  readonly gate: string | null
  /** room left there round the duct, mm, as it is and on the packers; negative: cut into; null where it passes none */
  readonly spareNowMm: number | null
  readonly spareMm: number | null
  /** to be put right, as it is and on the packers; advice is left out */
  readonly faultsNow: readonly Finding[]
  readonly faults: readonly Finding[]
}

export interface PackerTrial {
  readonly packer: Packer
  /** one step: the packers, the terminal and its run */
  readonly command: Command
  readonly runs: readonly RunOnPackers[]
}

export function tryPackers(job: Job, context: CheckContext, equipmentId: string): PackerTrial | { readonly why: string } {
  const packer = packerFor(context, equipmentId)
  if ('why' in packer) return packer
  const ways = commandsFor(context, equipmentId, packer)
  const name = `Set packers of ${job.equipment.find(({ id }) => id === equipmentId)?.name ?? equipmentId}`
  let out: SetOut | null = null, best: { readonly trial: PackerTrial, readonly badness: number } | null = null, why = ''
  for (const commands of ways) {
    const command: Command = { do: 'together', name, commands }
    const done = apply(job, command)
    if (!done.ok) {
      why = done.why
      continue
    }
    out = out === null ? setOut(done.job) : setOutAgain(out, done.job)
    const tried = out.context
    const runs = context.runs.flatMap(({ placed }, i): RunOnPackers[] => isOn(placed, equipmentId) === null ? [] : [{
      name: placed.run.name, ...gateOf(context, tried, i, equipmentId), faultsNow: faultsOf(context, i), faults: faultsOf(tried, i),
    }])
    const badness = runs.reduce((sum, { faults, spareMm }) => sum + faults.reduce((bad, { severity }) => bad + (severity === 'stop' ? 10_000 : 3_000), 0) - (spareMm ?? 0), 0)
    if (best === null || badness < best.badness - 0.05) best = { trial: { packer, command, runs }, badness }
  }
  return best?.trial ?? { why }
}

/** The terminal with the straight at its spigot; with all of the run up to the leg through the opening; and with all of it but its other end. */
function commandsFor(context: CheckContext, id: string, { heightMm, by }: Packer): Command[][] {
  const [x, y, z] = context.assembly.job.equipment.find((one) => one.id === id)!.centre
  const up: Command[] = [{ do: 'set-packer', id, packerMm: heightMm, keepAxis: true }, { do: 'move-equipment', id, to: [x, y, z + by[2]], keepAxis: true }]
  const shifts = (upTo: (placed: PlacedRun, crossing: Crossing, side: 'from' | 'to') => number[]): Command[] => context.runs.flatMap(({ placed }, i): Command[] => {
    const side = isOn(placed, id), crossing = side === null ? undefined : firstCrossing(context, i, side)
    if (side === null || crossing === undefined) return []
    const points = upTo(placed, crossing, side)
    return points.length === 0 ? [] : [{ do: 'shift-waypoints', run: placed.run.id, points, by: [0, 0, by[2]] }]
  })
  // the end and the point after it have come along with the terminal already
  const inner = ({ run: { waypoints } }: PlacedRun, side: 'from' | 'to'): number[] => waypoints.flatMap((_, i) => i === 0 || i === waypoints.length - 1 || i === (side === 'from' ? 1 : waypoints.length - 2) ? [] : [i])
  return [up, [...up, ...shifts((placed, { stationMm }, side) => inner(placed, side).filter((i) => {
    const [x, y, z] = placed.run.waypoints[side === 'from' ? i - 1 : i + 1].at
    const beforeMm = stationNear(placed.centreline, x, y, z)
    return side === 'from' ? beforeMm <= stationMm : beforeMm >= stationMm
  }))], [...up, ...shifts((placed, _, side) => inner(placed, side))]]
}

function isOn({ from, to }: PlacedRun, equipmentId: string): 'from' | 'to' | null {
  return 'spigot' in from && from.equipment.id === equipmentId ? 'from' : 'spigot' in to && to.equipment.id === equipmentId ? 'to' : null
}

function firstCrossing(context: CheckContext, runIndex: number, side: 'from' | 'to'): Crossing | undefined {
  const crossings = crossingsOf(context, runIndex).filter(({ opening, hole }) => opening !== null || hole !== null)
  return side === 'from' ? crossings[0] : crossings.at(-1)
}

function gateOf(now: CheckContext, tried: CheckContext, runIndex: number, equipmentId: string): Pick<RunOnPackers, 'gate' | 'spareNowMm' | 'spareMm'> {
  const side = isOn(now.runs[runIndex].placed, equipmentId)!
  const before = firstCrossing(now, runIndex, side), after = firstCrossing(tried, runIndex, side)
  const at = after ?? before
  const gate = at === undefined ? null : `${now.assembly.joists[at.joistIndex].name}, ${at.opening === null ? `hole ${at.hole}` : `opening ${at.opening}`}`
  return { gate, spareNowMm: before?.spareMm ?? null, spareMm: after?.spareMm ?? null }
}

function faultsOf(context: CheckContext, runIndex: number): Finding[] {
  return checkRun(context, runIndex).filter(({ severity }) => severity !== 'advice')
}
