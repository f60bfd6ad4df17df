/** Colours of the model that is handed on, as linear red, green, blue 0..1: timber, metal, plaster, and ducts by the air in them (EN 16798-3, from memory). */

export type Rgb = readonly [number, number, number]

const TIMBER = '#e2c79c', METAL = '#a9b2b7', PALE = '#d9d2c5'
const COLOURS: Readonly<Record<string, string>> = {
  chord: TIMBER, joist: TIMBER, beam: '#c8a171', trimmer: '#d4b07f', noggin: '#d9bb8d', strongback: '#d0ab79', web: METAL, steel: '#7f8a91', wall: PALE, slab: '#c5c1b9',
  pipe: '#b9805a', 'soil-stack': '#8c6f5e', unit: '#d6dadb', manifold: '#bcc5c9', plenum: '#cdd4d6', duct: '#8fa3ad', intake: '#4f9a5b', supply: '#3d86c6', extract: '#eebf1d', exhaust: '#8d5a3b',
}

export function colourOf(kind: string): Rgb {
  const hex = COLOURS[kind] ?? '#c2bcb1'
  return [1, 3, 5].map((at) => linear(Number.parseInt(hex.slice(at, at + 2), 16) / 255)) as unknown as Rgb
}

/** IEC 61966-2-1 */
const linear = (c: number): number => Math.round((c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4) * 1e4) / 1e4
