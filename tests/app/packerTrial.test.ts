import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import { crossingsOf } from '#checks/crossings.ts'
import { checkRun } from '#checks/index.ts'
import { apply } from '#commands/index.ts'
import { tryPackers, type PackerTrial } from '#app/plan/picked/packerTrial.ts'
import { jobOf, loftInput } from './threadBench.ts'

describe('packers tried together with the run', () => {
  test('the run comes along, what it then has to spare is what the check finds once the step is made', () => {
    const job = jobOf(loftInput()), context = contextFor(assemble(job))
    const trial = tryPackers(job, context, 'T1') as PackerTrial
    expect(trial.runs.map(({ name }) => name)).toEqual(['Run 1'])
    const [{ gate, spareMm, faults }] = trial.runs
    expect(gate).toMatch(/^joist J3, opening \d+$/)
    const done = apply(job, trial.command)
    if (!done.ok) throw new Error(done.why)
    const after = contextFor(assemble(done.job))
    expect(faults).toEqual(checkRun(after, 0).filter(({ severity }) => severity !== 'advice'))
    // its spigot stands at the height of the middle, and the packers are written down
    expect(after.assembly.spigots.find(({ equipment }) => equipment.id === 'T1')!.at[2]).toBeCloseTo(trial.packer.toMm, 6)
    expect(done.job.equipment.find(({ id }) => id === 'T1')!.packerMm).toBeCloseTo(trial.packer.heightMm, 9)
    expect(spareMm).not.toBeNull()
  })

  test('of the ways that the run can come along the one is taken that leaves the most room in the opening, with no more to put right', () => {
    const input = loftInput(), [manifold, valve] = input.equipment!
    // straight on through five points, in the middle of alike joists' openings; the last one lies between the third point and the fourth
    const job = jobOf({ ...input, joistFields: [{ ...input.joistFields![0], joists: [{ id: 'J1' }, { id: 'J2' }, { id: 'J3' }] }], equipment: [{ ...manifold, centre: [1_200, -200, 2_560] }, { ...valve, centre: [1_200, 2_300, 2_560] }], runs: [{ ...input.runs![0], waypoints: [-60, 300, 1_300, 1_900, 2_160].map((y) => ({ at: [1_200, y, 2_560] as [number, number, number] })) }] })
    const context = contextFor(assemble(job)), trial = tryPackers(job, context, 'T1') as PackerTrial
    const up = trial.packer.by[2]
    expect(Math.abs(up)).toBeGreaterThan(1)
    const alone = apply(job, { do: 'move-equipment', id: 'T1', to: [1_200, 2_300, 2_560 + up], keepAxis: true })
    const done = apply(job, trial.command)
    if (!done.ok || !alone.ok) throw new Error('both can be done')
    const spareIn = (of: typeof job): number => crossingsOf(contextFor(assemble(of)), 0).at(-1)!.spareMm!
    expect(trial.runs[0].spareMm).toBeCloseTo(spareIn(done.job), 9)
    expect(spareIn(done.job)).toBeGreaterThan(spareIn(alone.job) + 1)
    expect(trial.runs[0].faults).toEqual([])
    // the point before the opening has come along, the start has not
    expect(done.job.runs[0].waypoints.map(({ at }) => at[2])).toEqual([2_560, 2_560, ...[1, 2, 3].map(() => expect.closeTo(2_560 + up, 9))])
  })

  test('with no run through an opening, or on a locked run, it says why there is none', () => {
    const job = jobOf({ ...loftInput(), runs: [] })
    expect(tryPackers(job, contextFor(assemble(job)), 'T1')).toEqual({ why: 'No run on Valve box passes an opening.' })
    const input = loftInput(), locked = jobOf({ ...input, runs: [{ ...input.runs![0], locked: true }] })
    expect(tryPackers(locked, contextFor(assemble(locked)), 'T1')).toEqual({ why: 'Run 1 ends on it and is locked: unlock first' })
  })
})
