import { describe, expect, test } from 'vitest'
import { contextFor } from '#checks/index.ts'
import { assemble } from '#assembly/assemble.ts'
import { usualPrices } from '#model/index.ts'
import { closings, leastLastMm, type OpenLeg } from '#routing/router/rigidClosing.ts'
import type { RigidCourse } from '#routing/router/rigidCourse.ts'
import { rigidAsks } from '#routing/router/rigidRuns.ts'
import { rigidWay, stopsOn, type RigidAsk } from '#routing/router/rigidWay.ts'
import { plus, type Vec } from '#routing/threadVector.ts'
import { seeded } from '../../../fixtures/generate/seeded.ts'
import { box, type Point } from '../../checks/smallJob.ts'
import { fittings, rigidJob } from './rigidFloors.ts'

/** Every course of one or two corners on the planes and an ending, cheaper than so much, by going through them all. */
function cheaperThan({ ways, planes, from, to, offDeg, prices: { bendMm } }: RigidAsk, mostMm: number): RigidCourse[] {
  const found: { readonly course: RigidCourse, readonly cost: number }[] = []
  const end = (points: readonly Vec[], used: readonly number[], leg: OpenLeg, cost: number): void => closings(ways, leg, to, offDeg, ({ corners, elbows, lengthMm, isInPlay }) => {
    const whole = cost + lengthMm + bendMm * elbows.length
    if (!isInPlay && whole < mostMm) found.push({ course: { points: [from.at, ...points, ...corners, to.at], elbows: [...used, ...elbows].map((e) => ways.elbows[e]) }, cost: whole })
  })
  const goOn = (points: readonly Vec[], used: readonly number[], leg: OpenLeg, cost: number): void => {
    end(points, used, leg, cost)
    if (points.length === 2) return
    for (const legMm of stopsOn(ways, planes, leg)) {
      if (cost + legMm >= mostMm) break
      const at = plus(leg.at, ways.ways[leg.way], legMm)
      for (const { way, elbow } of ways.turns[leg.way]) {
        const { takesMm, tangentMm, insertionMm, savedMm } = ways.elbows[elbow]
        if (legMm < (leg.straightMm > 0 ? tangentMm + Math.max(leg.straightMm, insertionMm) : leg.takenMm + takesMm)) continue
        goOn([...points, at], [...used, elbow], { at, way, takenMm: takesMm, straightMm: 0, lastMm: leastLastMm(ways, to, elbow) }, cost + legMm + bendMm - savedMm)
      }
    }
  }
  goOn([], [], { at: from.at, way: ways.start, takenMm: 0, straightMm: Math.max(from.straightMm, 1e-3), lastMm: 0 }, 0)
  return found.sort((a, b) => a.cost - b.cost).map(({ course }) => course)
}

let barred = 0

describe('one rigid run among boards in a small void', () => {
  test.each(Array.from({ length: 10 }, (_, k) => 41 + k))('seed %i: none of all the courses on the same planes that cost less passes the checks', (seed) => {
    const random = seeded(seed)
    const axes: readonly Point[] = [[-1, 0, 0], [0, 1, 0], [0, -1, 0], [0, 0, -1]]
    const boards = Array.from({ length: 5 }, (_, k) => box(`board-${k}`, 'wall', [random.whole(500, 1700), random.whole(-300, 900), random.whole(300, 1100)], [random.whole(60, 300), random.whole(200, 600), random.whole(200, 600)]))
    const job = rigidJob([{ from: [0, 0, 700], fromAxis: [1, 0, 0], to: [2400, random.whole(0, 600), random.whole(500, 900)], toAxis: random.pick(axes) }], fittings(90, 45), ...boards)
    const context = contextFor({ ...assemble(job), runs: [] })
    const [[ask]] = rigidAsks(context, assemble(job).runs[0], [], usualPrices)
    const { course, cost, isWhole } = rigidWay(ask, { haste: 1, mostSteps: 200_000, mostCost: Infinity })
    expect(isWhole).toBe(true)
    expect(course).not.toBeNull()
    expect(ask.judged(course!)).toBeCloseTo(cost, 6)
    const cheaper = cheaperThan(ask, cost - 1e-6)
    for (const other of cheaper) expect(ask.judged(other)).toBe(Infinity)
    barred += cheaper.length
    // and going through them all finds that one too, where it has so few corners
    if (course!.elbows.length <= 4) expect(cheaperThan(ask, cost + 1e-3).some((other) => ask.judged(other) < cost + 1e-3)).toBe(true)
  })

  test('and the boards did bar the way', () => expect(barred).toBeGreaterThan(100))
})
