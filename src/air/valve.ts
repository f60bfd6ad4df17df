/**
 * A terminal's valve from its entered characteristic: at each setting, drop = k q². Between settings log k lies on a straight
 * line; beyond the first and last nothing is known. k in Pa per (l/s)², for air of 1.2 kg/m³.
 */
import type { Equipment } from '#model/index.ts'
import { RATED_DENSITY } from './density.ts'

export interface Valve {
  /** from the most open setting to the most closed */
  readonly rows: readonly { readonly setting: number, readonly k: number }[]
  readonly unit: string
}

/** @returns null when nothing has been entered */
export function valveOf({ airflow }: Equipment): Valve | null {
  if (airflow?.settings === undefined) return null
  const rows = airflow.settings.map(({ setting, flowLps, dropPa }) => ({ setting, k: dropPa / (flowLps * flowLps) })).sort((a, b) => a.k - b.k)
  return { rows, unit: airflow.settingUnit ?? '' }
}

/** Pa over a valve of that k. */
export function valveDropPa(k: number, lps: number, density: number): number {
  return k * lps * lps * density / RATED_DENSITY
}

export type SettingAnswer =
  | { readonly ok: true, readonly setting: number }
  /** wanted more open or more closed than any setting entered: the end of the list is the nearest */
  | { readonly ok: false, readonly why: 'too open' | 'too closed', readonly setting: number }

/** A share by which a k may miss a row's and still be the row: rounding, not a wish. */
const ROUNDING = 1e-9

/** The setting at which the valve has that k. */
export function settingFor({ rows }: Valve, k: number): SettingAnswer {
  const first = rows[0], last = rows[rows.length - 1]
  const same = rows.find((row) => Math.abs(k / row.k - 1) <= ROUNDING)
  if (same !== undefined) return { ok: true, setting: same.setting }
  if (k < first.k) return { ok: false, why: 'too open', setting: first.setting }
  if (k > last.k) return { ok: false, why: 'too closed', setting: last.setting }
  const i = rows.findIndex((row) => row.k > k)
  const a = rows[i - 1], b = rows[i]
  const share = Math.log(k / a.k) / Math.log(b.k / a.k)
  return { ok: true, setting: a.setting + share * (b.setting - a.setting) }
}

/** k at a setting, held at the ends of what was entered. */
export function kAt({ rows }: Valve, setting: number): number {
  const bySetting = rows.toSorted((a, b) => a.setting - b.setting)
  if (setting <= bySetting[0].setting) return bySetting[0].k
  for (let i = 1; i < bySetting.length; i++) {
    const a = bySetting[i - 1], b = bySetting[i]
    if (setting <= b.setting) return a.k * (b.k / a.k) ** ((setting - a.setting) / (b.setting - a.setting))
  }
  return bySetting[bySetting.length - 1].k
}
