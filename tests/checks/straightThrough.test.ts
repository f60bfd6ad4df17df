import { describe, expect, test } from 'vitest'
import { straightThrough, straightThroughOnTheWay, type SeriesFitOnTheWay } from '#checks/straightThrough.ts'
import { assemblyOf, OPEN_WEB, oneJoist, together } from './smallJob.ts'

/** Three joists at 400 mm centres, the outer two alike. */
function joistsWith(middle: { readonly firstNodeMm?: number, readonly lengthMm?: number }) {
  return assemblyOf(oneJoist(OPEN_WEB, { joists: [{ id: 'J1' }, { id: 'J2', ...middle }, { id: 'J3' }] })).joists
}

describe('the largest straight duct through joists with others between them', () => {
  test('a joist between that stands as the others do takes nothing from it, and is told', () => {
    const joists = joistsWith({})
    const fit = straightThroughOnTheWay(joists, [joists[0], joists[2]]) as SeriesFitOnTheWay
    // the incircle of one opening, see smallJob.ts
    expect(fit.diameterMm).toBeGreaterThanOrEqual(141.5 - 1e-6)
    expect([fit.joists.map(({ id }) => id), fit.proved]).toEqual([['J1', 'J2', 'J3'], true])
    expect(new Set(fit.openings).size).toBe(1)
  })

  test('one whose webs stand in the way makes it smaller: as small as through all three named', () => {
    const joists = joistsWith({ firstNodeMm: 220 })
    const fit = straightThroughOnTheWay(joists, [joists[0], joists[2]]) as SeriesFitOnTheWay
    const all = straightThrough(joists), two = straightThrough([joists[0], joists[2]])
    if ('why' in all || 'why' in two) throw new Error('they are a series')
    expect(fit.diameterMm).toBeCloseTo(all.diameterMm, 6)
    expect(fit.diameterMm).toBeLessThan(two.diameterMm - 5)
    expect(fit.proved).toBe(true)
    // told in the order of the way, whichever was named first
    const back = straightThroughOnTheWay(joists, [joists[2], joists[0]]) as SeriesFitOnTheWay
    expect([back.joists.map(({ id }) => id), back.diameterMm]).toEqual([['J3', 'J2', 'J1'], expect.closeTo(fit.diameterMm, 6)])
  })

  test('a short one that the duct passes beyond its end is not on the way', () => {
    const joists = joistsWith({ lengthMm: 100 })
    const fit = straightThroughOnTheWay(joists, [joists[0], joists[2]]) as SeriesFitOnTheWay
    expect(fit.joists.map(({ id }) => id)).toEqual(['J1', 'J3'])
    expect(fit.diameterMm).toBeGreaterThanOrEqual(141.5 - 1e-6)
  })

  test('a joist without openings between them bars the way, and is named', () => {
    const { joists } = assemblyOf(together(oneJoist(OPEN_WEB, { centresMm: 800, joists: [{ id: 'J1' }, { id: 'J2' }] }), {
      sections: [{ kind: 'solid-timber', id: 't', name: 'timber', depthMm: 254, widthMm: 47 }],
      joistFields: [{ id: 'g', name: 'timber', section: 't', origin: [0, 400, 0], directionDeg: 0, centresMm: 400, lengthMm: 2400, joists: [{ id: 'T1' }] }],
    }))
    const [one, two] = ['J1', 'J2'].map((id) => joists.find((joist) => joist.id === id)!)
    expect(straightThroughOnTheWay(joists, [one, two])).toEqual({ why: 'joist T1 stands between them and has no openings between webs' })
  })
})
