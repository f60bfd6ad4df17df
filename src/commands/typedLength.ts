/**
 * Lengths as people type them: `1245`, `1.245 m`, `124.5 cm`, `4' 1 1/2"`. Millimetres where no unit is given. What could
 * be read two ways is refused with both readings, never guessed: a void is built from these numbers.
 */
import { FARTHEST_MM } from '#model/basics.ts'

export type TypedLength = { readonly ok: true, readonly mm: number } | { readonly ok: false, readonly why: string }

/** international foot and inch, exact since 1959 */
const INCH_MM = 25.4
const INCHES_PER_FOOT = 12
const LONGEST_TEXT = 60
const UNITS: readonly (readonly [names: string, mm: number])[] = [['mm|millimetres?|millimeters?', 1], ['cm|centimetres?|centimeters?', 10], ['m|metres?|meters?', 1000]]
const VULGAR: Readonly<Record<string, string>> = {
  '½': '1/2', '¼': '1/4', '¾': '3/4', '⅛': '1/8', '⅜': '3/8', '⅝': '5/8', '⅞': '7/8', '⅓': '1/3', '⅔': '2/3', '⅕': '1/5', '⅙': '1/6',
}
/** parts of an inch that a rule is marked in */
const DENOMINATORS: ReadonlySet<number> = new Set([2, 4, 8, 16, 32, 64])

/** @param options `negative`: whether a length below 0 makes sense here, such as a first node before the datum end */
export function parseLength(text: string, { negative = false }: { readonly negative?: boolean } = {}): TypedLength {
  const plain = plainText(text)
  if (plain === '') return no('type a length, such as 1245, 1.245 m or 4\' 1"')
  if (plain.length > LONGEST_TEXT) return no('that is too long to be a length')
  const isBelow = plain.startsWith('-')
  const body = plain.replace(/^[+-]\s*/, '')
  const read = /['"/]|ft|feet|foot|in/.test(body) ? readFeet(body) : readMetric(body)
  if (!read.ok) return read
  // a millionth of a millimetre takes off what 1.1 * 1000 adds
  const mm = Math.round(read.mm * 1e6) / 1e6
  if (mm > FARTHEST_MM) return no('that is more than a kilometre')
  if (isBelow && mm > 0 && !negative) return no('a length below 0 makes no sense here')
  return { ok: true, mm: isBelow && mm > 0 ? -mm : mm }
}

/** Millimetres to the tenth, with the unit: `1245 mm`, `-12.5 mm`. Reads back as the same. */
export function formatLength(mm: number): string {
  const tenths = Math.round(mm * 10) / 10
  return `${Object.is(tenths, -0) ? 0 : tenths} mm`
}

function no(why: string): TypedLength {
  return { ok: false, why }
}

/** Primes, minus signs, spaces and fractions of every kind as the plain ones. */
function plainText(text: string): string {
  return text.trim().toLowerCase()
    .replace(/[½¼¾⅛⅜⅝⅞⅓⅔⅕⅙]/g, sign => ` ${VULGAR[sign]}`)
    .replace(/[\u2044\u2215]/g, '/')
    .replace(/[\u2032\u2019\u2018\u02b9\u00b4`]/g, "'")
    .replace(/[\u2033\u201d\u201c\u02ba]|''/g, '"')
    .replace(/[\u2212\u2010-\u2014]/g, '-')
    .replace(/\s+/g, ' ').trim()
}

const METRIC = new RegExp(`^([\\d., ]*\\d[.,]?) ?(${UNITS.map(([names]) => names).join('|')})?$`)

function readMetric(body: string): TypedLength {
  const parts = METRIC.exec(body)
  if (parts === null) {
    if (/\d\s*[-+*x×]\s*\d/.test(body)) return no('sums are not worked out here: type the length itself')
    return no(`${quoted(body)} is no length: type millimetres, or a unit after the number, such as 1.245 m`)
  }
  const [, number, unit] = parts
  const unitMm = unit === undefined ? 1 : UNITS.find(([names]) => new RegExp(`^(?:${names})$`).test(unit))![1]
  const value = readNumber(number.trim(), unit, unitMm)
  return typeof value === 'string' ? no(value) : { ok: true, mm: value * unitMm }
}

/** The number, or why it cannot be told. */
function readNumber(text: string, unit: string | undefined, unitMm: number): number | string {
  const given = unit === undefined ? text : `${text} ${unit}`
  if (/ /.test(text)) {
    if (!/^\d{1,3}(?: \d{3})+(?:[.,]\d+)?$/.test(text)) return `${quoted(given)} is more than one number`
    return readNumber(text.replaceAll(' ', ''), unit, unitMm)
  }
  if (/^\d+$/.test(text)) return Number(text)
  // one mark with three digits after it stands between thousands, or before decimals
  const three = /^([1-9]\d{0,2})([.,])(\d{3})$/.exec(text)
  if (three !== null) {
    const [, front, mark, back] = three
    // 1,245 of millimetres, or of metres with a decimal comma: 1245 mm both ways
    if (mark === ',' && unitMm === 1) return Number(front + back)
    if (mark === ',' || unitMm < 1000) return `${quoted(given)} can be read two ways: type ${front}${back} ${unit ?? 'mm'}, or ${front}.${back} ${mark === ',' && unit !== undefined ? unit : 'm'}`
  }
  if (/^\d*[.,]\d+$/.test(text)) return Number(text.replace(',', '.'))
  if (/^\d{1,3}(?:,\d{3})+(?:\.\d+)?$/.test(text)) return Number(text.replaceAll(',', ''))
  if (/^\d{1,3}(?:\.\d{3})+(?:,\d+)?$/.test(text)) return Number(text.replaceAll('.', '').replace(',', '.'))
  return `${quoted(given)} is no number that can be read`
}

const FEET = /^(\d+(?:\.\d+)?) ?(?:'|feet|foot|ft\.?)(?: ?-? ?(\S.*))?$/
const INCHES = /^(?:(\d+(?:\.\d+)?)|(?:(\d+)[ -])?(\d{1,3})\/(\d{1,3})) ?("|inches|inch|in\.?)?$/

function readFeet(body: string): TypedLength {
  const feet = FEET.exec(body)
  const rest = feet === null ? body : feet[2]
  if (rest === undefined) return { ok: true, mm: Number(feet![1]) * INCHES_PER_FOOT * INCH_MM }
  const parts = INCHES.exec(rest)
  if (parts === null) return no(`${quoted(body)} cannot be read as feet and inches: type them such as 4' 1 1/2"`)
  const [, whole, wholeBefore, top, bottom, mark] = parts
  if (mark === undefined) return no(feet === null ? 'a fraction needs its unit: add " for inches' : `add " after the inches: ${quoted(`${body}"`)}`)
  let inches = Number(whole ?? wholeBefore ?? 0)
  if (top !== undefined) {
    const share = Number(top) / Number(bottom)
    if (!DENOMINATORS.has(Number(bottom)) || !(share > 0 && share < 1)) return no(`${top}/${bottom} is no part of an inch on a rule: use halves, quarters, eighths, and down to 64ths`)
    inches += share
  }
  if (feet !== null) {
    if (inches >= INCHES_PER_FOOT) return no(`${quoted(body)} has 12 inches or more beside the feet`)
    if (feet[1].includes('.') && inches > 0) return no(`${quoted(body)} has part of a foot and inches besides`)
  }
  return { ok: true, mm: ((feet === null ? 0 : Number(feet[1]) * INCHES_PER_FOOT) + inches) * INCH_MM }
}

function quoted(text: string): string {
  return `“${text}”`
}
