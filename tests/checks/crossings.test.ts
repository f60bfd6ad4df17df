import { describe, expect, it } from 'vitest'
import { contextFor, crossingsOf } from '#checks/index.ts'
import { assemblyOf, codesOf, findingsOf, freeRun, oneJoist, OPEN_WEB, together, type Point } from './smallJob.ts'

const through = (x: number, z: number, id = 'R1') => freeRun(id, [[x, -1000, z], [x, 1000, z]])
const crossings = (fields: Parameters<typeof assemblyOf>[0], runIndex = 0) => crossingsOf(contextFor(assemblyOf(fields)), runIndex)

describe('a duct through an open-web joist', () => {
  it('in the middle of an opening has the room of its incircle: 70.75 less 45', () => {
    // incircle of the triangle: area over half the perimeter, see smallJob.ts
    const [crossing, ...rest] = crossings(together(through(300, 47 + 70.75), oneJoist()))
    expect(rest).toEqual([])
    expect(crossing).toMatchObject({ joistIndex: 0, hole: null, inBend: false, ductDiameterMm: 90, shear: [0, 0] })
    expect(crossing.opening).not.toBeNull()
    expect(crossing.stationMm).toBeCloseTo(1000, 9)
    expect([crossing.x, crossing.y]).toEqual([300, 47 + 70.75])
    expect(crossing.largestStraightMm).toBeCloseTo(141.5, 9)
    expect(crossing.largestHereMm).toBeCloseTo(141.5, 9)
    expect(crossing.spareMm).toBeCloseTo(25.75, 9)
  })

  it('10 mm lower has 10 mm less over the bottom chord', () => {
    expect(crossings(together(through(300, 47 + 60.75), oneJoist()))[0].spareMm).toBeCloseTo(15.75, 9)
  })

  it('the spare is what the clash check measures', () => {
    const asked = { settings: { clearanceMm: 40 } }
    const [worst] = findingsOf(together(through(310, 47 + 60), oneJoist(), asked))
    expect(crossings(together(through(310, 47 + 60), oneJoist()))[0].spareMm).toBeCloseTo(worst.measured, 6)
  })

  it('openings are numbered from the datum end', () => {
    const centres = [300, 600, 900, 1200, 1500]
    const numbers = centres.map((x, i) => crossings(together(through(x, i % 2 === 0 ? 47 + 70.75 : 207 - 70.75), oneJoist()))[0].opening)
    expect(numbers.every((number, i) => number !== null && (i === 0 || number > (numbers[i - 1] ?? Infinity)))).toBe(true)
  })

  it('through a web or a chord is through no opening', () => {
    expect(crossings(together(through(150, 127), oneJoist()))[0]).toMatchObject({ opening: null, largestHereMm: null, spareMm: null })
    expect(crossings(together(through(300, 20), oneJoist()))[0]).toMatchObject({ opening: null })
  })

  it('over, under and past the end of the joist is no crossing', () => {
    for (const [x, z] of [[300, 260], [300, -5], [-5, 120], [2405, 120]]) expect(crossings(together(through(x, z), oneJoist()))).toEqual([])
  })

  it('crosses every joist of a field once, in order along the run, also where two legs meet on the middle plane', () => {
    const field = oneJoist(OPEN_WEB, { joists: [{ id: 'J1' }, { id: 'J2' }, { id: 'J3' }] })
    const run = freeRun('R1', [[300, -1000, 118], [300, 400, 118], [310, 2000, 118]])
    const found = crossings(together(run, field))
    expect(found.map((crossing) => crossing.joistIndex)).toEqual([0, 1, 2])
    expect(found[1].inBend || found[1].stationMm > 1399).toBe(true)
  })

  it('a bend that turns back crosses the same joist twice', () => {
    // both corners are 100 beyond the middle plane, their arcs of radius 180 about points 80 short of it
    const run = freeRun('R1', [[300, -1000, 118], [300, 100, 118], [1500, 100, 118], [1500, -1000, 118]])
    const found = crossings(together(run, oneJoist()))
    const inset = 180 - Math.sqrt(180 ** 2 - 80 ** 2)
    expect(found.map((crossing) => crossing.x)).toEqual([300 + inset, 1500 - inset].map((x) => expect.closeTo(x, 6)))
    expect(found.every((crossing) => crossing.inBend)).toBe(true)
  })

  it('slanting leaves less: the largest here shrinks, straight on stays', () => {
    const slanting = freeRun('R1', [[300 - 300, -1000, 117.75], [300 + 300, 1000, 117.75]])
    const [crossing] = crossings(together(slanting, oneJoist()))
    expect(crossing.shear[0]).toBeCloseTo(0.3, 12)
    expect(crossing.largestStraightMm).toBeCloseTo(141.5, 9)
    // against the sloping sides, normal (8, 15) / 17, the axis drifts 0.3 * 8 / 17 for each mm across; their plates end 50.5 from the middle
    const drift = 0.3 * 8 / 17
    expect(crossing.largestHereMm).toBeCloseTo(2 * (70.75 * 32 / 17 - 50.5 * drift) / (15 / 17 + Math.hypot(1, drift)), 9)
  })
})

describe('an opening too small', () => {
  const duct = (outerDiameterMm: number) => ({ ductTypes: [{ kind: 'semi-rigid' as const, id: 'big', name: 'big duct', innerDiameterMm: 100, outerDiameterMm, minBendRadiusMm: 300 }] })
  const job = (mm: number) => together(freeRun('R1', [[300, -1000, 117.75], [300, 1000, 117.75]], { type: 'big' }), oneJoist(), duct(mm))

  it('takes its incircle and no more, from both sides', () => {
    expect(findingsOf(job(141.5))).toEqual([])
    const [finding] = findingsOf(job(141.6)).filter((f) => f.code === 'opening-too-small')
    expect(finding).toMatchObject({ severity: 'stop', required: 141.6, parts: [{ id: 'R1' }, { id: 'J1' }] })
    expect(finding.measured).toBeCloseTo(141.5, 9)
  })

  it('is not said of a duct that winds its way inside the joist, between the plates of both faces', () => {
    // from end to end, a millimetre to one side and then to the other: 48.5 - 45 - 1 clear of the plates all along
    const inside = freeRun('R1', [[-500, -1, 127], [2900, 1, 127]])
    expect(crossings(together(inside, oneJoist()))[0]).toMatchObject({ largestHereMm: 0 })
    expect(findingsOf(together(inside, oneJoist()))).toEqual([])
  })

  it('is not said of a duct that would fit but is off the middle', () => {
    expect(codesOf(findingsOf(together(through(300, 47 + 40), oneJoist())))).toEqual(['clash'])
  })
})

describe('a joist with no openings', () => {
  const timber = oneJoist({ kind: 'solid-timber', id: 's', name: '47 x 220', depthMm: 220, widthMm: 47 })

  it('is cut, once, and that is not a mere clash', () => {
    const [finding, ...rest] = findingsOf(together(through(300, 110), timber))
    expect(rest).toEqual([])
    expect(finding).toMatchObject({ id: 'cut-member:R1:J1', code: 'cut-member', severity: 'stop', parts: [{ id: 'R1' }, { id: 'J1', name: 'joist J1' }] })
    expect(finding.why).toMatch(/engineer/)
  })

  it('an I-section is one member: flanges and web make one finding', () => {
    const section = { kind: 'i-section' as const, id: 's', name: 'I 240', depthMm: 240, flangeWidthMm: 89, flangeHeightMm: 45, webThicknessMm: 10 }
    expect(codesOf(findingsOf(together(through(300, 70), oneJoist(section))))).toEqual(['cut-member'])
  })

  it('passed under with less than is required is only too close', () => {
    const asked = { settings: { clearances: [{ between: ['duct', 'joist'] as ['duct', 'joist'], mm: 10 }] } }
    expect(codesOf(findingsOf(together(through(300, -54), timber, asked)))).toEqual(['tight'])
    expect(codesOf(findingsOf(together(through(300, -55), timber, asked)))).toEqual([])
  })

  it('is passed through a declared hole, with the room that the hole leaves', () => {
    // span 2400: a quarter to 0.4 of it is 600 to 960; the hole itself is against the rule's size here, which is another finding
    const hole = (diameterMm: number) => ({ holes: [{ id: 'H1', joist: 'J1', alongMm: 800, heightMm: 110, diameterMm }] })
    const codes = (mm: number, z = 110) => codesOf(findingsOf(together(through(800, z), timber, hole(mm)))).filter((code) => code !== 'hole-outside-rule')
    expect(codes(90)).toEqual([])
    expect(codes(89.9)).toEqual(['sleeve-too-small'])
    expect(codes(100, 115)).toEqual([])
    expect(codes(100, 115.1)).toEqual(['sleeve-too-small'])
    expect(crossings(together(through(800, 112), timber, hole(100)))[0]).toMatchObject({ opening: null, hole: 'H1', largestStraightMm: 100, largestHereMm: 100 })
    expect(crossings(together(through(800, 112), timber, hole(100)))[0].spareMm).toBeCloseTo(50 - 2 - 45, 9)
  })

  it('a duct slanting through a hole has what its rims leave: (R - s h) / sqrt(1 + s^2)', () => {
    const slanting: Point[] = [[800 - 200, -1000, 110], [800 + 200, 1000, 110]]
    const [crossing] = crossings(together(freeRun('R1', slanting), timber, { holes: [{ id: 'H1', joist: 'J1', alongMm: 800, heightMm: 110, diameterMm: 110 }] }))
    const radius = (55 - 0.2 * 23.5) / Math.sqrt(1.04)
    expect(crossing.largestHereMm).toBeCloseTo(2 * radius, 9)
    expect(crossing.spareMm).toBeCloseTo(radius - 45, 3)
  })

  it('past the end of the hole it counts as a cut again', () => {
    expect(codesOf(findingsOf(together(through(900, 110), timber, { holes: [{ id: 'H1', joist: 'J1', alongMm: 800, heightMm: 110, diameterMm: 55 }] })))).toEqual(['cut-member'])
  })
})
