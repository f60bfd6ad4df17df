import { describe, expect, test } from 'vitest'
import { joistPlaceOf, placeOn } from '#checks/joistPlace.ts'
import { joistPlaceWords } from '#checks/wording.ts'
import { assemblyOf, OPEN_WEB, oneJoist } from './smallJob.ts'

/** Three joists at 400 mm centres from y 0; @param directionDeg which way they run from their datum ends */
const joistsAt = (directionDeg: number) => assemblyOf(oneJoist(OPEN_WEB, { directionDeg, joists: [{ id: 'J1' }, { id: 'J2' }, { id: 'J3' }] })).joists
const finding = (id: string, x: number, y: number, z = 100) => ({ parts: [{ id, name: id }], mark: { x, y, z } })

describe('a place told as it is measured on site', () => {
  test('on the joist that the finding names, from its datum end, with the point of the compass that end lies to', () => {
    // they run east, so that their datum ends are the west ones
    expect(joistPlaceWords(joistPlaceOf(joistsAt(0), finding('J2', 1_245, 400))!)).toBe('joist J2, 1,245 mm from its datum end (west)')
    // and north, to the left of which the next joist lies: J1 is at x 0
    expect(joistPlaceWords(joistPlaceOf(joistsAt(90), finding('J1', 0, 900))!)).toBe('joist J1, 900 mm from its datum end (south)')
  })

  test('where no joist is named, from the nearest that it lies abreast of, and how far beside its face', () => {
    const joists = joistsAt(0)
    // J2 is 97 mm wide: its face is at y 448.5
    expect(joistPlaceWords(joistPlaceOf(joists, finding('R1', 600, 500))!)).toBe('52 mm beside joist J2, 600 mm from its datum end (west)')
    expect(joistPlaceOf(joists, finding('R1', 600, 590))!.joist.id).toBe('J2')
    expect(joistPlaceOf(joists, finding('R1', 600, 610))!.joist.id).toBe('J3')
  })

  test('nothing is told beyond their ends, far beside them, or on another floor', () => {
    const joists = joistsAt(0)
    for (const place of [finding('R1', -200, 0), finding('R1', 2_600, 0), finding('R1', 600, 3_000), finding('R1', 600, 0, 3_000)]) expect(joistPlaceOf(joists, place)).toBeNull()
  })

  test('turned round, it is as far from the other end: the two distances make up the length', () => {
    const [joist] = joistsAt(0), [other] = assemblyOf(oneJoist(OPEN_WEB, { origin: [2_400, 0, 0], directionDeg: 180 })).joists
    const a = placeOn(joist, { x: 700, y: 0, z: 0 }), b = placeOn(other, { x: 700, y: 0, z: 0 })
    expect(a.alongMm + b.alongMm).toBeCloseTo(2_400, 9)
    expect([a.datumEnd, b.datumEnd]).toEqual(['west', 'east'])
  })
})
