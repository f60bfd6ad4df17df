/** Will it go in? Rigid runs through small floors: how long their pieces may be, between which joists, and which can only go in before the joists are fixed. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import { assemble } from '#assembly/assemble.ts'
import { contextFor } from '#checks/context.ts'
import { parseJob } from '#model/parse.ts'
import { longestTipped, type TipJoist } from '#routing/tipIn.ts'
import { rigidRuns, type RigidLeg } from '#routing/willItGoIn.ts'
import { OPEN_WEB, freeRun, jobOf, together, type Point } from '../checks/smallJob.ts'

type Fields = Parameters<typeof jobOf>[0]
const legsOf = (...parts: readonly Fields[]): readonly RigidLeg[] => rigidRuns(contextFor(assemble(jobOf(together(...parts)))))[0].legs

/** Joists 254 mm deep along x, 2,400 long; without webs unless asked, so that an opening is as high as the chords leave it: 47 to 207. */
const floor = (centresMm: number, count = 5, { webs = false, directionDeg = 0 } = {}): Fields => ({
  sections: [OPEN_WEB],
  joistFields: [{
    id: 'F', name: 'field', section: OPEN_WEB.id, origin: [0, 0, 0], directionDeg, centresMm, lengthMm: 2400,
    joists: Array.from({ length: count }, (_, k) => ({ id: `J${k + 1}`, ...(webs ? {} : { webFree: [{ fromMm: 0, toMm: 2400 }] }) })),
  }],
})
const zone = (x0: number, x1: number, y0: number, y1: number): Fields => ({ zones: [{ id: 'Z', name: 'ceiling', outline: [[x0, y0], [x1, y0], [x1, y1], [x0, y1]], undersideMm: 0, topMm: 254 }] })
const rigid = (points: readonly Point[]): Fields => freeRun('D', points, { type: 'r125' })
const SITE = zone(0, 2400, -500, 3000)

const joist = (from: number, isOpen: boolean): TipJoist => ({ from, to: from + 101, undersideMm: 0, topMm: 254, open: isOpen ? [47, 207] : null })

describe('will it go in?', () => {
  it('a straight leg through three joists is cut to what tips in between two of them', () => {
    // joists at y 0 ... 1600, chord and plates 101 wide: gaps of 299; the duct runs from y 200 to y 1400 through J2, J3 and J4
    const [leg] = legsOf(floor(400), SITE, rigid([[1200, 200, 127], [1200, 1400, 127]]))
    expect(leg).toMatchObject({ kind: 'joists', verdict: 'goes-in', lengthMm: 1200 })
    // the best is between two joists that both have an opening, with another open one ahead
    const best = longestTipped({ near: joist(-101, true), beyond: [joist(299, true), joist(699, true), joist(1099, false)], deckMm: 254 }, 125)
    expect(leg.longestMm).toBe(Math.floor(best))
    expect(best).toBeGreaterThan(300)
    expect(best).toBeLessThan(600)
    expect(leg.pieces).toBe(Math.ceil(1200 / Math.floor(best)))
    expect(leg.pieceMm * leg.pieces).toBeCloseTo(1200, 9)
    expect(leg.pieceMm).toBeLessThanOrEqual(best)
  })

  it('run the other way, or the whole job turned by a right angle, it is the same', () => {
    const [there] = legsOf(floor(400), SITE, rigid([[1200, 200, 127], [1200, 1400, 127]]))
    const [back] = legsOf(floor(400), SITE, rigid([[1200, 1400, 127], [1200, 200, 127]]))
    expect([back.longestMm, back.pieces]).toEqual([there.longestMm, there.pieces])
    const [turned] = legsOf(floor(400, 5, { directionDeg: 90 }), zone(-3000, 500, 0, 2400), rigid([[-200, 1200, 127], [-1400, 1200, 127]]))
    expect([turned.longestMm, turned.pieces]).toEqual([there.longestMm, there.pieces])
  })

  it('webs beside the duct never allow a longer piece, and a slant across the joists neither', () => {
    const [plain] = legsOf(floor(400), SITE, rigid([[1200, 200, 127], [1200, 1400, 127]]))
    // between nodes at 600 and 1,200 the duct of 125 just passes: in the middle of its triangle, 70.75 above the lower chord
    const [webbed] = legsOf(floor(400, 5, { webs: true }), SITE, rigid([[900, 200, 117.75], [900, 1400, 117.75]]))
    expect(webbed.verdict).toBe('goes-in')
    expect(webbed.longestMm!).toBeLessThanOrEqual(plain.longestMm!)
    const [slanting] = legsOf(floor(400), SITE, rigid([[900, 200, 127], [1500, 1400, 127]]))
    expect(slanting.verdict).toBe('goes-in')
    expect(slanting.longestMm!).toBeLessThan(plain.longestMm! * Math.hypot(1, 0.5))
  })

  it('between joists closer than the duct is thick nothing of use tips in: only before the joists are fixed', () => {
    const [leg] = legsOf(floor(220, 7), SITE, rigid([[1200, 110, 127], [1200, 990, 127]]))
    // 220 less 101 leaves 119 for 125
    expect(leg).toMatchObject({ kind: 'joists', verdict: 'before-joists', pieces: 0 })
    expect(leg.longestMm!).toBeLessThan(300)
  })

  it('along a bay the zone alone limits a piece, unless the bay is narrower than the duct', () => {
    const [leg] = legsOf(floor(400), SITE, rigid([[300, 600, 127], [2100, 600, 127]]))
    expect(leg).toMatchObject({ kind: 'bay', verdict: 'goes-in', longestMm: 2400, zoneId: 'Z', pieces: 1, pieceMm: 1800 })
    const [narrow] = legsOf(floor(220, 7), SITE, rigid([[300, 330, 127], [2100, 330, 127]]))
    expect(narrow).toMatchObject({ kind: 'bay', verdict: 'before-joists', longestMm: 0 })
    // below the joists nothing but the zone counts
    const [below] = legsOf(floor(220, 7), zone(0, 2400, -500, 3000), rigid([[300, 330, -200], [2100, 330, -200]]))
    expect(below.verdict).toBe('goes-in')
  })

  it('longer than duct is sold, a leg takes more pieces', () => {
    const [leg] = legsOf(zone(0, 9000, -500, 500), rigid([[500, 0, 127], [7500, 0, 127]]))
    // 7 m of 3 m lengths
    expect(leg).toMatchObject({ longestMm: 9000, pieces: 3 })
    expect(leg.pieceMm).toBeCloseTo(7000 / 3, 9)
  })

  it('straight up between two joists nothing limits it; where it passes a joist without an opening there is no answer but that', () => {
    const legs = legsOf(floor(400), SITE, rigid([[1200, 200, -900], [1200, 200, 127], [2000, 200, 127]]))
    expect(legs.map(({ kind, verdict }) => [kind, verdict])).toEqual([['upright', 'goes-in'], ['bay', 'goes-in']])
    const [through] = legsOf(floor(400), SITE, rigid([[1200, 200, 40], [1200, 1400, 40]]))
    expect(through).toMatchObject({ kind: 'joists', verdict: 'no-opening', pieces: 0 })
  })

  it('the canal house: all four rigid ducts go in', () => {
    const read = parseJob(readFileSync(join(import.meta.dirname, '../../fixtures/good/canal-house.json'), 'utf8'))
    if (!read.ok) throw new Error('the canal house is read')
    const runs = rigidRuns(contextFor(assemble(read.job)))
    expect(runs.map(({ verdict }) => verdict)).toEqual(['goes-in', 'goes-in', 'goes-in', 'goes-in'])
    expect(runs.flatMap(({ legs }) => legs).every(({ kind }) => kind !== 'joists')).toBe(true)
  })
})
