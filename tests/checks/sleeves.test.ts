import { describe, expect, it } from 'vitest'
import { sentenceOf } from '#checks/wording.ts'
import { box, codesOf, findingsOf, freeRun, together, type Point } from './smallJob.ts'

const wall = box('W1', 'wall', [0, 0, 0], [2000, 300, 2000])
const sleeve = (diameterMm: number, lengthMm = 300) => ({ sleeves: [{ id: 'S1', name: 'sleeve S1', at: [0, 0, 0] as Point, axis: [0, 1, 0] as Point, diameterMm, lengthMm, through: ['W1'] }] })
const run = (points: readonly Point[]) => freeRun('R1', points)
const straight = (x = 0) => run([[x, -1000, 0], [x, 1000, 0]])

describe('a run through a wall', () => {
  it('clashes without a sleeve, and passes in one of its own size', () => {
    expect(codesOf(findingsOf(together(straight(), wall)))).toEqual(['clash'])
    expect(findingsOf(together(straight(), wall, sleeve(90)))).toEqual([])
  })

  it('a sleeve 1 mm too small lacks 1 mm', () => {
    const [finding, ...rest] = findingsOf(together(straight(), wall, sleeve(89)))
    expect(rest).toEqual([])
    expect(finding).toMatchObject({ id: 'sleeve-too-small:R1:S1', severity: 'stop', required: 90, parts: [{ id: 'R1' }, { id: 'S1' }] })
    expect(finding.measured).toBeCloseTo(89, 9)
    expect(sentenceOf(finding)).toMatch(/^Run R1 is 90 mm across, insulation included, but on its axis sleeve S1 takes only 89\.0 mm/)
  })

  it('off the middle it has so much less on each side', () => {
    expect(findingsOf(together(straight(5), wall, sleeve(100)))).toEqual([])
    const [finding] = findingsOf(together(straight(6), wall, sleeve(100)))
    expect(finding.measured).toBeCloseTo(2 * (50 - 6), 9)
    expect(finding.why).toMatch(/off its middle/)
  })

  it('askew it meets the rims first', () => {
    // 150 mm from the middle to each rim, leaning 1 in 10: (60 - 15) / sqrt(1.01) = 44.78 on the axis at the rim, nearest point a little further out
    const findings = findingsOf(together(run([[-100, -1000, 0], [100, 1000, 0]]), wall, sleeve(120)))
    expect(findings.map((finding) => finding.code)).toEqual(['sleeve-too-small'])
    expect(findings[0].measured / 2).toBeCloseTo(45 / Math.sqrt(1.01), 3)
  })

  it('a sleeve shorter than the wall leaves the rest of the wall solid', () => {
    expect(codesOf(findingsOf(together(straight(), wall, sleeve(90, 200))))).not.toEqual([])
    expect(codesOf(findingsOf(together(straight(), wall, sleeve(90, 100))))).toContain('clash')
  })

  it('touching the wall anywhere else is judged as ever', () => {
    // through the sleeve, then back along the wall 30 mm off its face
    const back = run([[0, -1000, 0], [0, 375, 0], [600, 375, 0], [600, 180, 0], [600, 180, 800]])
    const findings = findingsOf(together(back, wall, sleeve(90)))
    expect(findings.map((finding) => finding.code)).toContain('clash')
    expect(findings.find((finding) => finding.code === 'clash')?.at.x).toBeGreaterThan(400)
  })

  it('passing beside the sleeve, not in it, is a plain clash', () => {
    expect(codesOf(findingsOf(together(straight(200), wall, sleeve(90))))).toEqual(['clash'])
  })
})
