/** The sentences that the air's data becomes: plain words with units, for console, screen and paper alike. */
import type { FanDuty } from './index.ts'
import type { TerminalSetting } from './balance.ts'
import type { Turn } from './balance.ts'
import { LEVELS, NO_LEVEL } from './noise.ts'
import { wholeRateLps } from './rateTables.ts'
import type { FlowFrom, Rates } from './rates.ts'
import type { Remark, RemarkSeverity } from './remark.ts'
import { sourceWords } from './sources.ts'

export const SEVERITY_WORDS: Readonly<Record<RemarkSeverity, string>> = { mend: 'To put right', advice: 'Worth a look' }
export const FROM_WORDS: Readonly<Record<FlowFrom, string>> = { table: 'table', entered: 'entered by hand', assumed: 'assumed' }

export function lps(value: number): string {
  return `${value.toFixed(1)} l/s`
}
export function pa(value: number): string {
  return `${value.toFixed(1)} Pa`
}
export function percent(ratio: number): string {
  return `${(ratio * 100).toFixed(0)} %`
}

/** What was asked for and by whom, and what the user put in its place. */
export function ratesWords(rates: Rates): string[] {
  const { table, dwelling, dwellingFrom, tableLps, wholeLps, isWholeEntered, decidedBy, normal, boost } = rates
  const assumed = (from: FlowFrom) => from === 'entered' ? '' : ' (the rooms of this job)'
  const decided = decidedBy === 'both' ? 'floor area and bedrooms' : decidedBy
  return [
    `Rates: ${sourceWords(table.whole.source)} (${table.country}).`,
    `Dwelling: ${dwelling.floorAreaM2.toFixed(1)} m²${assumed(dwellingFrom.floorArea)}, bedrooms ${dwelling.bedrooms}${assumed(dwellingFrom.bedrooms)}, habitable rooms ${dwelling.habitableRooms}${assumed(dwellingFrom.habitableRooms)}.`,
    `Whole dwelling by the table: ${lps(tableLps)}, decided by ${decided}.`,
    ...(isWholeEntered ? [`ENTERED BY HAND in its place: ${lps(wholeLps)}.`] : []),
    `Extract: ${sourceWords(table.extract.source)}. Supply: ${sourceWords(table.supply.source)}.`,
    ...(rates.isTrickleEntered ? [`Trickle, entered by hand: supply ${lps(rates.trickle.supplyLps)}, extract ${lps(rates.trickle.extractLps)}.`] : ['Trickle: no rate of its own is entered, so it is normal running.']),
    `Normal: supply ${lps(normal.supplyLps)}, extract ${lps(normal.extractLps)}. Boost: supply ${lps(boost.supplyLps)}, extract ${lps(boost.extractLps)}.`,
  ]
}

/** The whole-dwelling rule put to this dwelling, one line for each part of it. */
export function ruleWords({ table, dwelling }: Rates): string[] {
  const { floorAreaM2, bedrooms, habitableRooms } = dwelling, { rule } = table.whole
  const rooms = `${bedrooms} bedroom${bedrooms === 1 ? '' : 's'}`
  switch (rule.kind) {
    case 'larger': return [
      `${rule.perM2Lps} l/s for each m²: ${floorAreaM2.toFixed(1)} m² ask ${lps(rule.perM2Lps * floorAreaM2)}`,
      habitableRooms <= 1 ? `one habitable room asks ${lps(rule.oneHabitableRoomLps)}` : `${rooms} ask ${lps(wholeRateLps(table, { ...dwelling, floorAreaM2: 0 }).lps)}`,
      'the larger of the two counts',
    ]
    case 'sum': return [`${rule.perM2Lps} l/s for each m², ${lps(rule.perM2Lps * floorAreaM2)}, and ${rule.perPersonLps} l/s for each bedroom and one more`]
    case 'grid': return [`the table’s row for ${floorAreaM2.toFixed(1)} m², its column for ${rooms}`]
  }
}

/** each kind of remark in a few words */
export const TITLES: Readonly<Record<Remark['code'], string>> = {
  'no-supply': 'No supply', 'no-extract': 'No extract', 'below-table': 'Less air than the table asks', 'room-below-table': 'Less extract than the table asks',
  'unbalanced': 'Supply and extract differ', 'over-limit': 'More than the terminals may carry', 'undercut-small': 'Too little gap under the doors',
  'free-area-small': 'Terminal narrower than its duct', 'unconnected': 'Terminal without a duct', 'mixed-air': 'Two airs in one system', 'air-unknown': 'Air not named', 'no-start': 'Runs without a unit or manifold',
  'not-settled': 'Flows not found', 'fan-too-weak': 'Fan too weak', 'cannot-open-enough': 'Valve cannot open enough', 'cannot-close-enough': 'Valve cannot close enough',
  'hood-no-room': 'No room for the meter’s hood', 'extract-too-low': 'Extract too low', 'too-fast': 'Air too fast to be quiet', 'trickle-share': 'Fan away from its usual share',
  'undercut-unknown': 'Gaps under doors not entered', 'rate-assumed': 'Rate assumed', 'supply-not-asked': 'Supply that is not asked for',
  'terminal-assumed': 'Terminal losses assumed', 'roughness-assumed': 'Roughness of ducts assumed', 'near-the-door': 'Supply near the door', 'intake-near': 'Close to the intake',
  'in-corner': 'Supply in a corner', 'intake-low': 'Intake low down', 'trickle-below-table': 'Trickle below the table’s rate',
}

export function titleOf({ code, parts }: Remark): string {
  return parts.length === 0 ? TITLES[code] : `${TITLES[code]}: ${parts.length > 4 ? `${parts.length} places` : listed(parts.map(({ name }) => name))}`
}

export function sentenceOf(remark: Remark): string {
  const { code, parts, measured = 0, required = 0, unit, why } = remark
  const names = parts.map(({ name }) => name)
  const [first = '', second = ''] = names
  const found = figure(measured, unit), wanted = figure(required, unit)
  switch (code) {
    case 'no-supply': return `${first} is a habitable room and no supply terminal is in it (${why}).`
    case 'no-extract': return `${first} needs extract, ${wanted} at the high rate, and no extract terminal is in it (${why}).`
    case 'below-table': return `The terminals carry ${found} in normal running; ${wanted} is asked for the whole dwelling (${why}).`
    case 'room-below-table': return `${first} gets ${found} of extract in boost; ${wanted} is asked (${why}).`
    case 'unbalanced': return `Supply is ${found} and extract ${wanted}: ${why}.`
    case 'over-limit': return `${first} is to have ${wanted} but gets ${found}: ${why}. It needs another terminal or a larger one.`
    case 'free-area-small': return `${first} has a free area of ${found}; at least ${wanted} is asked for its ducts (${why}).`
    case 'undercut-small': return `${first} has ${found} for air to pass to and from it; ${wanted} is asked (${why}).`
    case 'undercut-unknown': return `The gaps under the doors of ${listed(names)} are not entered; ${wanted} free area is asked for each room (${why}).`
    case 'unconnected': return `${first} gets no air: ${why}.`
    case 'mixed-air': return `${listed(names)} join equipment that carries different airs; ${why}.`
    case 'air-unknown': return `Nothing at the ends of ${listed(names)} says which air they carry; ${why}.`
    case 'no-start': return `${listed(names)} meet neither a unit nor a manifold; ${why}.`
    case 'not-settled': return `The flows in ${listed(names)} could not be worked out to the last digits; their figures are not to be relied on.`
    case 'fan-too-weak': return `${first} must give ${wanted} and has ${found === '0.0 Pa' ? 'nothing left at that flow' : found} at full speed (${why}).`
    case 'cannot-open-enough': return `${first} should take up ${found} to get its share, less than it does fully open (${why}).`
    case 'cannot-close-enough': return `${first} should take up ${found} to get its share, more than it does at its most closed setting (${why}).`
    case 'hood-no-room': return `The middle of ${first} is ${found} from a wall of ${second}; ${wanted} is needed (${why}).`
    case 'extract-too-low': return `The underside of ${first} is ${found} below the ceiling of ${second}; at most ${wanted} is allowed (${why}).`
    case 'too-fast': return `In ${first} the air goes at ${found} in boost; ${wanted} is ${why}.`
    case 'trickle-share': return `At trickle ${first} turns at ${found} of full speed; between 40 and 60 % is usual for trickle (${why}).`
    case 'trickle-below-table': return `At trickle the terminals carry ${found}; the table asks ${wanted} of the dwelling without a break (${why}).`
    case 'in-corner': return `${first} is within ${found} of both walls of a corner of ${second}: at least ${wanted} from one of them is asked (${why}).`
    case 'intake-low': return `The underside of ${first} is ${found} above the lowest floor; at least ${wanted} is asked (${why}).`
    case 'rate-assumed': return `${first} has an extract terminal: ${found} is taken for it (${why}). Enter the flow wanted.`
    case 'supply-not-asked': return `${first} has a supply terminal though it is no habitable room; it takes a share by its volume (${why}).`
    case 'terminal-assumed': return `The losses of ${parts.length} terminals and hoods are not entered; each is taken as ${why}. Enter their makers’ figures before relying on a pressure.`
    case 'roughness-assumed': return `How rough the bore of ${listed(names)} is has not been entered; ${why}.`
    case 'near-the-door': return `${first} is ${found} from the door of ${second}, where ${wanted} can be had (${why}).`
    case 'intake-near': return `${second} is ${found} from ${first}: its outlet should open at least ${wanted} from it (${why}).`
  }
}

export function fanWords({ fan, unit, lps: flow, roomsPa, outdoorsPa, unitPa, neededPa, answer }: FanDuty): string {
  const sum = `${unit.name}, ${fan} fan: ${lps(flow)} against ${pa(neededPa)} (rooms’ side ${pa(roomsPa)}, outdoors’ side ${pa(outdoorsPa)}, entered for the unit ${pa(unitPa)})`
  if (answer === null) return `${sum}; no fan curve entered.`
  return answer.ok ? `${sum}; ${percent(answer.speedRatio)} of full speed.` : `${sum}; more than it has at full speed.`
}

export function settingWords({ answer, unit, startOpenShare, isIndex, dropPa }: TerminalSetting): string {
  const role = isIndex ? 'the index, which stays the most open: ' : ''
  if (answer !== null) {
    const at = `${answer.setting.toFixed(1)}${unit === '' ? '' : ` ${unit}`}`
    return `${role}set to ${at}${answer.ok ? '' : answer.why === 'too open' ? ', which is still too closed' : ', which is still too open'} (${pa(dropPa)} over it)`
  }
  return `${role}start ${percent(startOpenShare ?? 0)} open (no characteristic entered; between half and three-quarters is common practice)`
}

export function turnWords({ way, shareRatio, aimLps }: Turn, name: string): string {
  const off = percent(Math.abs(shareRatio - 1))
  if (way === 'leave') return `${name} has its share.`
  return `${name} has ${off} ${shareRatio > 1 ? 'more' : 'less'} than its share: ${way} it until the meter shows ${lps(aimLps)}.`
}

/** The same where its name and the figure stand beside it. */
export function turnReason({ way, shareRatio }: Turn): string {
  if (way === 'leave') return 'It has its share.'
  return `${way === 'open' ? 'Open' : 'Close'} it: it has ${percent(Math.abs(shareRatio - 1))} ${shareRatio > 1 ? 'more' : 'less'} than its share.`
}

/** Said on every sheet. */
export const TOLERANCE_NOTE = 'Approved Document F (2021) asks for a meter accurate to 5 % and names no tolerance on the flows; the tolerance used is the user’s own.'
export const LEVEL_NOTE = `${NO_LEVEL} Commonly asked: ${LEVELS.quietDb} dB(A) in bedrooms and living rooms, ${LEVELS.wetDb} dB(A) in kitchens and bathrooms (${sourceWords(LEVELS.source)}).`

function figure(value: number, unit: Remark['unit']): string {
  switch (unit) {
    case undefined: return String(value)
    case 'mm': case 'mm²': return `${Math.round(value).toLocaleString('en-GB')} ${unit}`
    case '%': return `${value.toFixed(0)} %`
    case 'm/s': return `${value.toFixed(2)} m/s`
    default: return `${value.toFixed(1)} ${unit}`
  }
}

function listed(names: readonly string[]): string {
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`
}
