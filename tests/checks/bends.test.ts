import { describe, expect, it } from 'vitest'
import { codesOf, findingsOf, freeRun, RIGID_125, together, type Point } from './smallJob.ts'

const elbow = (legMm: number, radiusMm?: number, type = 'd90') => freeRun('R1', [[-legMm, 0, 0], [0, 0, 0], [0, legMm, 0]], {
  type, waypoints: [{ at: [-legMm, 0, 0] }, { at: [0, 0, 0], radiusMm }, { at: [0, legMm, 0] }],
})

describe('a duct bent by hand', () => {
  it('may be bent to its least radius and no tighter', () => {
    expect(findingsOf(elbow(1000))).toEqual([])
    expect(findingsOf(elbow(1000, 180))).toEqual([])
    const [finding] = findingsOf(elbow(1000, 179))
    expect(finding).toMatchObject({ id: 'bend-too-tight:R1:bend-1', code: 'bend-too-tight', severity: 'stop', measured: 179, required: 180, parts: [{ id: 'R1', part: 'bend-1' }] })
    // middle of the arc: 179 * (sqrt 2 - 1) from the corner, on the diagonal
    const inward = 179 * (Math.SQRT2 - 1) / Math.SQRT2
    expect(finding.at.x).toBeCloseTo(-inward, 9)
    expect(finding.at.y).toBeCloseTo(inward, 9)
    expect(finding.stationMm).toBeCloseTo(1000 - 179 + 179 * Math.PI / 4, 9)
  })

  it('a right-angled bend needs its radius of straight on each leg: R tan(turn / 2)', () => {
    expect(findingsOf(elbow(180))).toEqual([])
    const [finding] = findingsOf(elbow(170))
    expect(finding).toMatchObject({ code: 'bend-has-no-room', severity: 'stop' })
    expect(finding.required).toBeCloseTo(180, 9)
    expect(finding.measured).toBeCloseTo(170, 9)
  })

  it('a wide bend that has to be made tighter, but not too tight, is to be mended', () => {
    expect(findingsOf(elbow(200, 300))).toMatchObject([{ code: 'bend-has-no-room', severity: 'mend' }])
  })

  it('turning straight back on itself is a bend of no radius', () => {
    const [finding] = findingsOf(freeRun('R1', [[0, 0, 0], [1000, 0, 0], [0, 0, 0]])).filter((f) => f.code === 'bend-too-tight')
    expect(finding).toMatchObject({ measured: 0, required: 180 })
  })
})

describe('a rigid duct', () => {
  /** Two legs that turn by so many degrees at 0, 0. */
  const turning = (deg: number, radiusMm?: number) => {
    const a = deg * Math.PI / 180
    const points: Point[] = [[-1000, 0, 0], [0, 0, 0], [1000 * Math.cos(a), 1000 * Math.sin(a), 0]]
    return freeRun('R1', points, { type: 'r125', waypoints: [{ at: points[0] }, { at: points[1], radiusMm }, { at: points[2] }] })
  }

  it('turns only by an angle that is listed, half a degree either way', () => { // common practice
    for (const deg of [45, 90, 44.5, 45.5, 89.5, 90.5]) expect(findingsOf(turning(deg))).toEqual([])
    for (const [deg, nearest] of [[44.4, 45], [45.6, 45], [60, 45], [89.4, 90], [90.6, 90]]) {
      const [finding, ...rest] = findingsOf(turning(deg))
      expect(rest).toEqual([])
      expect(finding).toMatchObject({ code: 'no-such-fitting', severity: 'stop', unit: 'deg', required: nearest })
      expect(finding.measured).toBeCloseTo(deg, 6)
    }
  })

  it('turns only on the radius of that fitting, 1 mm either way', () => {
    for (const radius of [124, 125, 126]) expect(findingsOf(turning(90, radius))).toEqual([])
    for (const radius of [123.9, 126.1]) expect(findingsOf(turning(90, radius))).toMatchObject([{ code: 'no-such-fitting', unit: 'mm', measured: radius, required: 125 }])
  })

  it('leaves room for both insertions between two fittings: 80 mm here', () => {
    // an S: two right angles of radius 125 with a leg of 250 + straight between the corners
    const offset = (straight: number): Point[] => [[-1000, 0, 0], [0, 0, 0], [0, 250 + straight, 0], [1000, 250 + straight, 0]]
    expect(RIGID_125.kind === 'rigid' && RIGID_125.fittings[0].insertionMm).toBe(40)
    expect(findingsOf(freeRun('R1', offset(80), { type: 'r125' }))).toEqual([])
    const [finding, ...rest] = findingsOf(freeRun('R1', offset(79), { type: 'r125' }))
    expect(rest).toEqual([])
    expect(finding).toMatchObject({ code: 'bend-has-no-room', required: 80, parts: [{ part: 'bend-2' }] })
    expect(finding.measured).toBeCloseTo(79, 9)
    // nearer still and the fittings themselves do not fit, which is said of each and not said again
    const both = findingsOf(freeRun('R1', offset(-10), { type: 'r125' }))
    expect(both.map((f) => f.id).sort()).toEqual(['bend-has-no-room:R1:bend-1', 'bend-has-no-room:R1:bend-2'])
  })
})

describe('straight duct at a spigot', () => {
  const unit = (kind: 'unit' | 'manifold') => ({
    equipment: [{ id: 'U1', name: 'unit U1', kind, centre: [0, -200, 0] as Point, sizeMm: [400, 400, 400] as Point, spigots: [{ id: 'a', at: [0, 240, 0] as Point, axis: [0, 1, 0] as Point, diameterMm: 90 }] }],
  })
  // mouth at y 40; the first bend takes 180 of the leg
  const out = (straight: number) => {
    const free = freeRun('R1', [[0, 40, 0], [0, 40 + straight + 180, 0], [1000, 40 + straight + 180, 0]])
    return { runs: [{ ...free.runs[0], from: { equipment: 'U1', spigot: 'a' } }], sleeves: [free.sleeves[1]] }
  }

  it('three diameters before the first bend at the unit: 270 mm for a 90 mm duct', () => { // common practice
    expect(findingsOf(together(out(270), unit('unit')))).toEqual([])
    const [finding, ...rest] = findingsOf(together(out(269), unit('unit')))
    expect(rest).toEqual([])
    expect(finding).toMatchObject({ id: 'straight-too-short:R1:from', severity: 'mend', required: 270 })
    expect(finding.measured).toBeCloseTo(269, 9)
    expect(finding.at.y).toBeCloseTo(40 + 269, 9)
    expect(finding.why).toContain('common practice')
  })

  it('is asked at other spigots only where the job says so, and at the end of a run as at its start', () => {
    expect(findingsOf(together(out(10), unit('manifold')))).toEqual([])
    const asked = { settings: { straightAtSpigot: { otherDiameters: 1 } } }
    expect(codesOf(findingsOf(together(out(89), unit('manifold'), asked)))).toEqual(['straight-too-short'])
    const [run] = out(89).runs
    const backwards = { ...out(89), runs: [{ ...run, from: run.to, to: run.from, waypoints: [...run.waypoints].reverse() }] }
    expect(findingsOf(together(backwards, unit('manifold'), asked))).toMatchObject([{ id: 'straight-too-short:R1:to' }])
  })

  it('a run with no bend is straight enough', () => {
    const free = freeRun('R1', [[0, 40, 0], [0, 140, 0]])
    expect(findingsOf(together({ runs: [{ ...free.runs[0], from: { equipment: 'U1', spigot: 'a' } }], sleeves: [free.sleeves[1]] }, unit('unit')))).toEqual([])
  })
})
