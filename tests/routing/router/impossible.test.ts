import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { checkJob } from '#checks/index.ts'
import type { Cure } from '#routing/router/cures.ts'
import { routeJob } from '#routing/router/routeJob.ts'
import type { Job } from '#model/index.ts'
import { impossibleFloor, type ImpossibleCause } from '../../../fixtures/generate/impossibleFloors.ts'
import { faultsOf } from './floors.ts'

/** A floor that cannot be laid whole, its boxes but one made units, which are never tried elsewhere (with no longer straights): fewer changes to try. */
function stuck(cause: ImpossibleCause, movable = '') {
  const floor = impossibleFloor(cause)
  const { settings, equipment } = floor.job, { straightAtSpigot: straight } = settings
  const job: Job = {
    ...floor.job, settings: { ...settings, straightAtSpigot: { ...straight, unitDiameters: straight.otherDiameters } },
    equipment: equipment.map((one) => one.id === movable ? one : { ...one, kind: 'unit' }),
  }
  return { ...floor, job }
}

/** The job with the cure's move made, if that is what the cure is. */
function moved(job: Job, cure: Cure | null): Job {
  if (cure?.kind !== 'move') return job
  return { ...job, equipment: job.equipment.map((one) => one.id === cure.equipmentId ? { ...one, centre: one.centre.map((value, k) => value + cure.byMm[k]) as [number, number, number] } : one) }
}

const standingIn = (job: Job) => checkJob(assemble(job)).filter(({ code }) => code === 'stands-in').map(({ id }) => id)

describe('a run that cannot be laid, by the proof of the floor it is on', () => {
  test('a duct over every opening: proved shut in by joists, with the largest that would pass, and a smaller duct that was routed', () => {
    const { job, largestMm } = stuck('duct-over-every-opening')
    const { ended, cannot: [why] } = routeJob(job, { runs: 'all' })
    expect(ended).toBe('partly')
    expect(why).toMatchObject({ cause: 'shut-in', isProved: true, cure: { kind: 'smaller-type', typeId: 'semi-90' } })
    expect(why.by.some((id) => id.startsWith('J'))).toBe(true)
    expect(why.largestMm).toBeCloseTo(largestMm!, 6)
  })

  test('a post before the spigot is named, and moving the terminal that was tried is told', () => {
    const { job, stoppedBy } = stuck('spigot-blocked', 'terminal')
    const { cannot: [why] } = routeJob(job, { runs: 'all' })
    expect(why).toMatchObject({ cause: 'spigot-blocked', isProved: true, by: stoppedBy })
    expect(why.cure).not.toBeNull()
    expect(standingIn(moved(job, why.cure))).toEqual([])
  })

  test('boarding all round the terminal: proved shut in by it, and no move is told that would stand it in the boarding', () => {
    const { job, stoppedBy } = stuck('terminal-walled-in', 'terminal')
    const { ended, cannot } = routeJob(job, { runs: 'all' })
    expect(ended).toBe('partly')
    expect(cannot).toMatchObject([{ cause: 'shut-in', isProved: true }])
    expect(cannot[0].by[0]).toBe(stoppedBy[0])
    expect(standingIn(moved(job, cannot[0].cure))).toEqual([])
  })

  test('two ducts and a window for one: one is laid, the other told what is in its way, and leaving the first out was tried and frees it', () => {
    const { job, stoppedBy } = stuck('one-duct-opening')
    const { ended, job: laid, runs, cannot } = routeJob(job, { runs: 'all' })
    expect(ended).toBe('partly')
    expect(runs.map(({ isRouted }) => isRouted)).toEqual([true, false])
    expect(cannot).toMatchObject([{ runId: 'R2', cause: 'crowded', isProved: true, counted: { runIds: ['R1', 'R2'], most: 1 }, cure: { kind: 'without', runIds: ['R1'] } }])
    expect(cannot[0].by).toContain('R1')
    expect(cannot[0].by.some((id) => stoppedBy.includes(id))).toBe(true)
    const alone = routeJob({ ...laid, runs: laid.runs.filter(({ id }) => id !== 'R1') }, { runs: 'all', ports: 'kept' })
    expect(alone.ended).toBe('routed')
    expect(faultsOf(alone.job)).toEqual([])
  })

  test('rigid duct just out of line: the terminal moved into line was tried, and clears it', () => {
    const { job, cured } = impossibleFloor('no-fitting')
    const { cannot: [why] } = routeJob(job, { runs: 'all' })
    expect(why).toMatchObject({ cause: 'no-fitting', isProved: false, cure: { kind: 'move' } })
    const routed = routeJob(cured, { runs: 'all' })
    expect(routed.ended).toBe('routed')
    expect(faultsOf(routed.job)).toEqual([])
  })

  test.each(['duct-over-every-opening', 'terminal-walled-in', 'spigot-blocked', 'one-duct-opening'] as const)('%s: with the cause taken away it is laid', (cause) => {
    const routed = routeJob(impossibleFloor(cause).cured, { runs: 'all' })
    expect(routed.ended).toBe('routed')
    expect(faultsOf(routed.job)).toEqual([])
  })
})
