/** The things that findings are about, by id and site name. */
import type { Assembly, PlacedHole, PlacedJoist, PlacedRun, PlacedSleeve, PlacedSpigot } from '#assembly/assembly.ts'
import type { PartRef, Place } from './finding.ts'

export function runRef({ run }: PlacedRun): PartRef {
  return { id: run.id, name: run.name }
}

/** @param bendNumber counts from 1 from the run's start */
export function bendRef({ run }: PlacedRun, bendNumber: number): PartRef {
  return { id: run.id, part: `bend-${bendNumber}`, name: `${run.name}, bend ${bendNumber}` }
}

export function solidRef({ parts }: Assembly, solidIndex: number): PartRef {
  const { ownerId, part, name } = parts.describe(solidIndex)
  return part === '' ? { id: ownerId, name } : { id: ownerId, part, name }
}

export function joistRef({ id, name }: PlacedJoist): PartRef {
  return { id, name }
}

/** Across a joist from face to face of its chords or flanges, mm. */
export function joistWidthMm({ section }: PlacedJoist): number {
  switch (section.kind) {
    case 'open-web': return section.chordWidthMm
    case 'solid-timber': return section.widthMm
    case 'i-section': case 'cold-formed': return section.flangeWidthMm
  }
}

export function openingRef({ id, name }: PlacedJoist, number: number): PartRef {
  return { id, part: `opening-${number}`, name: `${name}, opening ${number}` }
}

export function spigotRef({ equipment, spigot, name }: PlacedSpigot): PartRef {
  return { id: equipment.id, part: `spigot-${spigot.id}`, name }
}

export function sleeveRef({ sleeve }: PlacedSleeve): PartRef {
  return { id: sleeve.id, name: sleeve.name }
}

export function holeRef({ id }: PlacedHole): PartRef {
  return { id, name: `hole ${id}` }
}

export function placeOf(xyz: ArrayLike<number>): Place {
  return { x: xyz[0], y: xyz[1], z: xyz[2] }
}

/** Ids in an order that does not hang on the order of the file. */
export function byId(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
