import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { checkRun, contextFor } from '#checks/index.ts'
import { usualPrices } from '#model/index.ts'
import { findWay } from '#routing/router/findWay.ts'
import { Laying, RouteSpace } from '#routing/router/laying.ts'
import { OtherDucts } from '#routing/router/otherDucts.ts'
import type { Vec } from '#routing/threadVector.ts'
import { box, jobOf, together, type Point } from '../../checks/smallJob.ts'
import { body } from '../threadField.ts'

/** One run along x in a void without joists, to an end so far on and so far aside, past a post of so much about a place. */
function pastPost(goal: Point, middle: readonly [number, number], wide: readonly [number, number]) {
  const job = jobOf(together({
    settings: { clearanceMm: 2 },
    zones: [{ id: 'z', name: 'Void', outline: [[-1000, -2000], [4000, -2000], [4000, 3000], [-1000, 3000]], undersideMm: 0, topMm: 200 }],
    equipment: [body('A', 'plenum', [0, 0, 100], [1, 0, 0]), body('B', 'plenum', goal, [-1, 0, 0])],
    runs: [{ id: 'R', name: 'Run', type: 'd90', from: { equipment: 'A', spigot: '1' }, to: { equipment: 'B', spigot: '1' }, waypoints: [{ at: [0, 0, 100] }, { at: goal }] }],
  }, box('post', 'wall', [...middle, 100], [...wide, 200])))
  const assembly = assemble(job), [{ run, type, from, to }] = assembly.runs
  if (type.kind !== 'semi-rigid') throw new Error('d90 is semi-rigid')
  const context = contextFor({ ...assembly, runs: [] })
  return { assembly, laying: new Laying(new RouteSpace(context, usualPrices), run, type, from, to) }
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
})
