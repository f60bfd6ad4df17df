import { describe, expect, it } from 'vitest'
import { sentenceOf } from '#checks/wording.ts'
import { codesOf, findingsOf, freeRun, together, type Point } from './smallJob.ts'

/** A void 4000 x 2000, from z 2500 to 2800. */
const zone = { zones: [{ id: 'Z1', name: 'hall ceiling', outline: [[0, 0], [4000, 0], [4000, 2000], [0, 2000]] as [number, number][], undersideMm: 2500, topMm: 2800 }] }
const nextZone = { zones: [{ id: 'Z2', name: 'bedroom ceiling', outline: [[4000, 0], [6000, 0], [6000, 2000], [4000, 2000]] as [number, number][], undersideMm: 2500, topMm: 2800 }] }
const level = (z: number, to = 3500) => freeRun('R1', [[500, 1000, z], [to, 1000, z]])

describe('a run in the ceiling void', () => {
  it('may lie on the underside and touch the top, and go no further', () => {
    expect(findingsOf(together(level(2545), zone))).toEqual([])
    expect(findingsOf(together(level(2755), zone))).toEqual([])
    const [finding, ...rest] = findingsOf(together(level(2540), zone))
    expect(rest).toEqual([])
    expect(finding).toMatchObject({ id: 'leaves-void:R1', code: 'leaves-void', severity: 'stop', required: 0, parts: [{ id: 'R1' }, { id: 'Z1', part: 'underside' }] })
    expect(finding.measured).toBeCloseTo(-5, 6)
    expect(finding.onOther?.z).toBeCloseTo(2500, 6)
    expect(sentenceOf(finding)).toMatch(/^Run R1 stands 5\.0 mm out through the ceiling \(hall ceiling\), [\d,]+ mm along the run, at x /)
    expect(findingsOf(together(level(2760), zone))[0].parts[1].part).toBe('top')
  })

  it('out through its side is told by how far the whole duct is out', () => {
    const [finding] = findingsOf(together(freeRun('R1', [[500, 1000, 2650], [500, 2500, 2650]]), zone)).filter((f) => f.code === 'leaves-void')
    expect(finding.parts[1]).toMatchObject({ part: 'side' })
    // its end lies in a sleeve, which it may; the duct counts up to that sleeve's collar zone: 10 + 45 short of the end
    expect(finding.measured).toBeCloseTo(-(500 - 55) - 45, 3)
  })

  it('passes freely from one zone into the next', () => {
    expect(findingsOf(together(level(2650, 5500), zone, nextZone))).toEqual([])
  })

  it('a job that draws no zones asks nothing', () => {
    expect(findingsOf(level(100))).toEqual([])
  })

  it('two ways out more than a metre apart are two findings', () => {
    const dips: Point[] = [[500, 1000, 2650], [1000, 1000, 2400], [1500, 1000, 2650], [3000, 1000, 2650], [3400, 1000, 2400], [3800, 1000, 2650]]
    const out = findingsOf(together(freeRun('R1', dips), zone)).filter((finding) => finding.code === 'leaves-void')
    expect(out.map((finding) => finding.id).sort()).toEqual(['leaves-void:R1', 'leaves-void:R1:2'])
  })
})

describe('where a run may leave the void', () => {
  // a plenum under the ceiling, its spigot up in the void but nearer the underside than the duct is thick
  const plenum = (mouthZ: number) => ({
    equipment: [{ id: 'P1', name: 'plenum P1', kind: 'plenum' as const, centre: [500, 1000, mouthZ - 90] as Point, sizeMm: [200, 200, 100] as Point, spigots: [{ id: 'a', at: [0, 0, 90] as Point, axis: [0, 0, 1] as Point, diameterMm: 90 }] }],
  })
  const tall = { zones: [{ ...zone.zones[0], topMm: 3000 }] }
  const up = (mouthZ: number) => {
    const free = freeRun('R1', [[500, 1000, mouthZ], [500, 1000, 2750], [3500, 1000, 2750]])
    return { runs: [{ ...free.runs[0], from: { equipment: 'P1', spigot: 'a' } }], sleeves: [free.sleeves[1]] }
  }

  it('at its own spigot, for outer radius and collar: 85 mm here', () => {
    const codes = (mouthZ: number) => codesOf(findingsOf(together(up(mouthZ), plenum(mouthZ), tall))).filter((code) => code === 'leaves-void')
    // 85 mm from the mouth the axis must be 45 mm up in the void already
    expect(codes(2460)).toEqual([])
    expect(codes(2459)).toEqual(['leaves-void'])
  })

  it('inside a declared sleeve, and as far beyond it as it is thick', () => {
    const wall = { solids: [{ id: 'W1', name: 'gable wall', class: 'wall' as const, shape: { kind: 'box' as const, centre: [-150, 1000, 2650] as Point, sizeMm: [300, 3000, 1000] as Point } }] }
    const sleeve = { sleeves: [{ id: 'S1', name: 'sleeve S1', at: [-150, 1000, 2650] as Point, axis: [1, 0, 0] as Point, diameterMm: 110, lengthMm: 300, through: ['W1'] }] }
    const run = freeRun('R1', [[-150, 1000, 2650], [3500, 1000, 2650]])
    const inSleeve = { runs: [{ ...run.runs[0], from: { sleeve: 'S1' } }], sleeves: [run.sleeves[1]] }
    expect(findingsOf(together(inSleeve, sleeve, wall, zone))).toEqual([])
    const without = { runs: run.runs, sleeves: run.sleeves }
    expect(codesOf(findingsOf(together(without, wall, zone))).sort()).toEqual(['clash', 'leaves-void'])
  })
})
