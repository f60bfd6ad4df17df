/** Where equipment stands for the runs that it serves: snapping spigots, and packers under terminals. */
import { describe, expect, test } from 'vitest'
import { contextFor } from '#checks/index.ts'
import { packerFor, type Packer } from '#routing/packer.ts'
import { snapSpigot, type Snap } from '#routing/snap.ts'
import { assemblyOf, oneJoist, together } from '../checks/smallJob.ts'
import { body, fieldContext } from './threadField.ts'

const alike = (count: number) => Array.from({ length: count }, (_, i) => ({ id: `J${i + 1}` }))

describe('a spigot snapped', () => {
  test('to the middle of an opening it faces: sideways and up only, 70.75 over the bottom chord of the one in smallJob.ts', () => {
    const context = contextFor(assemblyOf(together(oneJoist(), { equipment: [body('M', 'manifold', [250, -400, 100], [0, 1, 0])] })))
    const number = crossingNumber(context)
    const snap = snapSpigot(context, 'M', '1', { kind: 'opening', joistId: 'J1', opening: number }) as Snap
    expect(snap.by).toEqual([50, 0, 17.75].map((v) => expect.closeTo(v, 9)))
    expect(snap.mouth).toEqual([300, -400, 117.75].map((v) => expect.closeTo(v, 9)))
    expect(snap.words).toBe(`M moves x +50.0 mm, z +17.8 mm: M, spigot 1 in line with the middle of joist J1, opening ${number}.`)
  })

  test('to the middle of a bay: halfway between the plates of both joists, at the middle of their depth', () => {
    const context = fieldContext(alike(3), [body('M', 'manifold', [2000, 560, 100], [1, 0, 0])])
    const snap = snapSpigot(context, 'M', '1', { kind: 'bay', near: [2500, 555, 0] }) as Snap
    expect(snap.by).toEqual([0, 40, 52].map((v) => expect.closeTo(v, 9)))
    expect(snap.words).toContain('the bay between joist J2 and joist J3')
    // where one joist is thicker the middle shifts
    expect(snap.target).toEqual([2500, 600, 152])
  })

  test('a spigot that faces another way goes to the middle itself', () => {
    const context = fieldContext(alike(2), [body('M', 'manifold', [2000, 160, 100], [0, 0, 1])])
    const snap = snapSpigot(context, 'M', '1', { kind: 'bay', near: [2500, 180, 0] }) as Snap
    expect(snap.mouth).toEqual([2500, 200, 152])
    expect(snap.words).toContain('at the middle of the bay')
  })

  test('where there is nothing to snap to, it says why', () => {
    const context = fieldContext(alike(2), [body('M', 'manifold', [2000, 160, 100], [1, 0, 0])])
    expect(snapSpigot(context, 'M', '1', { kind: 'bay', near: [2500, 5000, 0] })).toEqual({ why: 'That place does not lie between two joists.' })
    expect(snapSpigot(context, 'M', '9', { kind: 'bay', near: [0, 0, 0] })).toEqual({ why: 'The job has no spigot 9 on M.' })
    expect(snapSpigot(context, 'M', '1', { kind: 'opening', joistId: 'J1', opening: 77 })).toEqual({ why: 'The job has no opening 77 in joist J1.' })
  })
})

describe('packers under a plenum', () => {
  const plenum = { ...body('P', 'plenum', [300, -600, 100], [0, 1, 0]), sizeMm: [200, 200, 120] as [number, number, number] }
  const run = { id: 'R1', name: 'Run 1', type: 'd90', from: { equipment: 'P', spigot: '1' }, to: { sleeve: 'S' }, waypoints: [{ at: [300, -600, 100] as const }, { at: [300, 600, 100] as const }] }
  const sleeve = { id: 'S', name: 'S', at: [300, 600, 100] as [number, number, number], axis: [0, 1, 0] as [number, number, number], diameterMm: 300, lengthMm: 20, through: [] }
  const job = (...more: Parameters<typeof assemblyOf>[0][]) => contextFor(assemblyOf(together(oneJoist(), { equipment: [plenum], runs: [{ ...run, waypoints: [{ at: [300, -600, 100] }, { at: [300, 600, 100] }] }], sleeves: [sleeve] }, ...more)))

  test('lift its spigot to the middle of the opening that its run passes first, from the joists\' underside', () => {
    const packer = packerFor(job(), 'P') as Packer
    // spigot at 117.75, in the middle of a body 120 high: its underside at 57.75 over the joists' underside at 0
    expect(packer.heightMm).toBeCloseTo(57.75, 9)
    expect(packer.by).toEqual([0, 0, expect.closeTo(17.75, 9)])
    expect(packer).toMatchObject({ from: 'the underside of joist J1', fromMm: 0, spigotId: '1' })
    expect(packer.words).toMatch(/^P on packers of 57\.8 mm above the underside of joist J1: P, spigot 1 then sits at the middle of joist J1, opening \d+\.$/)
  })

  test('from the ceiling where a zone says how low it hangs', () => {
    const zone = { zones: [{ id: 'Z', name: 'hall ceiling', outline: [[-500, -2000], [2500, -2000], [2500, 2000], [-500, 2000]] as [number, number][], undersideMm: -80, topMm: 254 }] }
    const packer = packerFor(job(zone), 'P') as Packer
    expect(packer.heightMm).toBeCloseTo(137.75, 9)
    expect(packer).toMatchObject({ from: 'the ceiling of hall ceiling', fromMm: -80 })
  })

  test('a plenum with no run through an opening has none, and says so', () => {
    expect(packerFor(contextFor(assemblyOf({ equipment: [plenum] })), 'P')).toEqual({ why: 'No run on P passes an opening.' })
  })
})

function crossingNumber(context: ReturnType<typeof contextFor>): number {
  return context.assembly.joists[0].openings.find(({ opening: { verticesXy } }) => Math.min(...verticesXy.filter((_, i) => i % 2 === 0)) < 200 && Math.max(...verticesXy.filter((_, i) => i % 2 === 0)) > 400)!.number
}
