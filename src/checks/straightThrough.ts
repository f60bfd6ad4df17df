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

export interface SeriesFitOnTheWay extends SeriesFit {
  /** the whole series in the order of the way: those named and those that stand between them; `openings` and `axis` are of these */
  readonly joists: readonly PlacedJoist[]
}

/**
 * The same with the joists that stand between those named and run the same way: whichever the duct meets it passes as well. Where one
 * of them could be passed beyond its end instead, a larger duct may exist, and `proved` is false.
 * @param all of the job
 */
export function straightThroughOnTheWay(all: readonly PlacedJoist[], named: readonly PlacedJoist[]): SeriesFitOnTheWay | { readonly why: string } {
  let series = named
  for (;;) {
    const fit = straightThrough(series)
    if ('why' in fit) return fit
    const [first] = named
    const across = ({ origin }: PlacedJoist): number => (origin[0] - first.origin[0]) * first.across[0] + (origin[1] - first.origin[1]) * first.across[1]
    if (!(fit.diameterMm > 0)) return { ...fit, joists: series }
    const met = all.filter((joist) => !series.includes(joist) && isBetween(joist, named, across) && isMet(joist, across(joist), series.map(across), fit))
    const closed = met.find(({ openings }) => openings.length === 0)
    if (closed !== undefined) return { why: `${closed.name} stands between them and has no openings between webs` }
    if (met.length === 0) {
      const inOrder = series.map((joist, i) => ({ joist, opening: fit.openings[i], place: fit.axis[i] }))
      // with a joist added the order given says nothing any more
      if (series !== named) inOrder.sort((a, b) => (across(a.joist) - across(b.joist)) * Math.sign(across(named[named.length - 1]) - across(first)))
      const isProved = series.every((joist) => named.includes(joist) || covers(joist, named, first))
      return { diameterMm: fit.diameterMm, proved: fit.proved && isProved, joists: inOrder.map(({ joist }) => joist), openings: inOrder.map(({ opening }) => opening), axis: inOrder.map(({ place }) => place) }
    }
    series = [...series, ...met]
  }
}

function isBetween(joist: PlacedJoist, named: readonly PlacedJoist[], across: (joist: PlacedJoist) => number): boolean {
  const places = named.map(across), at = across(joist)
  return at > Math.min(...places) && at < Math.max(...places) && joist.along[0] * named[0].along[0] + joist.along[1] * named[0].along[1] >= 1 - PARALLEL
}

/** Whether the duct along the axis comes to a joist: to its members, or past its end or over it nearer than its own radius. */
function isMet({ origin, along, lengthMm, section: { depthMm } }: PlacedJoist, at: number, places: readonly number[], { axis, diameterMm }: SeriesFit): boolean {
  const low = places.indexOf(Math.min(...places)), high = places.indexOf(Math.max(...places))
  const share = (at - places[low]) / (places[high] - places[low])
  const on = (key: keyof Place): number => axis[low][key] + (axis[high][key] - axis[low][key]) * share
  const x = (on('x') - origin[0]) * along[0] + (on('y') - origin[1]) * along[1], up = on('z') - origin[2], radius = diameterMm / 2
  return x > -radius && x < lengthMm + radius && up > -radius && up < depthMm + radius
}

/** Whether nothing straight from one of the named to another gets past beyond its ends, over or under it. */
function covers(joist: PlacedJoist, named: readonly PlacedJoist[], first: PlacedJoist): boolean {
  const start = ({ origin }: PlacedJoist): number => (origin[0] - first.origin[0]) * first.along[0] + (origin[1] - first.origin[1]) * first.along[1]
  return named.every((one) => start(joist) <= start(one) && start(joist) + joist.lengthMm >= start(one) + one.lengthMm
    && joist.origin[2] <= one.origin[2] && joist.origin[2] + joist.section.depthMm >= one.origin[2] + one.section.depthMm)
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
