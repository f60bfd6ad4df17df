/** Takes needless fittings out of a rigid course: from any leg of it straight on to any later one, by one or two fittings or none. */
import { minus, unit } from '../threadVector.ts'
import { closings, leastLastMm, type OpenLeg } from './rigidClosing.ts'
import { lengthOf, spareOf, type RigidCourse } from './rigidCourse.ts'
import type { RigidAsk } from './rigidWay.ts'
import { joined } from './rigidWays.ts'
import type { WayEnd } from './wayPlan.ts'

/** what is not worth a change, mm */
const LEAST_GAIN_MM = 1
const MOST_ROUNDS = 12, MOST_TRIES = 400

export function withoutDetours(course: RigidCourse, ask: RigidAsk): RigidCourse {
  let best = course, cost = ask.judged(course)
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const worth = worthOf(best, ask)
    const cheaper = shortcuts(best, ask).map((other) => ({ other, worth: worthOf(other, ask) })).filter((one) => one.worth < worth - LEAST_GAIN_MM).sort((a, b) => a.worth - b.worth)
    const found = cheaper.slice(0, MOST_TRIES).find(({ other }) => spareOf(other, ask.room, 0) >= 0 && ask.judged(other) < cost - LEAST_GAIN_MM)
    if (found === undefined) break
    best = found.other
    cost = ask.judged(best)
  }
  return best
}

function worthOf(course: RigidCourse, { prices: { bendMm } }: RigidAsk): number {
  return lengthOf(course) + bendMm * course.elbows.length
}

function shortcuts({ points, elbows }: RigidCourse, { ways: { elbows: list }, from, to, offDeg }: RigidAsk): RigidCourse[] {
  const ways = points.slice(1).map((point, i) => unit(minus(point, points[i]))), last = ways.length - 1
  const found: RigidCourse[] = [], slidesInMm = Math.max(...list.map(({ insertionMm }) => insertionMm))
  for (let i = 0; i < last; i++) for (let j = i + 1; j <= last; j++) {
    const between = joined(list, ways[i], ways[j])
    const goal: WayEnd = j === last ? to : { ...to, at: points[j + 1], axis: [-ways[j][0], -ways[j][1], -ways[j][2]], straightMm: elbows[j].takesMm + slidesInMm }
    const leg: OpenLeg = {
      at: points[i], way: 0, takenMm: i === 0 ? 0 : elbows[i - 1].takesMm, straightMm: i === 0 ? Math.max(from.straightMm, 1e-3) : 0,
      lastMm: i === 0 ? 0 : leastLastMm(between, goal, list.indexOf(elbows[i - 1])),
    }
    closings(between, leg, goal, j === last ? offDeg : 0, ({ corners, elbows: used, isInPlay }) => {
      if (!isInPlay) found.push({ points: [...points.slice(0, i + 1), ...corners, ...points.slice(j + 1)], elbows: [...elbows.slice(0, i), ...used.map((e) => list[e]), ...elbows.slice(j)] })
    })
  }
  return found
}
