/** Names of steps, in a builder's words: 'Set first node of J12 to 140 mm'. */
import { formatLength } from './typedLength.ts'

/** keys that do not say in themselves what they hold */
const PLAIN: Readonly<Record<string, string>> = { lps: 'flow', airC: 'temperature', altitudeM: 'altitude' }

/** `firstNodeMm` -> 'first node' */
export function wordsOf(key: string): string {
  return PLAIN[key] ?? key.replace(/(?:Mm2?|M2|Deg|Diameters|Lps|Mps|Pa|Percent|DbA|Kg)$/, '').replace(/(?<=[a-z])[A-Z]/g, letter => ` ${letter.toLowerCase()}`).toLowerCase()
}

/** The name of a step that changes some of the keys of one thing. */
export function editName(thing: string, set: object): string {
  const changes = Object.entries(set).filter(([, value]) => value !== undefined)
  if (changes.length !== 1) return `Change ${thing}`
  const [key, value] = changes[0] as [string, unknown]
  if (key === 'name' && typeof value === 'string') return `Rename ${thing} to ${value}`
  if (value === null) return `Clear ${wordsOf(key)} of ${thing}`
  if (typeof value === 'boolean') return `Turn ${wordsOf(key)} of ${thing} ${value ? 'on' : 'off'}`
  const text = valueText(key, value)
  return text === undefined ? `Change ${wordsOf(key)} of ${thing}` : `Set ${wordsOf(key)} of ${thing} to ${text}`
}

function valueText(key: string, value: unknown): string | undefined {
  if (typeof value === 'number') {
    if (key.endsWith('Mm')) return formatLength(value)
    if (key.endsWith('Deg')) return `${Math.round(value * 10) / 10}°`
    return key.endsWith('Diameters') ? `${value} diameters` : String(value)
  }
  // notes are whole sentences
  return typeof value === 'string' && key !== 'note' && key !== 'datum' ? value : undefined
}
