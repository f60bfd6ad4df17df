/** Spigots and sleeves as places to start and end at. */
import type { Assembly, PlacedSleeve, PlacedSpigot } from '#assembly/assembly.ts'
import { stretchInRound } from '#geometry/envelope/stretchInRound.ts'
import type { DuctType, RunEnd } from '#model/index.ts'
import type { Xyz } from '#scene/frame.ts'

export interface EndPlace {
  /** 'supply-manifold/S1' or '/sleeve-1': tells ends apart in lists */
  readonly key: string
  readonly end: RunEnd
  readonly name: string
  /** what a spigot is on, 'Manifold 1'; a sleeve's own name */
  readonly on: string
  readonly at: Xyz
  /** outer diameter of the duct that it takes, mm; clear diameter of a sleeve */
  readonly diameterMm: number
  /** the run that ends there already, or goes through a sleeve; null when it is free */
  readonly takenBy: string | null
}

export function keyOfEnd(end: RunEnd): string {
  return 'sleeve' in end ? `/${end.sleeve}` : `${end.equipment}/${end.spigot}`
}

const known = new WeakMap<Assembly, readonly EndPlace[]>()

/** In the job's order, spigots first. */
export function endPlacesOf(assembly: Assembly): readonly EndPlace[] {
  let places = known.get(assembly)
  if (places === undefined) {
    const { spigots, sleeves, runs } = assembly
    const taken = new Map<string, string>()
    for (const { run } of runs) for (const end of [run.from, run.to]) taken.set(keyOfEnd(end), run.name)
    places = [...spigots.map((placed) => ofSpigot(placed, taken)), ...sleeves.map((placed) => ofSleeve(placed, taken, runs))]
    known.set(assembly, places)
  }
  return places
}

function ofSpigot({ equipment, spigot, name, at }: PlacedSpigot, taken: ReadonlyMap<string, string>): EndPlace {
  const end: RunEnd = { equipment: equipment.id, spigot: spigot.id }, key = keyOfEnd(end)
  return { key, end, name, on: name.slice(0, -`, spigot ${spigot.id}`.length), at, diameterMm: spigot.diameterMm, takenBy: taken.get(key) ?? null }
}

function ofSleeve({ sleeve, at, axis }: PlacedSleeve, taken: ReadonlyMap<string, string>, runs: Assembly['runs']): EndPlace {
  const end: RunEnd = { sleeve: sleeve.id }, key = keyOfEnd(end)
  const passes = (): string | undefined => runs.find(({ centreline }) => stretchInRound(centreline, at, axis, sleeve.lengthMm / 2, sleeve.diameterMm / 2).length > 0)?.run.name
  return { key, end, name: sleeve.name, on: sleeve.name, at, diameterMm: sleeve.diameterMm, takenBy: taken.get(key) ?? passes() ?? null }
}

/** The type whose outside is nearest to what the end takes. */
export function typeFor(types: readonly DuctType[], diameterMm: number): DuctType | undefined {
  return types.reduce<DuctType | undefined>((best, type) =>
    best === undefined || Math.abs(type.outerDiameterMm - diameterMm) < Math.abs(best.outerDiameterMm - diameterMm) ? type : best, undefined)
}
