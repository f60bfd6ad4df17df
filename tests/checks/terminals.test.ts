import { describe, expect, it } from 'vitest'
import { codesOf, findingsOf, together, type EquipmentInput, type Point } from './smallJob.ts'

const room = { rooms: [{ id: 'bed', name: 'Bedroom 1', outline: [[0, 0], [4000, 0], [4000, 3000], [0, 3000]] as [number, number][], doors: [{ at: [1000, 0] as [number, number], widthMm: 800 }] }] }
const plenum = (x: number, y: number): { equipment: EquipmentInput[] } => ({
  equipment: [{ id: 'P1', name: 'plenum P1', kind: 'plenum', centre: [x, y, 2500], sizeMm: [200, 200, 100], air: 'supply', room: 'bed' }],
})

describe('a plenum in its room', () => {
  it('stands 300 mm from every wall or more', () => {
    for (const [x, y] of [[300, 1500], [3700, 1500], [2000, 300], [2000, 2700]]) {
      expect(findingsOf(together(plenum(x, y), room))).toEqual([])
    }
    const [finding] = findingsOf(together(plenum(299, 1500), room))
    expect(finding).toMatchObject({ id: 'terminal-near-wall:P1', severity: 'mend', measured: 299, required: 300, at: { x: 299, y: 1500, z: 2500 }, onOther: { x: 0, y: 1500, z: 2500 }, parts: [{ id: 'P1' }, { id: 'bed' }] })
    expect(codesOf(findingsOf(together(plenum(2000, 2701), room)))).toEqual(['terminal-near-wall'])
  })

  it('is judged by walls only where the job asks, and by doors likewise', () => {
    expect(findingsOf(together(plenum(50, 50), room, { settings: { terminals: { wallMm: 0 } } }))).toEqual([])
    const doors = (x: number, y: number) => findingsOf(together(plenum(x, y), room, { settings: { terminals: { wallMm: 0, doorMm: 1000 } } }))
    // the doorway runs from x 600 to x 1400 in the wall y 0
    expect(doors(1200, 1000)).toEqual([])
    expect(doors(1200, 999)).toMatchObject([{ code: 'terminal-near-door', measured: 999, onOther: { x: 1200, y: 0 } }])
    expect(doors(2000, 800)).toEqual([]) // 600, 800, 1000: a right triangle to the jamb
    expect(doors(1999, 800)).toMatchObject([{ code: 'terminal-near-door' }])
  })

  it('a plenum that names no room is not judged', () => {
    const { equipment: [{ room: _, ...lone }] } = plenum(10, 10)
    expect(findingsOf(together({ equipment: [lone] }, room))).toEqual([])
  })
})

describe('intake and exhaust outdoors', () => {
  // openings of 150 and 100 mm: edges are 125 mm nearer than middles
  const terminal = (id: string, air: 'intake' | 'exhaust', at: Point, diameterMm: number): EquipmentInput => ({
    id, name: `${air} ${id}`, kind: 'outdoor-terminal', centre: at, sizeMm: [200, 200, 200], air, spigots: [{ id: 'a', at: [0, 140, 0], axis: [0, 1, 0], diameterMm }],
  })
  const apart = (edgesMm: number) => findingsOf({ equipment: [terminal('I', 'intake', [0, 0, 0], 150), terminal('E', 'exhaust', [edgesMm + 125, 0, 0], 100)] })

  it('keep 300 mm from edge to edge, and 2 m is advised', () => { // common practice
    expect(apart(2000)).toEqual([])
    expect(apart(1999.9)).toMatchObject([{ code: 'outdoor-nearer-than-advised', severity: 'advice', required: 2000 }])
    expect(apart(300)).toMatchObject([{ code: 'outdoor-nearer-than-advised' }])
    const [finding, ...rest] = apart(299.9)
    expect(rest).toEqual([])
    expect(finding).toMatchObject({ id: 'outdoor-too-near:I:E', severity: 'mend', required: 300 })
    expect(finding.measured).toBeCloseTo(299.9, 9)
  })

  it('two intakes side by side are no matter', () => {
    expect(findingsOf({ equipment: [terminal('I', 'intake', [0, 0, 0], 150), terminal('K', 'intake', [250, 0, 0], 150)] })).toEqual([])
  })
})
