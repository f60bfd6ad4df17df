import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { checkRun, contextFor } from '#checks/index.ts'
import { centrelineThrough } from '#geometry/curve/waypoints.ts'
import { usualPrices, type Job } from '#model/index.ts'
import { findWay } from '#routing/router/findWay.ts'
import { Laying, RouteSpace } from '#routing/router/laying.ts'
import { OtherDucts } from '#routing/router/otherDucts.ts'
import type { Vec } from '#routing/threadVector.ts'
import { box, jobOf, together, type Point } from '../../checks/smallJob.ts'
import { cheapestOfAll } from '../../oracle/everyWay.ts'
import { seeded } from '../../oracle/seeded.ts'
import { body, SECTION } from '../threadField.ts'

/** One run along x in a void without joists, to an end so far on and so far aside, past a post of so much about a place. */
function pastPost(goal: Point, middle: readonly [number, number], wide: readonly [number, number]) {
  const job = jobOf(together({
    settings: { clearanceMm: 2 },
    zones: [{ id: 'z', name: 'Void', outline: [[-1000, -2000], [4000, -2000], [4000, 3000], [-1000, 3000]], undersideMm: 0, topMm: 200 }],
    equipment: [body('A', 'plenum', [0, 0, 100], [1, 0, 0]), body('B', 'plenum', goal, [-1, 0, 0])],
    runs: [{ id: 'R', name: 'Run', type: 'd90', from: { equipment: 'A', spigot: '1' }, to: { equipment: 'B', spigot: '1' }, waypoints: [{ at: [0, 0, 100] }, { at: goal }] }],
  }, box('post', 'wall', [...middle, 100], [...wide, 200])))
  return layingOf(job)
}

function layingOf(job: Job) {
  const assembly = assemble(job), [{ run, type, from, to }] = assembly.runs
  if (type.kind !== 'semi-rigid') throw new Error('d90 is semi-rigid')
  const context = contextFor({ ...assembly, runs: [] })
  return { assembly, context, laying: new Laying(new RouteSpace(context, usualPrices), run, type, from, to) }
}

/** One run from bay to bay through three joists, their webs and both ends drawn from a seed. */
function throughThreeJoists(seed: number) {
  const draw = seeded(seed), whole = (low: number, high: number): number => Math.round(low + draw() * (high - low))
  const joists = [1, 2, 3].map((number) => ({ id: `J${number}`, firstNodeMm: whole(0, 599) }))
  const start: Point = [whole(600, 900), -200, 152], goal: Point = [whole(1500, 2100), 1000, 152]
  return layingOf(jobOf({
    settings: { clearanceMm: 2, clearances: [{ between: ['duct', 'duct'], mm: 5 }] },
    zones: [{ id: 'z', name: 'Void', outline: [[-200, -450], [3200, -450], [3200, 1250], [-200, 1250]], undersideMm: 0, topMm: 304 }],
    sections: [SECTION],
    joistFields: [{ id: 'F', name: 'Joists', section: SECTION.id, origin: [0, 0, 0], directionDeg: 0, centresMm: 400, lengthMm: 3200, joists }],
    equipment: [body('A', 'plenum', start, [1, 0, 0]), body('B', 'plenum', goal, [-1, 0, 0])],
    runs: [{ id: 'R', name: 'Run', type: 'd90', from: { equipment: 'A', spigot: '1' }, to: { equipment: 'B', spigot: '1' }, waypoints: [{ at: start }, { at: goal }] }],
  }))
}

/** A duct that lies across the joists somewhere between the ends. */
function ductAcross(seed: number): OtherDucts {
  const draw = seeded(100 + seed), x = 900 + 900 * draw(), others = new OtherDucts(5)
  others.add(centrelineThrough([x, -300, 152, x + 600 * (draw() - 0.5), 1100, 152], [0, 0]).centreline, 45)
  return others
}

const { bendMm } = usualPrices

describe('the search for one way, with no haste', () => {
  test.each([
    [[3000, 600, 100], [1500, 300], [300, 100]], [[2500, 700, 100], [1000, 100], [200, 200]], [[2800, -500, 100], [1900, -480], [400, 200]],
  ] as const)('to %j past a post at %j: as cheap as the cheapest clean pair of corners on the two axes, tried one by one', (goal, middle, wide) => {
    const { assembly, laying } = pastPost([...goal], middle, wide)
    const [plan] = laying.plans
    const on = ({ at, axis }: { readonly at: Vec, readonly axis: Vec }, t: number): Vec => [at[0] + t * axis[0], at[1] + t * axis[1], at[2] + t * axis[2]]
    const pairs = plan.startStops.flatMap((s) => plan.goalStops.map((t) => {
      const placed = laying.placed(laying.courseOf([plan.from.at, on(plan.from, s), on(plan.to, t), plan.to.at]))
      return { placed, cost: placed.centreline.lengthMm + 2 * bendMm }
    })).sort((a, b) => a.cost - b.cost)
    const isClean = ({ placed }: (typeof pairs)[number]): boolean => checkRun(contextFor({ ...assembly, runs: [placed] }), 0).every(({ severity }) => severity === 'advice')
    const first = pairs.findIndex(isClean), best = pairs[first]
    const found = findWay(plan, { others: new OtherDucts(5), throughMm: 0, mostSteps: 100_000, haste: 1, slackMm: 0 })
    if (found.kind !== 'found') throw new Error(`no way: ${found.kind}`)
    // a third corner costs one bend more, and no way is shorter than straight: so none with more corners is as cheap
    expect(Math.hypot(goal[0], goal[1]) + 3 * bendMm).toBeGreaterThan(best.cost)
    expect(first).toBeGreaterThan(0)
    expect(found.way.points.length).toBe(4)
    expect(found.way.cost).toBeGreaterThanOrEqual(best.cost - 1e-6)
    expect(found.way.cost).toBeLessThanOrEqual(best.cost + 1e-6)
  })

  test.each([...[1, 2, 3, 4].map((seed) => [seed, 'nothing else there', 0] as const), ...[1, 3, 5, 6].map((seed) => [seed, 'a duct across that costs 150 to go through', 150] as const)])('through three joists, seed %i, %s: no dearer by a hundredth than the cheapest of all ways on the same corners', (seed, _, throughMm) => {
    const { context, laying: { plans: [plan] } } = throughThreeJoists(seed), others = throughMm === 0 ? new OtherDucts(5) : ductAcross(seed)
    const found = findWay(plan, { others, throughMm, mostSteps: 100_000, haste: 1, slackMm: 3 })
    if (found.kind !== 'found') throw new Error(`no way: ${found.kind}`)
    const { cost } = found.way, least = cheapestOfAll(context, plan, { others, throughMm, slackMm: 3, belowMm: cost + 0.01 })
    // what was found is one of them
    expect(least.cost).toBeLessThanOrEqual(cost + 1e-6)
    expect(cost).toBeLessThanOrEqual(1.01 * least.cost)
  })
})
