import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import { pullingOrder } from '#routing/pullingOrder.ts'
import { rigidRuns } from '#routing/willItGoIn.ts'
import { jobOf, openLoft } from './threadBench.ts'
import { openLoftInput } from '../browser/openLoft.ts'

await openLoft(openLoftInput())
const { pulling, stepOn, idOf } = await import('#app/places/pullIn/pulling.ts')
const { passWords, passesOf } = await import('#app/places/pullIn/passWords.ts')
const { goesInAt, goingIn } = await import('#app/places/pullIn/goesInAt.ts')

/** Two runs that cross in plan, the second 100 mm above the first. */
function crossed() {
  const input = openLoftInput()
  const runs = input.runs!.map((run, i) => ({ ...run, waypoints: run.waypoints.map(({ at: [x, y, z] }) => ({ at: [x, y, z + 100 * i] as [number, number, number] })) }))
  const checks = contextFor(assemble(jobOf({ ...input, runs })))
  return { checks, order: pullingOrder(checks), rigid: new Map(rigidRuns(checks).map((run) => [run.runIndex, run])) }
}

describe('the order of pulling in, on the screen', () => {
  const plan = crossed()

  test('says of each duct what it passes, which way, and whether the other is in already', () => {
    expect(plan.order.steps.map(({ runIndex }) => idOf(plan, runIndex))).toEqual(['R1', 'R2'])
    expect(passesOf(plan, 0).map(passWords)).toEqual(['under Run 2, not in yet: 100 mm from axis to axis'])
    expect(passesOf(plan, 1).map(passWords)).toEqual(['over Run 1, in already: 100 mm from axis to axis'])
    // straight from 795 to 1775 and from 1155 to 775 over 2220 mm: they meet where 795 + 980 s = 1155 - 380 s, s = 360/1360
    const [x, y, z] = passesOf(plan, 1)[0].at
    expect([x, y, z]).toEqual([expect.closeTo(795 + 980 * 360 / 1_360, 3), expect.closeTo(-60 + 2_220 * 360 / 1_360, 3), expect.closeTo(2_600, 3)])
  })

  test('marks the end that the duct goes in from', () => {
    for (const step of plan.order.steps) {
      const free = step.ends.find(({ verdict }) => verdict === 'free')
      const { waypoints } = plan.checks.runs[step.runIndex].placed.run
      expect(goesInAt(plan, step)).toEqual(free === undefined ? null : waypoints.at(free.end === 'from' ? 0 : -1)!.at)
      expect(goingIn(plan, step)).toMatch(free === undefined ? /neither end/ : /^goes in from (Manifold|Left|Right)/)
    }
    const stuck = { ...plan.order.steps[0], ends: plan.order.steps[0].ends.map((end) => ({ ...end, verdict: 'first-bend' as const })) }
    expect(goesInAt(plan, stuck)).toBeNull()
  })

  test('is gone through from the first to the last and stays there', () => {
    pulling.setState({ plan, shownId: null })
    const shown = (by: number) => {
      stepOn(by)
      return pulling.getState().shownId
    }
    expect([1, 1, 1, -1, -1].map(shown)).toEqual(['R1', 'R2', 'R2', 'R1', 'R1'])
  })
})
