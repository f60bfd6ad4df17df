import { describe, expect, it } from 'vitest'
import { codesOf, findingsOf, freeRun, together, type Point } from './smallJob.ts'

const plenum = (diameterMm = 90) => ({
  equipment: [{
    id: 'P1', name: 'plenum P1', kind: 'plenum' as const, centre: [0, 0, 0] as Point, sizeMm: [200, 200, 200] as Point, rotationDeg: [0, 0, 90] as Point,
    // turned a quarter: the spigot that points along its own x points along y on site; its mouth is at 0, 140, 0
    spigots: [{ id: 'a', at: [140, 0, 0] as Point, axis: [1, 0, 0] as Point, diameterMm }],
  }],
})
const run = (id: string, points: readonly Point[]) => {
  const free = freeRun(id, points)
  return { runs: [{ ...free.runs[0], from: { equipment: 'P1', spigot: 'a' } }], sleeves: [free.sleeves[1]] }
}

describe('an end on a spigot', () => {
  it('may be 2 mm off and no more', () => {
    expect(findingsOf(together(run('R1', [[0, 142, 0], [0, 1140, 0]]), plenum()))).toEqual([])
    const [finding, ...rest] = findingsOf(together(run('R1', [[0, 142.1, 0], [0, 1140, 0]]), plenum()))
    expect(rest).toEqual([])
    expect(finding).toMatchObject({ id: 'off-spigot:R1:from', severity: 'stop', required: 2, stationMm: 0, onOther: { x: 0, y: 140, z: 0 }, parts: [{ id: 'R1' }, { id: 'P1', part: 'spigot-a', name: 'plenum P1, spigot a' }] })
    expect(finding.measured).toBeCloseTo(2.1, 9)
  })

  it('may leave 2 degrees askew and no more', () => {
    const askew = (deg: number) => findingsOf(together(run('R1', [[0, 140, 0], [1000 * Math.tan(deg * Math.PI / 180), 1140, 0]]), plenum()))
    expect(askew(2)).toEqual([])
    const [finding] = askew(2.01)
    expect(finding).toMatchObject({ code: 'off-axis', severity: 'mend', unit: 'deg', required: 2 })
    expect(finding.measured).toBeCloseTo(2.01, 9)
  })

  it('going the wrong way out of it is 180 degrees askew', () => {
    const inward = findingsOf(together(run('R1', [[0, 140, 0], [0, -1000, 0]]), plenum())).find((finding) => finding.code === 'off-axis')
    expect(inward?.measured).toBeCloseTo(180, 9)
  })

  it('is of the size of the duct', () => {
    const sized = (mm: number) => codesOf(findingsOf(together(run('R1', [[0, 140, 0], [0, 1140, 0]]), plenum(mm))))
    for (const mm of [88.8, 90, 91.2]) expect(sized(mm)).toEqual([]) // the make of round fittings: 1.2 mm, PN-B-03434
    for (const mm of [75, 88.7, 91.3, 125]) expect(sized(mm)).toEqual(['spigot-size'])
  })

  it('takes one duct', () => {
    const both = findingsOf(together(run('R2', [[0, 140, 0], [0, 1140, 0]]), run('R1', [[0, 140, 0], [0, 1140, 0]]), plenum()))
    const [finding] = both.filter((f) => f.code === 'spigot-used-twice')
    expect(finding).toMatchObject({ id: 'spigot-used-twice:P1:spigot-a', severity: 'stop', unit: 'count', measured: 2, required: 1, at: { x: 0, y: 140, z: 0 } })
    expect(finding.parts.map((part) => part.id)).toEqual(['P1', 'R1', 'R2'])
  })
})

describe('an end in a sleeve', () => {
  it('lies within its length and its round, 2 mm allowed', () => {
    // the sleeve is 20 long and 400 across, its middle at 0, 0, 0, along y
    const from = (at: Point) => {
      const free = freeRun('R1', [[0, 0, 0], [0, 1000, 0]])
      const [first, last] = free.runs[0].waypoints
      return findingsOf({ ...free, runs: [{ ...free.runs[0], waypoints: [{ ...first, at }, last] }] }).filter((f) => f.code === 'off-spigot')
    }
    expect(from([0, 12, 0])).toEqual([])
    expect(from([202, 0, 0])).toEqual([])
    expect(from([0, 13, 0])).toMatchObject([{ measured: 3, required: 2, parts: [{ id: 'R1' }, { id: 'R1-a' }] }])
    expect(from([0, 0, -203])).toMatchObject([{ measured: 3 }])
  })
})
