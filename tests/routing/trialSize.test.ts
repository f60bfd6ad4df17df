import { describe, expect, test } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { checkRun, contextFor, withRun, type CheckContext } from '#checks/index.ts'
import { trialSize } from '#routing/trialSize.ts'
import { assemblyOf, box, freeRun, jobOf, oneJoist, together, type Point } from '../checks/smallJob.ts'
import { crowdedJob } from './crowdedJob.ts'

const trialOf = (fields: Parameters<typeof assemblyOf>[0]) => trialSize(contextFor(assemblyOf(fields)), 0)

describe('trial size', () => {
  test('a run 100 mm over a beam takes a duct of 200 mm and would touch the beam first', () => {
    const trial = trialOf(together(freeRun('R1', [[0, 0, 0], [2000, 0, 0]]), box('beam', 'beam', [1000, 0, -150], [100, 400, 100])))
    expect(trial.diameterMm).toBeCloseTo(200, 9)
    expect(trial.touchesFirst?.id).toBe('beam')
    expect(trial.at?.z).toBeCloseTo(-100, 9)
  })

  test('the size up to which what the job asks is kept clear is smaller by twice that: 100 mm over a beam with 12 mm asked, and 30 mm to a pipe 110 mm off', () => {
    const fields = together(freeRun('R1', [[0, 0, 0], [2000, 0, 0]]), box('beam', 'beam', [1000, 0, -150], [100, 400, 100]), box('pipe', 'pipe', [500, 160, 0], [100, 100, 100]),
      { settings: { clearances: [{ between: ['duct', 'beam'], mm: 12 }, { between: ['duct', 'pipe'], mm: 30 }] } })
    const context = contextFor(assemblyOf(fields))
    expect([trialSize(context, 0).diameterMm, trialSize(context, 0).touchesFirst?.id]).toEqual([expect.closeTo(200, 9), 'beam'])
    const kept = trialSize(context, 0, 'clearance')
    // 110 - 30 is less than 100 - 12
    expect([kept.diameterMm, kept.touchesFirst?.id]).toEqual([expect.closeTo(160, 9), 'pipe'])
    // the check says the same of it: nothing just below, too close just above
    const sized = (diameterMm: number) => checkRun(withRun(context, 0, { ...context.runs[0].placed, outerRadiusMm: diameterMm / 2 }), 0).map(({ code }) => code)
    expect(sized(160 - 1e-3)).toEqual([])
    expect(sized(160 + 1e-3)).toEqual(['tight'])
  })

  test('beside another run, that run keeps its own size: 160 mm between axes and a 90 mm neighbour leave 230 mm', () => {
    const second = freeRun('R2', [[0, 160, 0], [2000, 160, 0]])
    const narrow = { ...second, sleeves: second.sleeves.map((sleeve) => ({ ...sleeve, diameterMm: 92 })) }
    const trial = trialOf(together(freeRun('R1', [[0, 0, 0], [2000, 0, 0]]), narrow))
    expect(trial.diameterMm).toBeCloseTo(2 * (160 - 45), 9)
    expect(trial.touchesFirst?.id).toBe('R2')
  })

  test('in the middle of an opening it takes the incircle of the triangle: 2 * 70.75 mm (area over half the perimeter, Euclid IV.4)', () => {
    // triangle of base 600 and height 160 moved in by 8 along both slopes: see smallJob.ts
    const trial = trialOf(together(oneJoist(), freeRun('R1', [[300, -500, 47 + 70.75], [300, 500, 47 + 70.75]])))
    expect(trial.diameterMm).toBeCloseTo(2 * 70.75, 6)
  })

  test('the void is a limit too: 120 mm above its underside', () => {
    const zone = { zones: [{ id: 'Z', name: 'Void', outline: [[-500, -500], [2500, -500], [2500, 500], [-500, 500]] as [number, number][], undersideMm: -120, topMm: 400 }] }
    const trial = trialOf(together(freeRun('R1', [[0, 0, 0], [2000, 0, 0]]), zone))
    expect(trial.diameterMm).toBeCloseTo(240, 6)
    expect(trial.touchesFirst?.name).toBe('the ceiling (Void)')
  })

  test('a tube thicker than its bend radius folds into itself', () => {
    const trial = trialOf(freeRun('R1', [[0, 0, 0], [1000, 0, 0], [1000, 1000, 0]]))
    expect(trial.diameterMm).toBeCloseTo(2 * 180, 9)
    expect(trial.touchesFirst?.part).toBe('bend-1')
  })

  test('a sleeve is a limit: 400 mm takes 400 mm on its axis', () => {
    const trial = trialOf(freeRun('R1', [[0, 0, 0], [2000, 0, 0]]))
    expect(trial.diameterMm).toBeCloseTo(400, 9)
    expect(trial.touchesFirst?.id).toBe('R1-a')
  })

  test('straight from one manifold to another with nothing else about, no size is given', () => {
    const manifold = (id: string, x: number, out: number) => ({
      id, name: id, kind: 'manifold' as const, centre: [x, 0, 0] as Point, sizeMm: [200, 400, 300] as Point,
      spigots: [{ id: '1', at: [140 * out, 0, 0] as Point, axis: [out, 0, 0] as Point, diameterMm: 90 }],
    })
    const trial = trialOf({
      equipment: [manifold('M1', 0, 1), manifold('M2', 2000, -1)],
      runs: [{ id: 'R1', name: 'Run 1', type: 'd90', from: { equipment: 'M1', spigot: '1' }, to: { equipment: 'M2', spigot: '1' }, waypoints: [{ at: [140, 0, 0] }, { at: [1860, 0, 0] }] }],
    })
    expect(trial).toEqual({ diameterMm: null, touchesFirst: null, at: null, stationMm: null })
  })

  test('with its middle inside a beam not even a thread fits', () => {
    const trial = trialOf(together(freeRun('R1', [[0, 0, 0], [2000, 0, 0]]), box('beam', 'beam', [1000, 0, 0], [100, 400, 100])))
    expect(trial.diameterMm).toBe(0)
    expect(trial.touchesFirst?.id).toBe('beam')
  })

  test('its own manifold does not limit a duct that leaves it square', () => {
    const context = contextFor(assemble(jobOf(manifoldJob())))
    expect(trialSize(context, 0).touchesFirst?.id).toBe('far-beam')
  })

  test.each([11, 12, 13, 14, 15, 16, 17, 18])('the checks agree: nothing is touched just below the trial size and something is just above (seed %i)', (seed) => {
    const context = contextFor(assemble(jobOf(crowdedJob(seed))))
    let measured = 0, sizes = ''
    context.runs.forEach((_, i) => {
      const { diameterMm, touchesFirst } = trialSize(context, i)
      sizes += `${diameterMm} `
      if (diameterMm === null || diameterMm < 1 || touchesFirst?.part?.startsWith('bend-')) return
      expect(touchesWith(context, i, diameterMm - 0.01), `run ${i} just below ${diameterMm}`).toEqual([])
      expect(touchesWith(context, i, diameterMm + 0.01), `run ${i} just above ${diameterMm}`).not.toEqual([])
      measured++
    })
    expect(measured, sizes).toBeGreaterThan(0)
  })
})

const TOUCHES = ['clash', 'cut-member', 'leaves-void', 'sleeve-too-small']

function touchesWith(context: CheckContext, runIndex: number, diameterMm: number): string[] {
  const { placed } = context.runs[runIndex]
  return checkRun(withRun(context, runIndex, { ...placed, outerRadiusMm: diameterMm / 2 }), runIndex).filter((f) => TOUCHES.includes(f.code)).map((f) => f.id)
}

function manifoldJob() {
  return together(
    {
      equipment: [{
        id: 'M1', name: 'supply manifold', kind: 'manifold', centre: [0, 0, 0], sizeMm: [200, 400, 300],
        spigots: [{ id: '1', at: [140, 0, 0], axis: [1, 0, 0], diameterMm: 90 }],
      }],
    },
    box('far-beam', 'beam', [1500, 0, 300], [100, 400, 100]),
    {
      sleeves: [{ id: 'S', name: 'S', at: [2000, 0, 0], axis: [1, 0, 0], diameterMm: 900, lengthMm: 20, through: [] }],
      runs: [{ id: 'R1', name: 'Run 1', type: 'd90', from: { equipment: 'M1', spigot: '1' }, to: { sleeve: 'S' }, waypoints: [{ at: [140, 0, 0] }, { at: [2000, 0, 0] }] }],
    },
  )
}
