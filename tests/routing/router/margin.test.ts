import { describe, expect, test } from 'vitest'
import { HAIR_MM, HAIR_SHARE } from '#routing/router/margin.ts'
import { routeJob } from '#routing/router/routeJob.ts'
import type { Job } from '#model/index.ts'
import { body } from '../threadField.ts'
import { box, jobOf, together, type EquipmentInput, type Point } from '../../checks/smallJob.ts'
import { faultsOf } from './floors.ts'

const RADIUS_MM = 45, CLEAR_MM = 2
/** how near the run's ends lie to the wall on the right, and how much room there is in all, beyond what is required, mm */
const NEAR_MM = 2, ROOM_MM = 24

/** A 90 mm run between two ends 3 m apart that face each other, a beam across half way that it must dip under, and walls along both sides of it. */
function underBeam(hasWalls: boolean): Job {
  const plenum = (id: string, mouth: Point, axis: Point): EquipmentInput => ({ ...body(id, 'plenum', mouth, axis), sizeMm: [90, 90, 90] })
  const right = -RADIUS_MM - CLEAR_MM - NEAR_MM, left = RADIUS_MM + CLEAR_MM + ROOM_MM - NEAR_MM
  const walls = hasWalls ? [box('right', 'wall', [1500, right - 50, 152], [2600, 100, 304]), box('left', 'wall', [1500, left + 50, 152], [2600, 100, 304])] : []
  return jobOf(together({
    settings: { clearanceMm: CLEAR_MM },
    zones: [{ id: 'z', name: 'Void', outline: [[-500, -1000], [3500, -1000], [3500, 1000], [-500, 1000]], undersideMm: 0, topMm: 304 }],
    equipment: [plenum('A', [0, 0, 200], [1, 0, 0]), plenum('B', [3000, 0, 200], [-1, 0, 0])],
    runs: [{ id: 'R', name: 'Run', type: 'd90', from: { equipment: 'A', spigot: '1' }, to: { equipment: 'B', spigot: '1' }, waypoints: [{ at: [0, 0, 200] }, { at: [3000, 0, 200] }] }],
  }, box('beam', 'steel', [1500, 0, 227], [60, 900, 154]), ...walls))
}

describe('equal routes', () => {
  const [free, walled] = [false, true].map((hasWalls) => routeJob(underBeam(hasWalls), { runs: 'all' }))
  const middleOf = ({ job }: typeof free): Point => {
    const [{ waypoints }] = job.runs
    expect(waypoints).toHaveLength(5)
    return [...waypoints[2].at]
  }

  test('under a beam with nothing beside it a run lies straight in plan', () => {
    expect(free.ended).toBe('routed')
    expect(faultsOf(free.job)).toEqual([])
    expect(middleOf(free)[1]).toBeCloseTo(0, 2)
  })

  test('beside a wall it stands off: down the middle between two, and no longer than a tape can tell', () => {
    expect(walled.ended).toBe('routed')
    expect(faultsOf(walled.job)).toEqual([])
    // 2 mm from the one wall and 22 from the other at its ends: the middle is 10 mm over
    expect(middleOf(walled)[1]).toBeGreaterThan(7)
    expect(middleOf(walled)[1]).toBeLessThan(13)
    expect(walled.lengthMm).toBeLessThanOrEqual((1 + HAIR_SHARE) * free.lengthMm + HAIR_MM)
  })
})
