/** The door of this folder: all that is known of a job's air. */
import { airAt, type Air } from './density.ts'
import type { Assembly } from '#assembly/assembly.ts'
import type { AirSettings, Equipment, FanSpeed } from '#model/index.ts'
import { usualAir } from '#model/index.ts'
import { settingsOf, type TerminalSetting } from './balance.ts'
import { cautionsFor, type Caution } from './cautions.ts'
import { roundReports, targetOf, type RoundReport } from './commissioning.ts'
import { TRICKLE_SHARE as TRICKLE, fanSpeedFor, type FanAnswer } from './fans.ts'
import { lacksOf } from './lacks.ts'
import { USUAL_ROUGHNESS, partDropPa } from './losses.ts'
import { tooFast } from './noise.ts'
import { placementOf } from './placement.ts'
import { systemPressure, type SystemPressure } from './pressure.ts'
import { ratesOf, type Rates } from './rates.ts'
import { bySeverity, remark, type Remark } from './remark.ts'
import { sourceWords } from './sources.ts'
import { boresAt, systemsOf, type AirSystem } from './systems.ts'

/** What one fan must do at one speed. */
export interface FanDuty {
  readonly unit: Equipment
  readonly fan: 'supply' | 'extract'
  readonly lps: number
  /** rooms' side and outdoors' side, and what is entered for the unit itself, Pa */
  readonly roomsPa: number
  readonly outdoorsPa: number
  readonly unitPa: number
  readonly neededPa: number
  /** null when no curve is entered */
  readonly answer: FanAnswer | null
}

export interface SpeedReport {
  readonly speed: FanSpeed
  readonly pressures: readonly SystemPressure[]
  readonly fans: readonly FanDuty[]
}

export interface AirReport {
  readonly settings: AirSettings
  readonly air: Air
  readonly rates: Rates
  /** the same as normal where no trickle rate is entered */
  readonly trickle: SpeedReport
  readonly normal: SpeedReport
  readonly boost: SpeedReport
  /** where each valve stands, for normal running */
  readonly valves: readonly TerminalSetting[]
  readonly remarks: readonly Remark[]
  readonly cautions: readonly Caution[]
  readonly rounds: readonly RoundReport[]
}

export function airOfJob(assembly: Assembly): AirReport {
  const { job } = assembly
  const settings = job.air ?? usualAir()
  const air = airAt(settings.airC, settings.altitudeM)
  const bores = boresAt(assembly)
  const ductAreaMm2 = (id: string) => bores.get(id) ?? 0
  const rates = ratesOf(job, ductAreaMm2)
  const { systems, unused } = systemsOf(assembly)
  const normal = speedReport('normal', systems, rates, settings, air), boost = speedReport('boost', systems, rates, settings, air)
  const trickle = rates.isTrickleEntered ? speedReport('trickle', systems, rates, settings, air) : { ...normal, speed: 'trickle' as const }
  const valves = normal.pressures.flatMap((pressure) => pressure.system.stream === 'supply' || pressure.system.stream === 'extract' ? settingsOf(pressure, air.density) : [])

  const remarks = [...lacksOf(rates, ductAreaMm2), ...placementOf(assembly, settings)]
  const joined = new Set(systems.flatMap(({ nodes }) => nodes.map(({ equipment }) => equipment?.id)))
  for (const { equipment } of rates.terminals) if (!joined.has(equipment.id)) remarks.push(remark('unconnected', 'mend', [equipment], 'no run that carries its air ends at it'))
  for (const { runs, why } of unused) remarks.push(remark(why, 'mend', runs.map(({ run }) => run), 'without this no pressure can be worked out'))
  remarks.push(...tooFast(boost.pressures, settings, new Map(job.rooms.map((room) => [room.id, room]))))
  remarks.push(...speedRemarks(normal, boost), ...valveRemarks(valves), ...trickleRemarks(trickle, rates))
  return { settings, air, rates, trickle, normal, boost, valves, remarks: remarks.sort(bySeverity), cautions: cautionsFor(job), rounds: roundReports(job, rates) }
}

export function speedReport(speed: FanSpeed, systems: readonly AirSystem[], rates: Rates, settings: AirSettings, air: Air): SpeedReport {
  const lpsOf = new Map<string, number>(rates.terminals.map((terminal) => [terminal.equipment.id, targetOf(terminal, speed)]))
  const pressureOf = (system: AirSystem, throughLps: number) => systemPressure(system, (id) => lpsOf.get(id) ?? 0, throughLps, air, settings.bends)
  const inside = systems.filter(({ stream }) => stream === 'supply' || stream === 'extract').map((system) => pressureOf(system, 0))
  const carriedBy = (unit: Equipment | null, stream: string) => inside.reduce((sum, { system, totalLps }) => system.unit === unit && system.stream === stream ? sum + totalLps : sum, 0)
  const outside = systems.filter(({ stream, unit }) => unit !== null && (stream === 'intake' || stream === 'exhaust'))
    .map((system) => pressureOf(system, carriedBy(system.unit, system.stream === 'intake' ? 'supply' : 'extract')))
  const pressures = [...inside, ...outside]
  const units = new Set(pressures.flatMap(({ system }) => system.unit ?? []))
  const fans = [...units].flatMap((unit) => (['supply', 'extract'] as const).map((fan) => dutyOf(unit, fan, pressures, air)))
  return { speed, pressures, fans }
}

function dutyOf(unit: Equipment, fan: 'supply' | 'extract', pressures: readonly SystemPressure[], air: Air): FanDuty {
  const own = (stream: string) => pressures.filter(({ system }) => system.unit === unit && system.stream === stream)
  const most = (all: readonly SystemPressure[]) => Math.max(0, ...all.map(({ neededPa }) => neededPa))
  const lps = own(fan).reduce((sum, { totalLps }) => sum + totalLps, 0)
  const roomsPa = most(own(fan)), outdoorsPa = most(own(fan === 'supply' ? 'intake' : 'exhaust'))
  const unitPa = (unit.airflow?.losses ?? []).reduce((sum, part) => sum + partDropPa(part, lps, air.density), 0)
  const neededPa = roomsPa + outdoorsPa + unitPa
  const curve = fan === 'extract' ? unit.airflow?.extractFan ?? unit.airflow?.fan : unit.airflow?.fan
  return { unit, fan, lps, roomsPa, outdoorsPa, unitPa, neededPa, answer: curve === undefined ? null : fanSpeedFor(curve, lps, neededPa, air.density) }
}

function speedRemarks(normal: SpeedReport, boost: SpeedReport): Remark[] {
  const remarks: Remark[] = []
  for (const { unit, fan, lps, neededPa, answer } of boost.fans) {
    if (answer !== null && !answer.ok) {
      remarks.push({ ...remark('fan-too-weak', 'mend', [unit], `${fan} fan in boost, at ${lps.toFixed(1)} l/s, on the curve entered`, { unit: 'Pa', measured: answer.availablePa ?? 0, required: neededPa }), id: `fan-too-weak:${unit.id}:${fan}` })
    }
  }
  normal.pressures.forEach(({ system, settled }, i) => {
    if (!settled || !boost.pressures[i].settled) remarks.push(remark('not-settled', 'mend', system.runs.map(({ placed }) => placed.run), 'the flows did not settle'))
  })
  // the same terminal in several systems or speeds is said once
  const assumed = new Map(normal.pressures.flatMap(({ terminals }) => terminals.flatMap(({ equipment, isEntered }) => equipment === null || isEntered ? [] : [[equipment.id, equipment] as const])))
  if (assumed.size > 0) remarks.push({ ...remark('terminal-assumed', 'advice', [...assumed.values()], '3 velocity pressures of its duct, as for a grille of free-area ratio 0.7 in an engineering reference table'), id: 'terminal-assumed' })
  return [...remarks, ...roughnessRemarks(normal)]
}

function roughnessRemarks({ pressures }: SpeedReport): Remark[] {
  const types = new Map(pressures.flatMap(({ runs }) => runs.flatMap(({ run: { placed: { type } } }) => type.roughnessMm === undefined ? [[type.id as string, type] as const] : [])))
  return (['rigid', 'semi-rigid'] as const).flatMap((kind): Remark[] => {
    const own = [...types.values()].filter((type) => type.kind === kind), { mm, source } = USUAL_ROUGHNESS[kind]
    return own.length === 0 ? [] : [{ ...remark('roughness-assumed', 'advice', own, `${mm} mm is taken (${sourceWords(source)})`, { unit: 'mm', measured: mm }), id: `roughness-assumed:${kind}` }]
  })
}

function valveRemarks(valves: readonly TerminalSetting[]): Remark[] {
  const remarks: Remark[] = []
  for (const { equipment, answer, dropPa } of valves) {
    if (answer === null || answer.ok) continue
    remarks.push(remark(answer.why === 'too open' ? 'cannot-open-enough' : 'cannot-close-enough', 'mend', [equipment], 'its entered characteristic', { unit: 'Pa', measured: dropPa }))
  }
  return remarks
}

function trickleRemarks({ fans }: SpeedReport, { isTrickleEntered, trickle, tableLps, table }: Rates): Remark[] {
  const remarks: Remark[] = []
  const lps = Math.max(trickle.supplyLps, trickle.extractLps)
  if (isTrickleEntered && lps < tableLps * (1 - 1e-6)) remarks.push(remark('trickle-below-table', 'advice', [], sourceWords(table.whole.source), { unit: 'l/s', measured: lps, required: tableLps }))
  const whichSpeed = isTrickleEntered ? 'at the trickle rate entered' : 'in normal running, since no trickle rate is entered'
  for (const { unit, fan, answer } of fans) {
    if (answer?.ok !== true || answer.speedRatio >= TRICKLE.least && answer.speedRatio <= TRICKLE.most) continue
    remarks.push({ ...remark('trickle-share', 'advice', [unit], `${fan} fan, ${whichSpeed}; common practice`, { unit: '%', measured: answer.speedRatio * 100 }), id: `trickle-share:${unit.id}:${fan}` })
  }
  return remarks
}
