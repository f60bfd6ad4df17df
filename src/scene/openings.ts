/** Openings between web members, as places that can be touched: what is behind nothing else. */
import type { Assembly } from '#assembly/assembly.ts'
import { ringHolds } from '#geometry/solid/ring.ts'
import type { Ray } from './pick.ts'
import type { Selection } from './selection.ts'

export type TouchedOpening = Extract<Selection, { kind: 'opening' }>

/** @returns the first opening that the ray goes through, or null */
export function openingBehind(assembly: Assembly, ray: Ray): TouchedOpening | null {
  let best = Infinity
  let found: TouchedOpening | null = null
  assembly.joists.forEach((joist, joistIndex) => {
    const { origin, along, across } = joist
    const towards = ray.direction[0] * across[0] + ray.direction[1] * across[1]
    if (joist.section.kind !== 'open-web' || Math.abs(towards) < 1e-9) return
    const t = ((origin[0] - ray.from[0]) * across[0] + (origin[1] - ray.from[1]) * across[1]) / towards
    if (t <= 0 || t >= best) return
    const at = [0, 1, 2].map((k) => ray.from[k] + t * ray.direction[k])
    const x = (at[0] - origin[0]) * along[0] + (at[1] - origin[1]) * along[1], y = at[2] - origin[2]
    if (x < 0 || x > joist.lengthMm || y < 0 || y > joist.section.depthMm) return
    const inside = joist.openings.find(({ opening }) => opening.verticesXy.length > 0 && ringHolds(opening.verticesXy, x, y))
    if (inside === undefined) return
    best = t
    found = { kind: 'opening', joistIndex, number: inside.number, at: [at[0], at[1], at[2]] }
  })
  return found
}
