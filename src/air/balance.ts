/** Where each valve must stand so that every terminal gets its share, and which to turn next when the meter says otherwise. */
import type { Equipment } from '#model/index.ts'
import { RATED_DENSITY } from './density.ts'
import type { SystemPressure } from './pressure.ts'
import { settingFor, valveOf, type SettingAnswer } from './valve.ts'

/** Openness of a valve of which nothing is known, before balancing: between half and three-quarters, common practice. */
export const START_OPEN = { least: 0.5, most: 0.75 } as const

export interface TerminalSetting {
  readonly equipment: Equipment
  readonly lps: number
  /** the costliest way: it stays as far open as it goes */
  readonly isIndex: boolean
  /** what its valve must take up, Pa */
  readonly dropPa: number
  /** how much of that is more than it takes fully open, Pa: with every valve open it is this far from its share */
  readonly sparePa: number
  /** from its characteristic; null when none is entered or it carries nothing */
  readonly answer: SettingAnswer | null
  readonly unit: string
  /** share open to start with, where there is no characteristic */
  readonly startOpenShare: number | null
}

/** Settings for the flows that the system was worked out for. */
export function settingsOf({ terminals, index, neededPa }: SystemPressure, density: number): TerminalSetting[] {
  const spares = terminals.map(({ totalPa, lps }) => lps > 0 ? neededPa - totalPa : 0)
  const most = Math.max(...spares, 0)
  return terminals.flatMap((terminal, i): TerminalSetting[] => {
    const { equipment, lps, openPa } = terminal
    if (equipment === null || !(lps > 0)) return []
    const dropPa = openPa + spares[i]
    const valve = valveOf(equipment)
    const k = dropPa / (lps * lps) * RATED_DENSITY / density
    return [{
      equipment, lps, dropPa, sparePa: spares[i], isIndex: terminal === index,
      answer: valve === null ? null : settingFor(valve, k), unit: valve?.unit ?? '',
      startOpenShare: valve === null ? START_OPEN.most - (START_OPEN.most - START_OPEN.least) * (most > 0 ? spares[i] / most : 0) : null,
    }]
  })
}

/** In the order in which valves are set before anything is read: the one that all open would be furthest from its share first, the index last. */
export function adjustingOrder(settings: readonly TerminalSetting[]): TerminalSetting[] {
  return settings.toSorted((a, b) => b.sparePa - a.sparePa || (a.equipment.id < b.equipment.id ? -1 : 1))
}

export interface Target { readonly id: string, readonly lps: number }

export interface Turn {
  readonly id: string
  /** its reading over what it should show now: 1 when it has its share */
  readonly shareRatio: number
  readonly way: 'open' | 'close' | 'leave'
  /** what the meter should show when it is turned now, fan as it is, l/s */
  readonly aimLps: number
}

export interface Turns {
  /** furthest from its share first */
  readonly turns: readonly Turn[]
  /** reading in all over target in all; null when nothing was read */
  readonly totalRatio: number | null
}

/**
 * Proportional balancing: the terminals are brought to the same share of their targets first, whatever the fan gives, and the
 * fan to the whole afterwards. Next is always the one furthest from its share. Only terminals with a target and a reading take part.
 * A terminal that is open as far as it goes and still has less than its share cannot be helped by its own valve: then the others
 * are brought down to it, and the fan makes up for it (Approved Document F volume 1, 2021, 4.8: index terminal fully open, trim the others).
 * @param within how far from its share one is left alone, as a share
 * @param fullyOpen ids of terminals that cannot be opened further
 */
export function turnsFor(targets: readonly Target[], readLps: ReadonlyMap<string, number>, within: number, fullyOpen: ReadonlySet<string> = new Set()): Turns {
  const read = targets.filter(({ id, lps }) => lps > 0 && readLps.has(id))
  const target = read.reduce((sum, { lps }) => sum + lps, 0), got = read.reduce((sum, { id }) => sum + readLps.get(id)!, 0)
  if (!(target > 0) || !(got > 0)) return { turns: [], totalRatio: null }
  const totalRatio = got / target
  const stuck = read.filter(({ id }) => fullyOpen.has(id) && readLps.get(id)! > 0).map(({ id, lps }) => readLps.get(id)! / lps)
  const aimRatio = Math.min(totalRatio, ...stuck)
  const turns = read.map(({ id, lps }): Turn => {
    const shareRatio = readLps.get(id)! / lps / aimRatio
    return { id, shareRatio, way: Math.abs(shareRatio - 1) <= within ? 'leave' : shareRatio > 1 ? 'close' : 'open', aimLps: lps * aimRatio }
  }).sort((a, b) => Math.abs(Math.log(b.shareRatio || 1e-9)) - Math.abs(Math.log(a.shareRatio || 1e-9)) || (a.id < b.id ? -1 : 1))
  return { turns, totalRatio }
}
