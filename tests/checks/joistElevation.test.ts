import { describe, expect, test } from 'vitest'
import { contextFor, crossingsOf } from '#checks/index.ts'
import { joistElevation, whereCanGo } from '#checks/joistElevation.ts'
import { openingsTable } from '#checks/openingsTable.ts'
import { assemblyOf, freeRun, oneJoist, together } from './smallJob.ts'

const contextOf = (...fields: Parameters<typeof assemblyOf>[0][]) => contextFor(assemblyOf(together(...fields)))
const through = (x: number, z: number, id = 'R1', slope = 0) => freeRun(id, [[x - 1000 * slope, -1000, z], [x + 1000 * slope, 1000, z]])

describe('a joist in elevation', () => {
  test('has its chords end to end, its webs once each, and its nodes every half pitch', () => {
    const { members, nodes, lengthMm, depthMm } = joistElevation(contextOf(oneJoist()), 0)
    expect([lengthMm, depthMm]).toEqual([2400, 254])
    expect(members.map(({ kind }) => kind)).toEqual(['bottom-chord', 'top-chord', ...Array.from({ length: 8 }, () => 'web')])
    expect(members[0].corners).toEqual([[0, 0], [2400, 0], [2400, 47], [0, 47]].map((corner) => corner.map((v) => expect.closeTo(v, 9))))
    expect(nodes).toEqual([0, 300, 600, 900, 1200, 1500, 1800, 2100, 2400].map((x, i) => ({ x, chord: i % 2 === 0 ? 'bottom' : 'top' })))
  })

  test('numbers its openings as the table does, with the largest duct of each and where it sits', () => {
    const context = contextOf(oneJoist(), through(300, 47 + 70.75))
    const { openings } = joistElevation(context, 0)
    const table = openingsTable(context)
    expect(openings.map(({ number, largestMm, x, passedBy }) => [number, largestMm, x, passedBy])).toEqual(table.map((row) => [row.opening, row.largestMm, row.alongMm, row.crossedBy.map(({ runId }) => runId)]))
    const passed = openings.find(({ passedBy }) => passedBy.length > 0)!
    expect(passed).toMatchObject({ largestMm: expect.closeTo(141.5, 9), x: expect.closeTo(300, 9), y: expect.closeTo(47 + 70.75, 9) })
    // the corner's own circle beside the duct: see threadPreview.test.ts
    const sine = Math.sin(Math.atan2(160, 300) / 2)
    expect(passed.roomLeftMm).toBeCloseTo(2 * (70.75 - 45 * sine) / (1 + sine), 9)
  })

  test('shows the duct as a circle, a slanting one as an ellipse longer by its slant', () => {
    const [square] = joistElevation(contextOf(oneJoist(), through(300, 118)), 0).ducts
    expect(square).toMatchObject({ x: 300, y: 118, longMm: 45, shortMm: 45 })
    const [slanting] = joistElevation(contextOf(oneJoist(), through(300, 118, 'R1', 0.3)), 0).ducts
    expect(slanting.longMm).toBeCloseTo(45 * Math.hypot(1, 0.3), 9)
    expect(slanting.shortMm).toBe(45)
    expect(Math.abs(Math.sin(slanting.longRad))).toBeLessThan(1e-9)
  })

  test('a trial size takes half its growth from the spare: 25.75 left at 90, nothing at 141.5', () => {
    const context = contextOf(oneJoist(), through(300, 47 + 70.75))
    const duct = (growMm: number) => joistElevation(context, 0, growMm).ducts[0]
    expect(duct(0)).toMatchObject({ spareMm: expect.closeTo(25.75, 9), spareGrownMm: expect.closeTo(25.75, 9), fitsGrown: true })
    expect(duct(51.4)).toMatchObject({ spareGrownMm: expect.closeTo(0.05, 9), fitsGrown: true })
    expect(duct(51.6)).toMatchObject({ spareGrownMm: expect.closeTo(-0.05, 9), fitsGrown: false })
    expect(joistElevation(contextOf(oneJoist(), through(300, 47 + 60)), 0).ducts[0].touchesFirst).toBe('bottom chord')
    // nothing of the job has changed
    expect(context.runs[0].placed.outerRadiusMm).toBe(45)
  })

  test('two ducts side by side: both grow, so the gap shrinks by the whole growth', () => {
    const context = contextOf(oneJoist(), through(250, 47 + 46), through(350, 47 + 46, 'R2'))
    const [one] = joistElevation(context, 0, 9).ducts
    expect(one.toOthers).toEqual([{ runId: 'R2', clearMm: expect.closeTo(10, 9), clearGrownMm: expect.closeTo(1, 9) }])
    expect(joistElevation(context, 0, 11).ducts[0].fitsGrown).toBe(false)
  })

  test('a solid joist has one outline and its holes', () => {
    const timber = oneJoist({ kind: 'solid-timber', id: 's', name: '47 x 220', depthMm: 220, widthMm: 47 })
    const elevation = joistElevation(contextOf(timber, through(800, 112), { holes: [{ id: 'H1', joist: 'J1', alongMm: 800, heightMm: 110, diameterMm: 100 }] }), 0)
    expect(elevation.members).toHaveLength(1)
    expect(elevation.holes).toEqual([{ id: 'H1', x: expect.closeTo(800, 9), y: 110, radiusMm: 50 }])
    expect(elevation.ducts[0]).toMatchObject({ spareMm: expect.closeTo(3, 9), touchesFirst: 'hole H1' })
    expect(elevation.nodes).toEqual([])
  })

  test('joists that run another way read the same', () => {
    const turned = oneJoist(undefined, { directionDeg: 90, origin: [500, 200, 0] })
    const { members, openings } = joistElevation(contextOf(turned), 0)
    const straight = joistElevation(contextOf(oneJoist()), 0)
    expect(openings).toEqual(straight.openings)
    members.forEach(({ corners }, i) => corners.forEach((corner, k) => expect(corner).toEqual(straight.members[i].corners[k].map((v) => expect.closeTo(v, 9)))))
  })
})

describe('where can a size go', () => {
  test('the openings whose incircle takes it: 141.5 and not 141.6', () => {
    const context = contextOf(oneJoist())
    const fits = (mm: number) => whereCanGo(context, mm).map(({ opening }) => opening)
    const all = openingsTable(context).filter(({ largestMm }) => largestMm > 141)
    expect(all.length).toBeGreaterThan(5)
    expect(fits(141.5)).toEqual(all.map(({ opening }) => opening))
    expect(fits(141.6)).toEqual([])
  })

  test('with what is there already, and whether it still goes', () => {
    const context = contextOf(oneJoist(), through(300, 47 + 70.75))
    const at = (mm: number) => whereCanGo(context, mm).find(({ opening }) => opening === crossingsOf(context, 0)[0].opening)!
    expect(at(90)).toMatchObject({ joistId: 'J1', passedBy: [{ id: 'R1', name: 'Run R1' }], isFree: true })
    expect(at(97)).toMatchObject({ isFree: false })
    expect(whereCanGo(context, 125).filter(({ isFree }) => isFree).every(({ passedBy }) => passedBy.length === 0)).toBe(true)
  })
})
