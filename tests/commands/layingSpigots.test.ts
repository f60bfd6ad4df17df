import { describe, expect, test } from 'vitest'
import { apply } from '#commands/index.ts'
import { type SpigotPlan, spigotLayout, spigotPlanOf } from '#commands/layingSpigots.ts'
import { compassOf } from '#geometry/compass.ts'
import type { Job } from '#model/index.ts'
import { workshopJob } from './workshopJob.ts'

/** The manifold with six spigots in a row and runs on the second and the last of them. */
function withSix(): Job {
  const made = apply(workshopJob(), {
    do: 'add-manifold', id: 'M2', name: 'Second manifold', centre: [3000, 3000, 2550], sizeMm: [300, 800, 200], face: '+x', count: 6, pitchMm: 120, diameterMm: 92, main: { face: '-x', diameterMm: 160 },
  })
  if (!made.ok) throw new Error(made.why)
  return ['p2', 'p6'].reduce((job, spigot) => {
    const done = apply(job, { do: 'add-run', type: 'D1', name: `On ${spigot}`, from: { equipment: 'M2', spigot }, to: { equipment: 'V2', spigot: 'p1' }, corners: [{ at: [3600, 2800, 2550] }] } as never)
    if (!done.ok) throw new Error(done.why)
    return done.job
  }, made.job)
}
const PLAN: SpigotPlan = { face: '+x', count: 6, rows: 1, pitchMm: 120, diameterMm: 92 }

describe('spigots laid out anew', () => {
  test('what lies there now is read as it was placed', () => {
    const job = withSix()
    expect(spigotPlanOf(job.equipment.at(-1)!)).toEqual(PLAN)
    const again = spigotLayout(job, job.equipment.at(-1)!, PLAN)
    expect(typeof again === 'string' ? again : [again.spigots, again.gone]).toEqual([job.equipment.at(-1)!.spigots, []])
  })

  test('fewer of them take free ones away first, and a run only when there is none free left', () => {
    const job = withSix(), manifold = job.equipment.at(-1)!
    const four = spigotLayout(job, manifold, { ...PLAN, count: 4 }), one = spigotLayout(job, manifold, { ...PLAN, count: 1 })
    if (typeof four === 'string' || typeof one === 'string') throw new Error('it can be laid out')
    expect(four.gone).toEqual(['p5', 'p4'])
    expect([four.runsLost, four.runsKept.map(({ name }) => name)]).toEqual([[], ['On p2', 'On p6']])
    expect(one.runsLost.map(({ name }) => name)).toEqual(['On p6'])
    // the main one stays where it is
    expect(four.spigots.at(-1)).toEqual(manifold.spigots.at(-1))
  })

  test('runs on kept spigots come along to where those are now', () => {
    const done = apply(withSix(), { do: 'lay-spigots', id: 'M2', ...PLAN, count: 4, rows: 2, pitchMm: 95 })
    if (!done.ok) throw new Error(done.why)
    const [on2, on6] = done.job.runs.slice(-2)
    // p1, p2 above and p3, p6 below, 47.5 mm off the middle of a face at x 3000 + 150 + 40
    expect([on2.waypoints[0].at, on6.waypoints[0].at]).toEqual([[3190, 3047.5, 2597.5], [3190, 3047.5, 2502.5]])
  })

  test('where a run would lose its spigot it is refused, or the run goes with it', () => {
    const job = withSix()
    const command = { do: 'lay-spigots', id: 'M2', ...PLAN, count: 1 } as const
    expect(apply(job, command)).toEqual({ ok: false, why: 'On p6 ends on it: remove it with it, or end it elsewhere first' })
    const done = apply(job, { ...command, withRuns: true })
    expect(done.ok && done.job.runs.map(({ name }) => name)).not.toContain('On p6')
    expect(done.ok && done.job.runs.map(({ name }) => name)).toContain('On p2')
  })

  test('not on the side of the main spigot', () => {
    const job = withSix()
    expect(spigotLayout(job, job.equipment.at(-1)!, { ...PLAN, face: '-x' })).toBe('spigot main is on that side')
  })

  test('a side is named by the point of the compass that it looks to, north up in plan', () => {
    expect([[1, 0], [0, 1], [-1, 0], [0, -1], [1, 1], [-3, -3], [10, 1], [-1, 0.01]].map(([x, y]) => compassOf(x, y))).toEqual(['east', 'north', 'west', 'south', 'north-east', 'south-west', 'east', 'west'])
  })
})
