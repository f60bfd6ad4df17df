/**
 * Which opening of each joist of a series lets the largest straight cylinder through, and its axis. mm.
 *
 * Branch and bound: the outermost joists first, then the middle of each gap, so that two choices already pin the axis.
 * A choice is dropped when the lines through what is chosen miss its extent along the joist, or when the ceiling
 * of the choices so far (ceilingThrough; a further joist never adds room) is no more than what is already found.
 */
import { FIT_ERROR_MM } from '../tolerance.ts'
import { openingFromHalfPlanes } from './halfPlanes.ts'
import { ceilingThrough, largestThrough, lastCeiling, STEEPEST_SLOPE } from './largestThrough.ts'
import type { Opening } from './opening.ts'

export interface StraightThrough {
  /** 0 when nothing passes */
  readonly diameterMm: number
  /** for each joist the index of the opening passed; empty when nothing passes */
  readonly chosen: readonly number[]
  /** x, y of the axis at z = 0, then its slopes per mm of z */
  readonly axis: readonly [number, number, number, number]
  /** true when no other choice or axis within `steepest` passes a cylinder larger by 2 * FIT_ERROR_MM */
  readonly proved: boolean
}

export interface StraightThroughLimits {
  /** slopes beyond this are not looked at; STEEPEST_SLOPE when left out, 0 keeps the axis square */
  readonly steepest?: number
  /** partial choices looked at before the search stops with what it has, `proved` false */
  readonly mostChoices?: number
}

interface Extent { readonly from: number, readonly to: number }

/**
 * `joists[i]` are the openings of joist i, whose middle plane is at z = offsetsN[i]; any order. No joists, or one without
 * openings, or an offset that is not finite: nothing passes.
 */
export function bestStraightThrough(
  joists: readonly (readonly Opening[])[], offsetsN: ArrayLike<number>, limits: StraightThroughLimits = {},
): StraightThrough {
  const steepest = limits.steepest ?? STEEPEST_SLOPE, mostChoices = limits.mostChoices ?? 50_000
  const order = outermostFirst(offsetsN, joists.length)
  const extents = joists.map((openings) => openings.map((opening) => extentOf(opening, steepest)))
  const out = new Float64Array(5)
  let best = 0, bestChosen: number[] = [], bestAxis: [number, number, number, number] = [0, 0, 0, 0]
  let looked = 0, proved = true
  const openings: Opening[] = [], offsets: number[] = [], picks: number[] = []

  const choose = (level: number): void => {
    if (level === order.length) {
      largestThrough(openings, offsets, out, steepest, best)
      if (lastCeiling() > Math.max(out[0], best) + 1.5 * FIT_ERROR_MM) proved = false
      if (!(out[0] > best)) return
      best = out[0]
      bestAxis = [out[1], out[2], out[3], out[4]]
      bestChosen = new Array<number>(order.length)
      order.forEach((joist, i) => { bestChosen[joist] = picks[i] })
      return
    }
    const joist = order[level], offset = offsetsN[joist]
    const choices: { pick: number, ceiling: number }[] = []
    joists[joist].forEach((opening, pick) => {
      if (opening.edgeCount === 0 || !reachable(extents, order, offsetsN, picks, joist, pick, steepest)) return
      if (++looked > mostChoices) { proved = false; return }
      openings.push(opening)
      offsets.push(offset)
      const ceiling = ceilingThrough(openings, offsets, steepest)
      openings.pop()
      offsets.pop()
      if (ceiling > best + FIT_ERROR_MM) choices.push({ pick, ceiling })
    })
    choices.sort((p, q) => q.ceiling - p.ceiling || p.pick - q.pick)
    for (const { pick, ceiling } of choices) {
      if (!(ceiling > best + FIT_ERROR_MM)) break
      openings.push(joists[joist][pick])
      offsets.push(offset)
      picks.push(pick)
      choose(level + 1)
      openings.pop()
      offsets.pop()
      picks.pop()
    }
  }
  if (joists.length > 0) choose(0)
  return { diameterMm: best, chosen: bestChosen, axis: bestAxis, proved }
}

/** The first joist, the last, then ever the one in the middle of the widest gap. */
function outermostFirst(offsetsN: ArrayLike<number>, count: number): number[] {
  const sorted = Array.from({ length: count }, (_, i) => i).sort((i, j) => offsetsN[i] - offsetsN[j])
  if (count < 3) return sorted
  const order = [sorted[0], sorted[count - 1]]
  const gaps: [number, number][] = [[0, count - 1]]
  for (let next = gaps.shift(); next !== undefined; next = gaps.shift()) {
    const [from, to] = next
    if (to - from < 2) continue
    const middle = (from + to) >> 1
    order.push(sorted[middle])
    gaps.push([from, middle], [middle, to])
  }
  return order
}

/**
 * Where along the joist an axis through the opening can meet the middle plane. A member standing in n0..n1 keeps the
 * axis to a.p <= b - max(n0*t, n1*t), and with |t| <= steepest * (|ax| + |ay|) that maximum is at least 0 when
 * it stands in the middle plane, else no less than its distance from it times -|t|.
 */
function extentOf({ edges, edgeCount }: Opening, steepest: number): Extent {
  const eased = edges.slice()
  for (let at = 0; at < 5 * edgeCount; at += 5) {
    const away = Math.max(0, edges[at + 3], -edges[at + 4])
    eased[at + 2] += away * steepest * (Math.abs(edges[at]) + Math.abs(edges[at + 1]))
  }
  const { verticesXy } = openingFromHalfPlanes(eased)
  let from = Infinity, to = -Infinity
  for (let i = 0; i < verticesXy.length; i += 2) {
    from = Math.min(from, verticesXy[i])
    to = Math.max(to, verticesXy[i])
  }
  return { from, to }
}

function reachable(
  extents: readonly (readonly Extent[])[], order: readonly number[], offsetsN: ArrayLike<number>, picks: readonly number[],
  joist: number, pick: number, steepest: number,
): boolean {
  const here = extents[joist][pick], z = offsetsN[joist]
  for (let i = 0; i < picks.length; i++) {
    const one = extents[order[i]][picks[i]], drift = steepest * Math.abs(z - offsetsN[order[i]])
    if (one.to + drift < here.from || one.from - drift > here.to) return false
  }
  if (picks.length < 2) return true
  // between the outermost two the axis stays between their extents
  const first = extents[order[0]][picks[0]], last = extents[order[1]][picks[1]]
  const span = offsetsN[order[1]] - offsetsN[order[0]]
  const t = span > 0 ? (z - offsetsN[order[0]]) / span : 0
  return first.from + t * (last.from - first.from) <= here.to && first.to + t * (last.to - first.to) >= here.from
}
