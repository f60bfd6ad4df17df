/** A course that passes every joist square on and does its turning in the bays: for ducts with fittings, and where the taut string has no room. */
import { halfThicknessMm } from '#checks/openingUse.ts'
import { SQUARE_ON, directionInJoist, inJoist, regionOf, siteOf, type JoistPassage, type Passage } from './threadGates.ts'
import type { Ending } from './threadString.ts'
import { cornersBetween, type Bending, type Line } from './threadTurns.ts'
import { dot, minus, plus, unit, type Vec } from './threadVector.ts'

/** Which point of each gate: where the string met it, or as the run comes (from either end) for as long as it can go straight on. */
export type Choice = 'met' | 'forward' | 'backward'

/** @returns points from end to end; null when listed fittings cannot make it */
export function squareThrough(
  from: Ending, to: Ending | null, passages: readonly Passage[], met: readonly Vec[], bending: Bending, choice: Choice, leastTurnMm: number,
): Vec[] | null {
  const places = choice === 'met' ? met : choice === 'forward' ? straightOn(from, passages, met, leastTurnMm)
    : [...straightOn(to ?? from, [...passages].reverse(), [...met].reverse(), leastTurnMm)].reverse()
  const lines: Line[] = [{ at: from.at, way: from.axis, straightMm: from.straightMm }]
  passages.forEach((passage, i) => {
    const before = i > 0 ? places[i - 1] : from.at, after = places[i + 1] ?? to?.at ?? null
    lines.push(passage.kind === 'point'
      ? { at: passage.at, way: bending.kind === 'free' ? null : nearestSquareWay(passages, before, passage.at, after), straightMm: 0 }
      : { at: places[i], way: wayThrough(passage, before, places[i], after), straightMm: halfThicknessMm(passage.joist) + 1 })
  })
  if (to !== null) lines.push({ at: to.at, way: to.axis === null ? null : [-to.axis[0], -to.axis[1], -to.axis[2]], straightMm: to.straightMm })
  const points: Vec[] = [from.at]
  for (let i = 1; i < lines.length; i++) {
    const corners = cornersBetween(lines[i - 1], lines[i], bending)
    if (corners === null) return null
    points.push(...corners)
    const last = i === lines.length - 1
    if (last && to === null && lines[i].way !== null) points.push(plus(lines[i].at, lines[i].way!, leastTurnMm))
    else if (last || lines[i].way === null) points.push(lines[i].at)
  }
  return points
}

/** Square through the joist, the way the run goes. */
function wayThrough({ joist }: JoistPassage, before: Vec, at: Vec, after: Vec | null): Vec {
  const ahead = dot(minus(after ?? at, before), joist.across)
  const sign = ahead !== 0 ? Math.sign(ahead) : Math.sign(dot(minus(at, before), joist.across)) || 1
  return [sign * joist.across[0], sign * joist.across[1], 0]
}

/** Along or across the joists, whichever is nearest to the way from a place to the next. */
function nearestSquareWay(passages: readonly Passage[], before: Vec, at: Vec, after: Vec | null): Vec {
  const frame = passages.find((passage) => passage.kind === 'joist')?.joist
  const along: Vec = frame?.along ?? [1, 0, 0], across: Vec = frame?.across ?? [0, 1, 0]
  const way = unit(after === null ? minus(at, before) : minus(after, at))
  return [along, across].flatMap((axis): Vec[] => [axis, [-axis[0], -axis[1], -axis[2]]]).reduce((best, axis) => dot(axis, way) > dot(best, way) ? axis : best)
}

/** Each gate's point nearest to where a run that goes straight on would meet it. */
function straightOn({ at, axis, straightMm }: Ending, passages: readonly Passage[], met: readonly Vec[], leastTurnMm: number): Vec[] {
  let last: Vec = at, lastWay = axis
  return passages.map((passage, i) => {
    if (passage.kind === 'point') {
      lastWay = null
      return last = passage.at
    }
    const { joist } = passage
    let [x, y] = inJoist(joist, last)
    if (i === 0 && lastWay !== null) {
      const [along, up, across] = directionInJoist(joist, lastWay)
      // the axis runs along the joist or up: the first corner lies this far out on it
      if (Math.abs(across) < 0.9) {
        x += along * (straightMm + leastTurnMm)
        y += up * (straightMm + leastTurnMm)
      }
    } else if (lastWay === null && i > 0) [x, y] = inJoist(joist, met[i])
    lastWay = axis
    const region: number[] = []
    regionOf(passage, SQUARE_ON, 0.4, region)
    const [px, py] = nearestInside(region, x, y)
    return last = siteOf(joist, px, py)
  })
}

/** The nearest point of a convex polygon, counter-clockwise. */
function nearestInside(xy: readonly number[], x: number, y: number): [number, number] {
  if (xy.length === 2) return [xy[0], xy[1]]
  let best: [number, number] = [x, y], least = Infinity, isInside = true
  for (let i = 0; i < xy.length; i += 2) {
    const j = (i + 2) % xy.length, ex = xy[j] - xy[i], ey = xy[j + 1] - xy[i + 1], square = ex * ex + ey * ey
    if (ex * (y - xy[i + 1]) - ey * (x - xy[i]) < 0) isInside = false
    const t = square > 0 ? Math.min(1, Math.max(0, ((x - xy[i]) * ex + (y - xy[i + 1]) * ey) / square)) : 0
    const px = xy[i] + t * ex, py = xy[i + 1] + t * ey, mm = Math.hypot(x - px, y - py)
    if (mm < least) {
      least = mm
      best = [px, py]
    }
  }
  return isInside ? [x, y] : best
}
