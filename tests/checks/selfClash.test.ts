import { describe, expect, test } from 'vitest'
import { checkRun, contextFor, withRun } from '#checks/index.ts'
import { sentenceOf } from '#checks/wording.ts'
import { trialSize } from '#routing/trialSize.ts'
import { assemblyOf, findingsOf, freeRun, type Point } from './smallJob.ts'

/** Out along x, round and back across its own first leg, that much above it. */
const loop = (above: number) => freeRun('R1', [[0, 0, 0], [2000, 0, 0], [2000, 800, above], [1000, 800, above], [1000, -800, above]])
/** Out, round and back beside itself: two quarter bends of the least radius, 180, and a straight between them. */
const back = (apart: number) => freeRun('R1', [[0, 0, 0], [1500, 0, 0], [1500, apart, 0], [0, apart, 0]] as Point[])

describe('a run that comes back to itself', () => {
  test('through its own first leg: the duct cuts its whole 90 mm into itself, where the legs cross', () => {
    const [finding, ...rest] = findingsOf(loop(0))
    expect(rest).toEqual([])
    expect(finding).toMatchObject({ id: 'clash:R1:R1', code: 'clash', severity: 'stop', parts: [{ id: 'R1' }, { id: 'R1', part: 'itself' }] })
    expect(finding.measured).toBeCloseTo(-90, 9)
    expect([finding.at.x, finding.at.y]).toEqual([expect.closeTo(1000, 6), expect.closeTo(0, 6)])
    expect(sentenceOf(finding)).toMatch(/^Run R1 cuts 90(\.0)? mm into itself/)
  })

  test('over itself: 90 mm from axis to axis just goes, 89 does not', () => {
    expect(findingsOf(loop(90))).toEqual([])
    expect(findingsOf(loop(89))[0].measured).toBeCloseTo(-1, 6)
  })

  test('its own bends are no clash, nor the legs beside them, however short', () => {
    expect(findingsOf(back(360))).toEqual([])
    expect(findingsOf(freeRun('R1', [[0, 0, 0], [600, 0, 0], [960, 360, 0], [1800, 360, 0]]))).toEqual([])
  })

  test('its trial size is the room between the two legs, and the checks agree on both sides of it', () => {
    const context = contextFor(assemblyOf(loop(140)))
    const { diameterMm, touchesFirst } = trialSize(context, 0)
    expect(diameterMm).toBeCloseTo(140, 6)
    expect(touchesFirst).toMatchObject({ id: 'R1', part: 'itself' })
    const { placed } = context.runs[0]
    const clashes = (diameter: number) => checkRun(withRun(context, 0, { ...placed, outerRadiusMm: diameter / 2 }), 0).filter(({ code }) => code === 'clash')
    expect(clashes(139.99)).toEqual([])
    expect(clashes(140.01)).toHaveLength(1)
  })
})

describe('a bend tighter than half the duct', () => {
  test('folds into itself even where the duct type allows it: 45 mm for a duct of 90 goes, 44 does not', () => {
    const soft = (radiusMm: number) => ({
      ...freeRun('R1', [[0, 0, 0], [1000, 0, 0], [1000, 1000, 0]], { type: 'soft' }),
      ductTypes: [{ kind: 'semi-rigid' as const, id: 'soft', name: 'soft duct', innerDiameterMm: 80, outerDiameterMm: 90, minBendRadiusMm: radiusMm }],
    })
    expect(findingsOf(soft(45))).toEqual([])
    expect(findingsOf(soft(44))[0]).toMatchObject({ code: 'bend-too-tight', measured: 44, required: 45 })
  })
})
