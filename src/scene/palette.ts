/** Colours of the void, from the things themselves: planed timber, galvanised steel, plasterboard, pencil and marker. */
import type { SolidClass } from '#model/index.ts'
import type { Severity } from '#checks/finding.ts'

export const PAPER = '#f3eee4'
/** of the paper for whoever asked for more contrast */
export const WHITE = '#ffffff'
export const PENCIL = '#2b2723'
/** of a tape measure: what is in hand */
export const TAPE = '#f4c531'
export const PLASTERBOARD = '#fbf8f1'
/** the shadow in a drilled hole */
export const HOLE = '#4d3a26'

const TIMBER = '#e2c79c'
const GALVANISED = '#a9b2b7'

const CLASS_COLOURS: Partial<Record<SolidClass, string>> = {
  chord: TIMBER, joist: TIMBER, beam: '#c8a171', trimmer: '#d4b07f', noggin: '#d9bb8d', strongback: '#d0ab79',
  web: GALVANISED, steel: '#7f8a91', wall: '#d9d2c5', slab: '#c5c1b9', lining: '#ece7db', insulation: '#eadfb4',
  pipe: '#b9805a', 'soil-stack': '#8c6f5e', cable: '#6f6a64', downlight: '#cfc9bd', 'keep-out': '#d3a5c4', flue: '#8f9497',
  unit: '#d6dadb', manifold: '#bcc5c9', plenum: '#cdd4d6', 'outdoor-terminal': '#aab4b8', sleeve: '#b8b0a2', other: '#c2bcb1',
}
/** What stands round the void rather than in it: drawn thin, so that it never hides a duct. */
const ROUND_THE_VOID: ReadonlySet<SolidClass> = new Set(['wall', 'slab', 'lining', 'insulation', 'keep-out'])
export const isFaint = (name: SolidClass): boolean => ROUND_THE_VOID.has(name)

export const colourOfClass = (name: SolidClass): string => CLASS_COLOURS[name] ?? '#c2bcb1'

/** a run whose ends do not say what air it carries */
export const PLAIN_DUCT = '#8fa3ad'

/** Each severity is told first by its shape and its word; the colour only helps. */
export const SEVERITY_COLOURS: Record<Severity, string> = { stop: '#c2136b', mend: '#4b2e9e', advice: '#ffffff' }

/** '#rrggbb' -> linear red, green, blue 0..1 (IEC 61966-2-1) */
export function linearRgb(hex: string): [number, number, number] {
  const channel = (at: number): number => {
    const c = Number.parseInt(hex.slice(at, at + 2), 16) / 255
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4
  }
  return [channel(1), channel(3), channel(5)]
}

const rgbCache = new Map<string, [number, number, number]>()
export function rgbOfClass(name: SolidClass): [number, number, number] {
  let rgb = rgbCache.get(name)
  if (rgb === undefined) rgbCache.set(name, rgb = linearRgb(colourOfClass(name)))
  return rgb
}
