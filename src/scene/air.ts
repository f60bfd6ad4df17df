/** The air that a run carries: its letters, its words, its colour. */
import type { PlacedRun } from '#assembly/assembly.ts'
import type { AirStream } from '#model/index.ts'

/**
 * Air-type colours and letters of EN 16798-3 (outdoor air green, supply air blue, extract air yellow, exhaust air brown):
 * common practice, from memory. The letters stand wherever the colour does.
 */
export const AIR: Record<AirStream, { readonly letters: string, readonly words: string, readonly colour: string }> = {
  intake: { letters: 'ODA', words: 'outdoor air', colour: '#4f9a5b' },
  supply: { letters: 'SUP', words: 'supply air', colour: '#3d86c6' },
  extract: { letters: 'ETA', words: 'extract air', colour: '#eebf1d' },
  exhaust: { letters: 'EHA', words: 'exhaust air', colour: '#8d5a3b' },
}

/** As far as the equipment at its ends says. */
export function airOf({ from, to }: PlacedRun): AirStream | undefined {
  for (const end of [from, to]) if ('equipment' in end && end.equipment.air !== undefined) return end.equipment.air
  return undefined
}

/** In the order that air goes through a house. */
export const STREAMS_IN_ORDER: readonly AirStream[] = ['intake', 'supply', 'extract', 'exhaust']
