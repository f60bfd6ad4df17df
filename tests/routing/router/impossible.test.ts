import { describe, expect, test } from 'vitest'
import { routeJob } from '#routing/router/routeJob.ts'
import { impossibleFloor } from '../../../fixtures/generate/impossibleFloors.ts'
import { faultsOf } from './floors.ts'

describe('a run that cannot be laid, by the proof of the floor it is on', () => {
  test('a duct over every opening: proved shut in by joists, with the largest that would pass, and a smaller duct that was routed', () => {
    const { job, largestMm } = impossibleFloor('duct-over-every-opening')
    const { ended, cannot: [why] } = routeJob(job, { runs: 'all' })
    expect(ended).toBe('partly')
    expect(why).toMatchObject({ cause: 'shut-in', isProved: true, cure: { kind: 'smaller-type', typeId: 'semi-90' } })
    expect(why.by.some((id) => id.startsWith('J'))).toBe(true)
    expect(why.largestMm).toBeCloseTo(largestMm!, 6)
  })

  test('a post before the spigot is named, and moving the terminal that was tried is told', () => {
    const { job, stoppedBy } = impossibleFloor('spigot-blocked')
    const { cannot: [why] } = routeJob(job, { runs: 'all' })
    expect(why).toMatchObject({ cause: 'spigot-blocked', isProved: true, by: stoppedBy })
    expect(why.cure).not.toBeNull()
  })

  test('rigid duct just out of line: the terminal moved into line was tried, and clears it', () => {
    const { job, cured } = impossibleFloor('no-fitting')
    const { cannot: [why] } = routeJob(job, { runs: 'all' })
    expect(why).toMatchObject({ cause: 'no-fitting', isProved: false, cure: { kind: 'move', equipmentId: 'terminal' } })
    const routed = routeJob(cured, { runs: 'all' })
    expect(routed.ended).toBe('routed')
    expect(faultsOf(routed.job)).toEqual([])
  })

  test.each(['duct-over-every-opening', 'terminal-walled-in', 'spigot-blocked'] as const)('%s: with the cause taken away it is laid', (cause) => {
    const routed = routeJob(impossibleFloor(cause).cured, { runs: 'all' })
    expect(routed.ended).toBe('routed')
    expect(faultsOf(routed.job)).toEqual([])
  })
})
