/** Spigots and sleeves as places to start and end at. */
import type { Assembly, PlacedSleeve, PlacedSpigot } from '#assembly/assembly.ts'
import type { DuctType, RunEnd } from '#model/index.ts'
import type { Xyz } from '#scene/frame.ts'

export interface EndPlace {
  /** 'supply-manifold/S1' or '/sleeve-1': tells ends apart in lists */
  readonly key: string
  readonly end: RunEnd
  readonly name: string
  readonly at: Xyz
  /** outer diameter of the duct that it takes, mm; clear diameter of a sleeve */
  readonly diameterMm: number
  /** the run that ends there already; null when it is free. A sleeve may be passed by several */
  readonly takenBy: string | null
}

export function keyOfEnd(end: RunEnd): string {
  return 'sleeve' in end ? `/${end.sleeve}` : `${end.equipment}/${end.spigot}`
}

/** In the job's order, spigots first. */
export function endPlacesOf({ spigots, sleeves, runs }: Assembly): EndPlace[] {
  const taken = new Map<string, string>()
  for (const { run } of runs) for (const end of [run.from, run.to]) taken.set(keyOfEnd(end), run.name)
  return [...spigots.map((placed) => ofSpigot(placed, taken)), ...sleeves.map(ofSleeve)]
}

function ofSpigot({ equipment, spigot, name, at }: PlacedSpigot, taken: ReadonlyMap<string, string>): EndPlace {
  const end: RunEnd = { equipment: equipment.id, spigot: spigot.id }, key = keyOfEnd(end)
  return { key, end, name, at, diameterMm: spigot.diameterMm, takenBy: taken.get(key) ?? null }
}

function ofSleeve({ sleeve, at }: PlacedSleeve): EndPlace {
  const end: RunEnd = { sleeve: sleeve.id }
  return { key: keyOfEnd(end), end, name: sleeve.name, at, diameterMm: sleeve.diameterMm, takenBy: null }
}

/** The type whose outside is nearest to what the end takes. */
export function typeFor(types: readonly DuctType[], diameterMm: number): DuctType | undefined {
  return types.reduce<DuctType | undefined>((best, type) =>
    best === undefined || Math.abs(type.outerDiameterMm - diameterMm) < Math.abs(best.outerDiameterMm - diameterMm) ? type : best, undefined)
}
