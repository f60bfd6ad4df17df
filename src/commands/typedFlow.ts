/** Flows as a meter shows them: `5.2`, `5,2 l/s`, `18.7 m3/h`. */
import type { MeterUnit } from '#model/index.ts'

export type TypedFlow = { readonly ok: true, readonly lps: number } | { readonly ok: false, readonly why: string }

/** m³/h in one l/s */
export const CUBIC_METRES_PER_HOUR = 3.6
const MOST_LPS = 10_000
const FLOW = /^(\d+(?:[.,]\d*)?|[.,]\d+) ?(l\/s|lps|ls|l|m3\/h|m³\/h|m3h|m³h|m3|m³|cbm\/h)?$/

/** @param shows the unit of a number without one */
export function parseFlow(text: string, shows: MeterUnit = 'l/s'): TypedFlow {
  const plain = text.trim().toLowerCase().replace(/\s+/g, ' ')
  if (plain === '') return { ok: false, why: 'type what the meter shows, such as 5.2' }
  const parts = FLOW.exec(plain)
  if (parts === null) return { ok: false, why: `“${text.trim().slice(0, 40)}” is no flow: type a number, with m3/h after it where it is not ${unitWords(shows)}` }
  const [, number, unit] = parts
  const isCubic = unit === undefined ? shows === 'm3/h' : /^(?:m|cbm)/.test(unit)
  const value = Number(number.replace(',', '.'))
  // a ten-thousandth of a litre: what a third of 3.6 leaves over is no reading
  const lps = Math.round((isCubic ? value / CUBIC_METRES_PER_HOUR : value) * 1e4) / 1e4
  return lps > MOST_LPS ? { ok: false, why: 'that is more than 10,000 l/s' } : { ok: true, lps }
}

/** '5.2 l/s', '18.7 m³/h' */
export function formatFlow(lps: number, shows: MeterUnit = 'l/s'): string {
  return `${flowNumber(lps, shows)} ${unitWords(shows)}`
}

export function flowNumber(lps: number, shows: MeterUnit = 'l/s'): string {
  return (shows === 'm3/h' ? lps * CUBIC_METRES_PER_HOUR : lps).toFixed(1)
}

export function unitWords(shows: MeterUnit): string {
  return shows === 'm3/h' ? 'm³/h' : 'l/s'
}
