/**
 * A taut string through gates: the shortest chain of straight legs from one end's axis to the other's that meets every gate's
 * region. Its length is convex in the points where it meets them, and each point alone has a closed form (the mirror rule for a line,
 * cut to each side of the region), so the points are taken in turn until none moves. Regions hang on the slant of the
 * legs and on how far a bend cuts its corner, so all of it is done a few times over.
 */
import { SQUARE_ON, directionInJoist, inJoist, isPassedBy, regionOf, siteOf, type JoistPassage, type Passage, type Passing } from './threadGates.ts'
import { apart, dot, minus, plus, turnOf, unit, type Vec } from './threadVector.ts'

/** Where a run starts or ends; `axis` is the way into the void, null where any way will do. */
export interface Ending { readonly at: Vec, readonly axis: Vec | null, readonly straightMm: number }

export interface Strung {
  /** from end to end */
  readonly points: readonly Vec[]
  /** where each passage is met */
  readonly met: readonly Vec[]
  /** false for a passage where the duct does not fit that way */
  readonly fits: readonly boolean[]
}

const ROUNDS = 5, SWEEPS = 80, STILL_MM = 0.005
/** A corner that turns the duct back by more than this is made as two, rad. */
const MOST_TURN_RAD = 95 * Math.PI / 180
/** Slants beyond this are told as this. */
const MOST_SHEAR = 3

export function stringThrough(from: Ending, to: Ending | null, passages: readonly Passage[], bendRadiusMm: number, roomShare: number): Strung {
  const regions: number[][] = passages.map(() => [])
  const fits = passages.map(() => true)
  const passings: Passing[] = passages.map(() => SQUARE_ON)
  const met: Vec[] = passages.map((passage, i) => {
    if (passage.kind === 'point') return passage.at
    fits[i] = regionOf(passage, SQUARE_ON, roomShare, regions[i])
    return middleOf(passage, regions[i])
  })
  let head: Vec[] = [from.at], tail: Vec[] = to === null ? [] : [to.at]
  let first = 0, end = passages.length
  for (let round = 0; round < ROUNDS; round++) {
    // with nothing left between, each end looks at the other end's own point
    const ahead = (i: number): Vec => i < end ? met[i] : tail[0] ?? from.at
    head = endCorners(from, first < passages.length || tail.length > 0 ? ahead(first) : null, bendRadiusMm)
    while (first < end && isPinned(passages[first], head)) pin(first++, head)
    tail = to === null ? [] : endCorners(to, first < end ? met[end - 1] : head[head.length - 1], bendRadiusMm).reverse()
    while (end > first && isPinned(passages[end - 1], tail)) pin(--end, tail)
    pull(passages, regions, met, first, end, head[head.length - 1], tail[0] ?? null)
    if (round === ROUNDS - 1) break
    for (let i = first; i < end; i++) {
      const passage = passages[i]
      if (passage.kind === 'point') continue
      const before = i > first ? met[i - 1] : head[head.length - 1], after = i + 1 < end ? met[i + 1] : tail[0] ?? null
      passings[i] = passingOf(passage, before, met[i], after, bendRadiusMm, passings[i])
      fits[i] = regionOf(passage, passings[i], roomShare, regions[i])
    }
  }
  const chain = [...head.map((at) => ({ at, passage: -1 })), ...met.slice(first, end).map((at, i) => ({ at, passage: first + i })), ...tail.map((at) => ({ at, passage: -1 }))]
  return { points: withFewerCorners(chain, passages), met, fits }

  function pin(i: number, leg: readonly Vec[]): void {
    const passage = passages[i]
    if (passage.kind === 'joist') met[i] = crossing(passage, leg[0], leg[1]) ?? met[i]
  }
}

function middleOf({ joist }: JoistPassage, region: readonly number[]): Vec {
  let x = 0, y = 0
  for (let i = 0; i < region.length; i += 2) {
    x += region[i]
    y += region[i + 1]
  }
  return siteOf(joist, 2 * x / region.length, 2 * y / region.length)
}

/** The end, and the corner or two on the way from its axis towards a target. */
export function endCorners({ at, axis, straightMm }: Ending, target: Vec | null, bendRadiusMm: number): Vec[] {
  if (axis === null) return [at]
  if (target === null) return [at, plus(at, axis, straightMm + bendRadiusMm)]
  let alongMm = straightMm
  for (let i = 0; i < 6; i++) {
    const turn = Math.min(turnOf(axis, minus(target, plus(at, axis, alongMm))), MOST_TURN_RAD)
    alongMm = straightMm + bendRadiusMm * Math.tan(turn / 2)
  }
  const corner = plus(at, axis, alongMm)
  if (turnOf(axis, minus(target, corner)) <= MOST_TURN_RAD) return [at, corner]
  // the way is behind: out, aside, and back
  const out = plus(at, axis, straightMm + bendRadiusMm)
  const way = minus(target, out), along = dot(way, axis)
  const aside = minus(way, [axis[0] * along, axis[1] * along, axis[2] * along])
  const size = Math.hypot(...aside)
  const direction = size > 1 ? unit(aside) : unit(Math.abs(axis[2]) > 0.9 ? [1, 0, 0] : [-axis[1], axis[0], 0])
  let asideMm = Math.max(2 * bendRadiusMm, size)
  for (let i = 0; i < 6; i++) {
    const turn = Math.min(turnOf(direction, minus(target, plus(out, direction, asideMm))), MOST_BACK_RAD)
    asideMm = Math.max(bendRadiusMm * (1 + Math.tan(turn / 2)) + 1, turn < Math.PI / 2 ? size : 0)
  }
  return [at, out, plus(out, direction, asideMm)]
}

/** The second corner of a way back may turn further, so as to come back to the axis. */
const MOST_BACK_RAD = 130 * Math.PI / 180

/** A joist that the straight duct at an end passes before its first corner. */
function isPinned(passage: Passage, leg: readonly Vec[]): passage is JoistPassage {
  return passage.kind === 'joist' && leg.length > 1 && crossing(passage, leg[0], leg[1]) !== null
}

function crossing({ joist }: JoistPassage, a: Vec, b: Vec): Vec | null {
  const an = inJoist(joist, a)[2], bn = inJoist(joist, b)[2]
  return an * bn < 0 ? plus(a, minus(b, a), an / (an - bn)) : null
}

function pull(passages: readonly Passage[], regions: readonly number[][], met: Vec[], first: number, end: number, head: Vec, tail: Vec | null): void {
  for (let sweep = 0; sweep < SWEEPS; sweep++) {
    let movedMm = 0
    for (let k = first; k < end; k++) {
      // to and fro, so that a pull from either end runs through in one sweep
      const i = sweep % 2 === 0 ? k : end - 1 - (k - first)
      const passage = passages[i]
      if (passage.kind === 'point') continue
      const to = nearestOnWay(passage, regions[i], i > first ? met[i - 1] : head, i + 1 < end ? met[i + 1] : tail)
      movedMm = Math.max(movedMm, apart(to, met[i]))
      met[i] = to
    }
    if (movedMm < STILL_MM) return
  }
}

/** The point of a region with the shortest way from one point by it to another; to the last one from one point only. */
function nearestOnWay({ joist }: JoistPassage, region: readonly number[], before: Vec, after: Vec | null): Vec {
  if (region.length === 2) return siteOf(joist, region[0], region[1])
  const [ax, ay, an] = inJoist(joist, before)
  const [bx, by, bn] = after === null ? [ax, ay, an] : inJoist(joist, after)
  const ah = Math.abs(an), bh = Math.abs(bn), share = ah + bh > 0 ? ah / (ah + bh) : 0.5
  const freeX = ax + share * (bx - ax), freeY = ay + share * (by - ay)
  let bestX = freeX, bestY = freeY, bestMm = Infinity, isInside = true
  for (let i = 0; i < region.length; i += 2) {
    const j = (i + 2) % region.length
    const px = region[i], py = region[i + 1], ex = region[j] - px, ey = region[j + 1] - py, size = Math.hypot(ex, ey)
    if (ex * (freeY - py) - ey * (freeX - px) < 0) isInside = false
    if (!(size > 0)) continue
    const ux = ex / size, uy = ey / size
    const at = (ax - px) * ux + (ay - py) * uy, bt = (bx - px) * ux + (by - py) * uy
    const aOff = Math.hypot(ah, (ax - px) * uy - (ay - py) * ux), bOff = Math.hypot(bh, (bx - px) * uy - (by - py) * ux)
    const free = aOff + bOff > 0 ? (at * bOff + bt * aOff) / (aOff + bOff) : at
    const t = Math.min(Math.max(free, 0), size), x = px + t * ux, y = py + t * uy
    const mm = Math.hypot(x - ax, y - ay, ah) + Math.hypot(x - bx, y - by, bh)
    if (mm < bestMm) [bestX, bestY, bestMm] = [x, y, mm]
  }
  return isInside ? siteOf(joist, freeX, freeY) : siteOf(joist, bestX, bestY)
}

function passingOf({ joist }: JoistPassage, before: Vec, at: Vec, after: Vec | null, bendRadiusMm: number, last: Passing): Passing {
  const legs = [minus(at, before), ...(after === null ? [] : [minus(after, at)])].map(unit).filter((d) => Math.hypot(...d) > 0)
  if (legs.length === 0) return last
  const shears = legs.map((leg) => {
    const [x, y, n] = directionInJoist(joist, leg)
    const scale = Math.min(1 / Math.max(Math.abs(n), 1e-6), MOST_SHEAR / Math.max(Math.hypot(x, y), 1e-9)) * (n < 0 ? -1 : 1)
    return [x * scale, y * scale] as const
  })
  if (legs.length < 2) return { shears, cornerMm: 0, towards: [0, 0] }
  const turn = turnOf(legs[0], legs[1])
  const [x, y] = directionInJoist(joist, unit(minus(legs[1], legs[0])))
  // a bend of this turn passes its corner at radius * (1 / cos(turn / 2) - 1)
  const cornerMm = Math.min(bendRadiusMm * (1 / Math.cos(Math.min(turn, 2) / 2) - 1), 60)
  return { shears, cornerMm, towards: [x, y] }
}

interface Link { readonly at: Vec, readonly passage: number }
/** Corners nearer to the straight than this are none, mm. */
const STRAIGHT_MM = 0.2

/** Leaves out every corner at a gate where the straight without it still passes all the gates between. */
function withFewerCorners(chain: readonly Link[], passages: readonly Passage[]): Vec[] {
  const links = chain.filter((link, i) => i === 0 || apart(link.at, chain[i - 1].at) > 1e-6)
  const left = [...links]
  for (;;) {
    let least = Infinity, drop = -1
    for (let i = 1; i < left.length - 1; i++) {
      const { at, passage } = left[i], before = left[i - 1], after = left[i + 1]
      const turn = turnOf(minus(at, before.at), minus(after.at, at))
      if (turn >= least) continue
      const offMm = Math.sin(turn) * Math.min(apart(at, before.at), apart(at, after.at))
      if (turn < 0.1 && offMm < STRAIGHT_MM || passage >= 0 && isFree(before, after)) {
        least = turn
        drop = i
      }
    }
    if (drop < 0) return left.map(({ at }) => at)
    left.splice(drop, 1)
  }

  function isFree(before: Link, after: Link): boolean {
    const start = links.indexOf(before), end = links.indexOf(after)
    return links.slice(start + 1, end).every(({ passage }) => {
      const gate = passages[passage]
      return passage >= 0 && gate.kind === 'joist' && isPassedBy(gate, before.at, after.at)
    })
  }
}
