import { expect, test } from 'vitest'
import { whatItFaces } from '#checks/facing.ts'
import { contextFor } from '#checks/index.ts'
import { assemblyOf, box, oneJoist, together, type EquipmentInput, type Point } from './smallJob.ts'

const manifold = (y: number, z = 120): { equipment: EquipmentInput[] } => ({
  equipment: [{ id: 'M', name: 'Manifold', kind: 'manifold', centre: [900, y, z], sizeMm: [300, 200, 150], spigots: [{ id: 'p1', at: [0, 140, 0], axis: [0, 1, 0], diameterMm: 75 }] }],
})
const faced = (fields: Parameters<typeof assemblyOf>[0], reachMm = 150) => {
  const context = contextFor(assemblyOf(fields))
  return whatItFaces(context, context.assembly.spigots[0], 37.5, reachMm)
}

test('a spigot with nothing before it faces nothing', () => {
  expect(faced(manifold(0))).toBeNull()
})

test('one that looks at a beam is told how far a duct, with its rounded end, goes straight', () => {
  const beam = box('B', 'beam', [900, 340 + 100 + 50, 120] as Point, [400, 100, 300] as Point)
  // mouth at y 140 + 200; the beam's face 100 further: less the rounded end of 37.5
  const facing = faced(together(manifold(200), beam))
  expect(facing?.ref.id).toBe('B')
  expect(facing?.straightMm).toBeCloseTo(100 - 37.5, 3)
  expect(faced(together(manifold(200), beam), 60)).toBeNull()
})

test('through the middle of an opening it looks past the joist; at a web it does not', () => {
  // openings' middles: bottom nodes at 0, 600, 1200 and top nodes at 300, 900, 1500; the web from (900, top) to (1200, bottom) is at mid-height at 1050
  const at = (x: number) => {
    const { equipment: [one] } = manifold(-300)
    return faced(together(oneJoist(), { equipment: [{ ...one, centre: [x, -300, 120] as Point }] }), 400)
  }
  expect(at(600 + 300)?.ref.id ?? null).toBeNull()
  expect(at(1_050)?.ref).toMatchObject({ id: 'J1' })
})

test('a mouth that stands in something goes nowhere', () => {
  expect(faced(together(manifold(200), box('B', 'beam', [900, 350, 120] as Point, [400, 60, 300] as Point)))?.straightMm).toBe(0)
})
