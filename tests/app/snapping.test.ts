import { beforeEach, describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { endPlacesOf } from '#app/places/thread/ends.ts'
import { pointSnapping, rayDown, snapping, startSnapping, stopSnapping, tapSnapping } from '#app/plan/snapping.ts'
import { jobOf, loftInput, openLoft } from './threadBench.ts'

let loft: Awaited<ReturnType<typeof openLoft>>
beforeEach(async () => {
  loft = await openLoft()
  stopSnapping()
})
const spigotAt = (id: string) => loft.bench.store.getState().assembly!.spigots.find(({ equipment, spigot }) => equipment.id === 'M1' && spigot.id === id)!.at

describe('a spigot lined up by pointing', () => {
  test('pointing shows where the piece would stand and changes nothing; the tap there moves it, and the run on it comes along', () => {
    startSnapping('M1', 'b')
    // J1 stands at y 400; half-way up, the middles of its openings are 300 mm apart from its datum end on
    pointSnapping(rayDown([1_500, 400]), 60)
    const { shown } = snapping.getState()
    if (shown?.target.kind !== 'opening') throw new Error('an opening is under the joist')
    expect(shown.target.joistId).toBe('J1')
    expect(shown.snap.words).toContain(`in line with the middle of joist J1, opening ${shown.target.opening}`)
    expect(loft.now()).toBe(loft.job)
    expect(tapSnapping(rayDown([1_500, 402]), 60)).toBe(true)
    expect(loft.steps()).toEqual(['Move Manifold'])
    // its axis runs along y: the mouth stands at the x and the height of the middle, where it was along y
    const [x, y, z] = spigotAt('b')
    expect([x, z]).toEqual([shown.snap.target[0], shown.snap.target[2]].map((mm) => expect.closeTo(mm, 6)))
    expect(y).toBeCloseTo(-60, 6)
    expect(loft.now().runs[0].waypoints[0].at).toEqual([...spigotAt('a')])
    expect(snapping.getState().spigot).toBeNull()
  })

  test('a finger, which cannot point first, shows with its first tap and takes with its second', () => {
    startSnapping('M1', 'b')
    expect(tapSnapping(rayDown([1_500, 400]), 60)).toBe(false)
    expect(snapping.getState().shown).not.toBeNull()
    // another opening is shown first as well
    expect(tapSnapping(rayDown([2_100, 400]), 60)).toBe(false)
    expect(loft.now()).toBe(loft.job)
    expect(tapSnapping(rayDown([2_110, 395]), 60)).toBe(true)
    expect(loft.steps()).toEqual(['Move Manifold'])
  })

  test('between two joists it is the bay, and beside them it says why nothing is shown', () => {
    startSnapping('M1', 'b')
    pointSnapping(rayDown([1_500, 700]), 60)
    expect(snapping.getState().shown?.snap.words).toMatch(/the bay between joist J1 and joist J2/)
    pointSnapping(rayDown([1_500, 5_000]), 60)
    expect(snapping.getState()).toMatchObject({ shown: null, why: 'That place does not lie between two joists.' })
  })
})

describe('ends that are offered as free', () => {
  const sleeve = (id: string, at: [number, number, number], axis: [number, number, number]) => ({ id, name: id, at, axis, diameterMm: 125, lengthMm: 120, through: [] })

  test('not a spigot or a sleeve that a run ends at, nor a sleeve that a run goes through', () => {
    const input = loftInput()
    const places = endPlacesOf(assemble(jobOf({
      ...input,
      sleeves: [sleeve('passed', [975, 1_300, 2_500], [0, 1, 0]), sleeve('ended', [2_500, 1_300, 2_500], [0, 1, 0]), sleeve('free', [3_000, 1_300, 2_500], [0, 1, 0])],
      runs: [...input.runs!, { ...input.runs![0], id: 'R2', name: 'Run 2', from: { equipment: 'M1', spigot: 'b' }, to: { sleeve: 'ended' }, waypoints: [{ at: [1_155, -60, 2_500] }, { at: [2_500, 1_300, 2_500] }] }],
    })))
    expect(places.filter(({ takenBy }) => takenBy === null).map(({ key }) => key)).toEqual(['T2/a', '/free'])
    expect(places.find(({ key }) => key === '/passed')!.takenBy).toBe('Run 1')
  })
})
