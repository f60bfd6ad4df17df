/** Lines of a STEP file (ISO 10303-21): entities with numbers, text and references, each text written so that nothing in it can end it. */
import { shown } from '../letters.ts'

/** A reference to an entity that is in the file already. */
export interface Ref { readonly ref: number }
/** Written as it is: an enumeration, a derived value, a typed value. */
export interface Raw { readonly raw: string }
export type Value = number | string | boolean | null | Ref | Raw | readonly Value[]

export const enumeration = (word: string): Raw => ({ raw: `.${word}.` })
export const DERIVED: Raw = { raw: '*' }
/** 'IFCLABEL(...)' */
export const typed = (type: string, value: Value): Raw => ({ raw: `${type}(${write(value)})` })
export const whole = (value: number): Raw => ({ raw: String(Math.round(value)) })

export class StepFile {
  readonly #lines: string[] = []

  add(entity: string, ...values: readonly Value[]): Ref {
    const ref = this.#lines.length + 1
    this.#lines.push(`#${ref}=${entity}(${values.map(write).join(',')});`)
    return { ref }
  }

  /** @param time as in 2031-05-01T00:00:00 */
  text(schema: string, name: string, time: string): string {
    return [
      'ISO-10303-21;', 'HEADER;', `FILE_DESCRIPTION((${write('ViewDefinition [notYetAssigned]')}),'2;1');`, `FILE_NAME(${write(name)},${write(time)},(''),(''),'','Joistway','');`,
      `FILE_SCHEMA((${write(schema)}));`, 'ENDSEC;', 'DATA;', ...this.#lines, 'ENDSEC;', 'END-ISO-10303-21;', '',
    ].join('\n')
  }
}

function write(value: Value): string {
  if (value === null) return '$'
  if (typeof value === 'string') return stepText(value)
  if (typeof value === 'number') return stepReal(value)
  if (typeof value === 'boolean') return value ? '.T.' : '.F.'
  if ('ref' in value) return `#${value.ref}`
  if ('raw' in value) return value.raw
  return `(${value.map(write).join(',')})`
}

/** A real has a point in it: 7.3.3. To a millionth. */
export function stepReal(value: number): string {
  if (!Number.isFinite(value)) throw new Error(`stepReal: a number must be finite, got ${value}`)
  if (Math.abs(value) >= 1e15) throw new Error(`stepReal: no length is as long as ${value}`)
  const text = String(Math.round(value * 1e6) / 1e6 + 0)
  return text.includes('.') ? text : `${text}.`
}

/** Quotes and backslashes are doubled, all beyond printable ASCII becomes its code: 6.4.3. */
export function stepText(text: string): string {
  let out = ''
  for (const letter of shown(text)) {
    const code = letter.codePointAt(0)!
    if (letter === '\'' || letter === '\\') out += letter + letter
    else if (code >= 32 && code < 127) out += letter
    else out += code < 0x10000 ? `\\X2\\${hex(code, 4)}\\X0\\` : `\\X4\\${hex(code, 8)}\\X0\\`
  }
  return `'${out}'`
}

const hex = (code: number, digits: number): string => code.toString(16).toUpperCase().padStart(digits, '0')

const LETTERS = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$'

/** The 22 letters that IFC writes 128 bits as, always the same for the same words: four rounds of FNV-1a (Fowler, Noll, Vo) with other beginnings, mixed. */
export function globalId(words: string): string {
  const parts = [0x811c9dc5, 0x01000193, 0x9e3779b9, 0x85ebca6b].map((seed) => {
    let hash = seed
    for (let i = 0; i < words.length; i++) hash = Math.imul(hash ^ words.charCodeAt(i), 0x01000193)
    hash = Math.imul(hash ^ hash >>> 16, 0x7feb352d)
    hash = Math.imul(hash ^ hash >>> 15, 0x846ca68b)
    return BigInt((hash ^ hash >>> 16) >>> 0)
  })
  let bits = parts.reduce((sum, part) => sum << 32n | part, 0n), out = ''
  for (let k = 0; k < 22; k++) {
    out = LETTERS[Number(bits & 63n)] + out
    bits >>= 6n
  }
  return out
}
