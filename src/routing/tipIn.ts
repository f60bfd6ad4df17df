/**
 * The longest straight piece that can be tipped into a void from below, between two joists, and levelled with one end through
 * the openings of the second: a rectangle L x d in the upright plane of the duct, moving round the corners of the joists.
 *
 * s runs level along the duct, z up, mm. The nearer joist ends at s = 0, the further one starts at s = gap; the piece comes up with its
 * head through the further one. At a tilt t it is never better placed than lying on the further joist's lower corner P, pushed
 * back until its foot meets the nearer joist: every other place at that tilt has it higher or further on, nearer to what bars it above
 * and ahead. In that place it has room for a length F(t): the stretch of the strip of width d over P that is free of joists and
 * deck. It has to pass every tilt from level to the one where the strip goes clear under the nearer joist, or to one
 * where it stands between the two joists altogether, gap >= L cos t + d sin t, and can be lowered. With no nearer chord's edge to go
 * under and no joist above, F(t) = gap / cos t + height / sin t - 2 d / sin 2t, the ladder with thickness round a corner.
 */

/** A joist where the duct's plane cuts it. */
export interface TipJoist {
  readonly from: number
  readonly to: number
  readonly undersideMm: number
  readonly topMm: number
  /** between these heights the duct passes it; null when it does not pass */
  readonly open: readonly [low: number, high: number] | null
}

export interface TipSpace {
  /** the nearer joist; its `to` is where the gap starts */
  readonly near: TipJoist
  /** joists from the gap on, in order; the first of them is open */
  readonly beyond: readonly TipJoist[]
  /** underside of what closes the void above */
  readonly deckMm: number
}

type Corner = readonly [s: number, z: number]

/** Steps in which tilts are looked through before the least is narrowed down. */
const TILTS = 720
const NARROWINGS = 60
/** Farther than any floor reaches, mm. */
const FAR_MM = 1e6

/** @param diameterMm outside of the duct, insulation left off: that goes on later. @returns mm; Infinity where nothing limits it, 0 where the duct does not go through the gap or the opening at all */
export function longestTipped({ near, beyond, deckMm }: TipSpace, diameterMm: number): number {
  const [first] = beyond
  const gapMm = first.from - near.to
  if (first.open === null || !(first.open[1] - first.open[0] >= diameterMm) || !(gapMm > 0)) return 0
  const lowMm = first.open[0], corner: Corner = [first.from, lowMm]
  const bars = [
    ...barsOf(near), ...beyond.flatMap((joist, k) => k === 0 ? barsOf(joist).slice(1) : barsOf(joist)),
    box(-FAR_MM, FAR_MM, deckMm, deckMm + FAR_MM),
  ]
  const room = (tilt: number): number => freeLength(bars, corner, tilt, diameterMm)
  const standing = (tilt: number): number => (gapMm - diameterMm * Math.sin(tilt)) / Math.cos(tilt)
  const steepest = tiltUnder(gapMm, lowMm - near.undersideMm, diameterMm)

  const tilts = Array.from({ length: TILTS + 1 }, (_, k) => steepest * k / TILTS)
  const rooms = tilts.map(room)
  // the least so far at every step, narrowed down where it lies between two steps
  let least = Infinity, lowered = 0
  tilts.forEach((tilt, k) => {
    const isDip = k > 0 && k < TILTS && rooms[k] <= rooms[k - 1] && rooms[k] <= rooms[k + 1]
    least = Math.min(least, isDip ? -peakOf((t) => -room(t), tilts[k - 1], tilts[k + 1]) : rooms[k])
    lowered = Math.max(lowered, Math.min(least, standing(tilt)))
  })
  return Math.max(0, lowered, diameterMm < Math.hypot(gapMm, lowMm - near.undersideMm) ? least : 0)
}

/** The tilt at which a strip of width d over the corner, `height` above the nearer joist's lower edge, goes clear under that edge: gap sin t - height cos t = d. A quarter turn where none does. */
function tiltUnder(gapMm: number, heightMm: number, diameterMm: number): number {
  const across = Math.hypot(gapMm, heightMm)
  return diameterMm < across ? Math.min(Math.PI / 2 - 1e-9, Math.asin(diameterMm / across) + Math.atan2(heightMm, gapMm)) : Math.PI / 2 - 1e-9
}

/** Length of the strip of width d that lies on the corner, from the last bar behind to the first ahead. */
function freeLength(bars: readonly (readonly Corner[])[], [cornerS, cornerZ]: Corner, tilt: number, diameterMm: number): number {
  const c = Math.cos(tilt), sn = Math.sin(tilt)
  let behind = -Infinity, ahead = Infinity
  for (const bar of bars) {
    const [from, to] = stretchInStrip(bar.map(([s, z]): Corner => [(s - cornerS) * c + (z - cornerZ) * sn, (z - cornerZ) * c - (s - cornerS) * sn]), diameterMm)
    if (!(from < to)) continue
    if (to <= 0) behind = Math.max(behind, to)
    else if (from >= 0) ahead = Math.min(ahead, from)
    else return 0
  }
  return ahead - behind
}

/** A bar that reaches less than this into the strip only touches it, mm. */
const TOUCH_MM = 1e-7

/** From where to where a convex bar lies in the strip 0 < y < d, along x; from > to when it does not. */
function stretchInStrip(bar: readonly Corner[], diameterMm: number): [number, number] {
  let from = Infinity, to = -Infinity
  const low = TOUCH_MM, high = diameterMm - TOUCH_MM
  bar.forEach(([x, y], k) => {
    const [nextX, nextY] = bar[(k + 1) % bar.length]
    const take = (at: number): void => {
      from = Math.min(from, at)
      to = Math.max(to, at)
    }
    if (y > low && y < high) take(x)
    for (const level of [low, high]) if (y < level !== nextY < level) take(x + (level - y) / (nextY - y) * (nextX - x))
  })
  return [from, to]
}

/** Lower part, then the upper part; the whole of one that is not open. */
function barsOf({ from, to, undersideMm, topMm, open }: TipJoist): Corner[][] {
  return open === null ? [box(from, to, undersideMm, topMm)] : [box(from, to, undersideMm, open[0]), box(from, to, open[1], topMm)]
}

function box(s0: number, s1: number, z0: number, z1: number): Corner[] {
  return [[s0, z0], [s1, z0], [s1, z1], [s0, z1]]
}

/** The largest value between two places, where it rises and then falls: golden section (Kiefer 1953). */
function peakOf(value: (at: number) => number, from: number, to: number): number {
  const share = (Math.sqrt(5) - 1) / 2
  let low = from, high = to, a = high - share * (high - low), b = low + share * (high - low), atA = value(a), atB = value(b)
  for (let k = 0; k < NARROWINGS; k++) {
    if (atA < atB) {
      low = a
      a = b
      atA = atB
      b = low + share * (high - low)
      atB = value(b)
    } else {
      high = b
      b = a
      atB = atA
      a = high - share * (high - low)
      atA = value(a)
    }
  }
  return Math.max(atA, atB, value(from), value(to))
}
