/** What the rooms and the dwelling still lack: supply, extract, air, balance, a way under the door. */
import type { Room } from '#model/index.ts'
import type { Rates } from './rates.ts'
import { remark, type Remark } from './remark.ts'
import { sourceWords } from './sources.ts'

/** What is called unequal, as a share of the larger: rounding is not */
const UNEQUAL = 1e-6
/** A terminal's free area over its ducts' bore, at least: Approved Document F volume 1, 2021, 1.76 to 1.81 */
export const FREE_AREA_SHARE = 0.9

export function lacksOf(rates: Rates, ductAreaMm2: (equipmentId: string) => number): Remark[] {
  const { table } = rates
  const remarks: Remark[] = []
  const supplyWhy = sourceWords(table.supply.source), extractWhy = sourceWords(table.extract.source)
  for (const { room, isHabitable, highLps, supply, extract } of rates.rooms) {
    if (isHabitable && supply === null) remarks.push(remark('no-supply', 'mend', [room], supplyWhy))
    if (!isHabitable && supply !== null) remarks.push(remark('supply-not-asked', 'advice', [room], supplyWhy))
    if (highLps !== null && extract === null) remarks.push(remark('no-extract', 'mend', [room], extractWhy, { unit: 'l/s', required: highLps }))
    if (extract !== null && extract.from === 'assumed') {
      remarks.push(remark('rate-assumed', 'advice', [room], `${extractWhy} has no rate for its use; its least one is taken`, { unit: 'l/s', measured: extract.boostLps }))
    }
    for (const [stream, flow] of [['supply', supply], ['extract', extract]] as const) {
      if (flow === null) continue
      const terminals = rates.terminals.filter((terminal) => terminal.room === room && terminal.stream === stream)
      const carriedLps = terminals.reduce((sum, terminal) => sum + terminal.boostLps, 0)
      if (carriedLps < flow.boostLps * (1 - UNEQUAL) && terminals.some(({ mostLps, boostLps }) => mostLps !== null && boostLps >= mostLps * (1 - UNEQUAL))) {
        remarks.push(remark('over-limit', 'mend', [room], 'its terminals may not carry more', { unit: 'l/s', measured: carriedLps, required: flow.boostLps }))
      }
      if (stream === 'extract' && highLps !== null && carriedLps < highLps * (1 - UNEQUAL)) {
        remarks.push(remark('room-below-table', 'mend', [room], extractWhy, { unit: 'l/s', measured: carriedLps, required: highLps }))
      }
    }
  }
  if (rates.terminals.length > 0) {
    const { supplyLps, extractLps } = rates.normal
    const wholeLps = Math.max(supplyLps, extractLps)
    if (wholeLps < rates.tableLps * (1 - UNEQUAL)) {
      remarks.push(remark('below-table', 'mend', [], sourceWords(table.whole.source), { unit: 'l/s', measured: wholeLps, required: rates.tableLps }))
    }
    if (supplyLps > 0 && extractLps > 0) {
      const offs = [rates.normal, rates.boost].map((totals) => Math.abs(totals.supplyLps - totals.extractLps) / Math.max(totals.supplyLps, totals.extractLps))
      const worse = offs[0] >= offs[1] ? rates.normal : rates.boost
      if (Math.max(...offs) > UNEQUAL) remarks.push(remark('unbalanced', 'mend', [], 'balanced ventilation takes out what it brings in', { unit: 'l/s', measured: worse.supplyLps, required: worse.extractLps }))
    }
  }
  for (const { equipment } of rates.terminals) {
    const freeMm2 = equipment.airflow?.freeAreaMm2, leastMm2 = FREE_AREA_SHARE * ductAreaMm2(equipment.id)
    if (freeMm2 !== undefined && freeMm2 < leastMm2) remarks.push(remark('free-area-small', 'mend', [equipment], 'Approved Document F volume 1, 2021, 1.76 to 1.81: 90 % of the duct’s', { unit: 'mm²', measured: freeMm2, required: leastMm2 }))
  }
  return [...remarks, ...transferLacks(rates)]
}

/** Air has to get from rooms that are supplied to rooms that are extracted from: under the doors. */
function transferLacks({ rooms, table }: Rates): Remark[] {
  const why = sourceWords(table.undercut.source)
  const remarks: Remark[] = [], unknown: Room[] = []
  for (const { room, supply, extract } of rooms) {
    if (supply === null && extract === null) continue
    const freeMm2 = transferMm2(room)
    if (freeMm2 === null) unknown.push(room)
    else if (freeMm2 < table.undercut.mm2) remarks.push(remark('undercut-small', 'mend', [room], why, { unit: 'mm²', measured: freeMm2, required: table.undercut.mm2 }))
  }
  if (unknown.length > 0) remarks.push({ ...remark('undercut-unknown', 'advice', unknown, why, { unit: 'mm²', required: table.undercut.mm2 }), id: 'undercut-unknown' })
  return remarks
}

/** Free area under its doors and through its grilles, mm²; null while nothing has been entered. */
export function transferMm2(room: Room): number | null {
  const gaps = room.doors.filter((door) => door.undercutMm !== undefined)
  if (gaps.length === 0 && room.airflow?.transferMm2 === undefined) return null
  return gaps.reduce((sum, door) => sum + door.undercutMm! * door.widthMm, room.airflow?.transferMm2 ?? 0)
}
