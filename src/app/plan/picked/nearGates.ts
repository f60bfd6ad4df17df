/** The openings and the bay that a spigot is likeliest meant for: those nearest to it. Pure. */
import type { PlacedJoist, PlacedSpigot } from '#assembly/assembly.ts'
import type { SnapTarget } from '#routing/snap.ts'

/** joists and openings of each that are offered */
const JOISTS = 2, OPENINGS = 2

export function nearGates(joists: readonly PlacedJoist[], { at, axis }: PlacedSpigot): SnapTarget[] {
  const beside = joists.flatMap((joist) => {
    const dx = at[0] - joist.origin[0], dy = at[1] - joist.origin[1]
    const x = dx * joist.along[0] + dy * joist.along[1], n = dx * joist.across[0] + dy * joist.across[1]
    if (x < 0 || x > joist.lengthMm) return []
    // joists ahead of the spigot before those behind it
    const isAhead = -n * (axis[0] * joist.across[0] + axis[1] * joist.across[1]) > 0
    return [{ joist, x, farMm: Math.abs(n) + (isAhead ? 0 : 300) }]
  }).sort((a, b) => a.farMm - b.farMm).slice(0, JOISTS)
  const openings = beside.flatMap(({ joist, x }) => joist.openings.map(({ number, opening }) => {
    let sum = 0
    for (let i = 0; i < opening.verticesXy.length; i += 2) sum += opening.verticesXy[i]
    return { number, offMm: Math.abs(sum / (opening.verticesXy.length / 2) - x) }
  }).sort((a, b) => a.offMm - b.offMm).slice(0, OPENINGS).map(({ number }): SnapTarget => ({ kind: 'opening', joistId: joist.id, opening: number })))
  return [...openings, { kind: 'bay', near: [at[0], at[1], at[2]] }]
}
