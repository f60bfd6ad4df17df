import { describe, expect, test } from 'vitest'
import { sentenceOf } from '#checks/wording.ts'
import { box, codesOf, findingsOf, oneJoist, together, type EquipmentInput, type Point } from './smallJob.ts'

const piece = (kind: EquipmentInput['kind'], centre: Point, more: Partial<EquipmentInput> = {}) => ({ equipment: [{ id: 'M', name: 'Manifold 1', kind, centre, sizeMm: [300, 200, 150] as Point, ...more } as EquipmentInput] })

// the joist: 254 deep from z 0, chords 97 wide about y 0, web plates of 2 on either side
describe('what a mock-up held up between the joists would tell', () => {
  test('a manifold clear of the chords, or just touching one, is no fault', () => {
    expect(findingsOf(together(oneJoist(), piece('manifold', [1000, 300, 120])))).toEqual([])
    expect(findingsOf(together(oneJoist(), piece('manifold', [1000, 150.5, 120])))).toEqual([])
  })

  test('one that is set 12 mm into the side of a joist is told once, by its deepest place', () => {
    const [finding, ...others] = findingsOf(together(oneJoist(), piece('manifold', [1000, 138.5, 120])))
    expect(others).toEqual([])
    expect(finding).toMatchObject({ id: 'stands-in:M:J1', code: 'stands-in', severity: 'stop', measured: expect.closeTo(-12, 9), parts: [{ id: 'M' }, { id: 'J1' }] })
    expect(sentenceOf(finding)).toMatch(/^Manifold 1 stands 12\.0 mm into joist J1, .*It must stand clear: a joist is cut only as its maker or an engineer allows/)
  })

  test('its collar counts as it does: 60 mm of collar reach a beam that the body clears', () => {
    const collar = { spigots: [{ id: 'p', at: [150, 0, 0], axis: [1, 0, 0], diameterMm: 90, lengthMm: 60 }] } as Partial<EquipmentInput>
    const beam = box('B', 'beam', [1150 + 40, 600, 120], [100, 100, 300])
    // the mouth is where the collar ends: it starts 60 mm inside
    expect(codesOf(findingsOf(together(piece('manifold', [1000, 600, 120], { ...collar, sizeMm: [180, 200, 150] }), beam)))).toEqual(['stands-in'])
    expect(codesOf(findingsOf(together(piece('manifold', [1000, 600, 120], { sizeMm: [180, 200, 150] }), beam)))).toEqual([])
  })

  test('a plenum may be let into the ceiling lining, not into a soil pipe, and two pieces that meet are one finding', () => {
    expect(findingsOf(together(piece('plenum', [1000, 600, 0]), box('lining', 'lining', [1000, 600, -40], [3000, 3000, 12])))).toEqual([])
    const pipe = { solids: [{ id: 'S', name: 'Soil pipe', class: 'soil-stack' as const, shape: { kind: 'cylinder' as const, from: [1000, 600, -450] as Point, to: [1000, 600, 450] as Point, diameterMm: 110 } }] }
    const [pipeFault] = findingsOf(together(piece('plenum', [1000, 600, 0]), pipe))
    expect(sentenceOf(pipeFault)).toMatch(/^Manifold 1 stands at least .* mm into Soil pipe/)
    const second = { equipment: [{ id: 'U', name: 'Unit', kind: 'unit', centre: [1200, 600, 0], sizeMm: [300, 200, 150] } as EquipmentInput] }
    expect(findingsOf(together(piece('manifold', [1000, 600, 0]), second))).toMatchObject([{ id: 'stands-in:M:U', measured: expect.closeTo(-100, 9) }])
  })

  test('a hood stands in its wall by nature', () => {
    expect(findingsOf(together(piece('outdoor-terminal', [0, 0, 0], { air: 'intake' }), box('W', 'wall', [0, 0, 0], [100, 3000, 3000])))).toEqual([])
  })
})
