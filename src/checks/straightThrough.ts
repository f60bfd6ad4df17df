/** The largest straight duct through a series of parallel joists, and where its axis lies on site. */
import type { PlacedJoist } from '#assembly/assembly.ts'
import { bestStraightThrough } from '#geometry/fit/bestStraightThrough.ts'
import { EDGE_STRIDE, type Opening } from '#geometry/fit/opening.ts'
import type { Place } from './finding.ts'

export interface SeriesFit {
  /** 0 when nothing straight passes */
  readonly diameterMm: number
  /** number of the opening passed, for each joist in the order given */
  readonly openings: readonly number[]
  /** where the axis meets the middle plane of each joist, on site */
  readonly axis: readonly Place[]
  /** false when the search stopped before every choice was ruled out: a larger one may exist */
  readonly proved: boolean
}

/** Joists whose directions differ by less than this are parallel, as a share: 0.005 mm over 10 m. */
const PARALLEL = 1e-12

/** @returns the fit, or why these joists are no series */
export function straightThrough(joists: readonly PlacedJoist[]): SeriesFit | { readonly why: string } {
  if (joists.length === 0) return { why: 'no joists were named' }
  const [first] = joists
  const odd = joists.find((joist) => joist.along[0] * first.along[0] + joist.along[1] * first.along[1] < 1 - PARALLEL)
  if (odd !== undefined) return { why: `${odd.name} does not run the same way as ${first.name}` }
  const closed = joists.find((joist) => joist.openings.length === 0)
  if (closed !== undefined) return { why: `${closed.name} has no openings between webs` }

  const shifts = joists.map(({ origin }) => {
    const dx = origin[0] - first.origin[0], dy = origin[1] - first.origin[1]
    return {
      along: dx * first.along[0] + dy * first.along[1], across: dx * first.across[0] + dy * first.across[1], up: origin[2] - first.origin[2],
    }
  })
  const { diameterMm, chosen, axis: [x, y, sx, sy], proved } = bestStraightThrough(
    joists.map((joist, i) => joist.openings.map(({ opening }) => shifted(opening, shifts[i].along, shifts[i].up))),
    shifts.map((shift) => shift.across),
  )
  if (!(diameterMm > 0)) return { diameterMm: 0, openings: [], axis: [], proved }
  return {
    diameterMm, proved,
    openings: chosen.map((pick, i) => joists[i].openings[pick].number),
    axis: shifts.map(({ across }) => {
      const along = x + sx * across, up = y + sy * across
      return {
        x: first.origin[0] + first.along[0] * along + first.across[0] * across,
        y: first.origin[1] + first.along[1] * along + first.across[1] * across,
        z: first.origin[2] + up,
      }
    }),
  }
}

/** The opening as seen from a joist that lies this much behind and below: mm along and up. */
function shifted(opening: Opening, along: number, up: number): Opening {
  const edges = opening.edges.slice(), verticesXy = opening.verticesXy.slice()
  for (let e = 0; e < edges.length; e += EDGE_STRIDE) edges[e + 2] += edges[e] * along + edges[e + 1] * up
  for (let v = 0; v < verticesXy.length; v += 2) {
    verticesXy[v] += along
    verticesXy[v + 1] += up
  }
  return { ...opening, edges, verticesXy }
}
