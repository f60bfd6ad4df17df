import { describe, expect, test } from 'vitest'
import { contextFor } from '#checks/context.ts'
import { joistElevation, whereCanGo } from '#checks/joistElevation.ts'
import { assemble } from '#assembly/assemble.ts'
import { countByJoist, isFreeFor, sizeOpenings, stopSizing, thatTake } from '#app/places/joist/joistShown.ts'
import { ductWords, joistScale } from '#app/places/joist/JoistDrawing.tsx'
import { clashing } from '../browser/jobs.ts'
import { smallVoidJob } from '../scene/smallVoid.ts'

const checks = contextFor(assemble(smallVoidJob(clashing())))

describe('which openings take a size', () => {
  test('the list kept for all sizes, filtered, is what the check itself finds for each size', async () => {
    const all = (await sizeOpenings(checks))!
    for (const sizeMm of [63, 90, 125, 150, 167.146, 200, 400]) {
      const ours = thatTake(all, sizeMm), theirs = whereCanGo(checks, sizeMm)
      expect(ours.map(({ joistId, opening }) => `${joistId} ${opening}`)).toEqual(theirs.map(({ joistId, opening }) => `${joistId} ${opening}`))
      expect(ours.map((choice) => isFreeFor(choice, sizeMm))).toEqual(theirs.map(({ isFree }) => isFree))
    }
  })

  test('counts per joist add up to all that take it, and a joist with none is told too', async () => {
    const all = (await sizeOpenings(checks))!
    const counts = countByJoist(checks, all, 125)
    expect(counts.map(({ joistId }) => joistId)).toEqual(['J1', 'J2', 'J3'])
    expect(counts.reduce((sum, { take }) => sum + take, 0)).toBe(whereCanGo(checks, 125).length)
    expect(counts.reduce((sum, { free }) => sum + free, 0)).toBe(whereCanGo(checks, 125).filter(({ isFree }) => isFree).length)
    expect(countByJoist(checks, all, 2_000).map(({ take }) => take)).toEqual([0, 0, 0])
  })
})

describe('openings measured in slices', () => {
  test('stopped, they are not known; asked for again, they are, and each is measured once', async () => {
    const fresh = contextFor(assemble(smallVoidJob(clashing())))
    const first = sizeOpenings(fresh)
    expect(sizeOpenings(fresh)).toBe(first)
    stopSizing()
    expect(await first).toBeNull()
    const all = await sizeOpenings(fresh)
    expect(all).toEqual(whereCanGo(fresh, 0))
    expect(await sizeOpenings(fresh)).toBe(all)
  })
})

describe('a joist seen square on', () => {
  test('the scale is the same along and up, and the joist fills the height or the width, whichever is met first', () => {
    const low = joistScale({ lengthMm: 4_000, depthMm: 304 }, 1_200, 1_000), narrow = joistScale({ lengthMm: 4_000, depthMm: 304 }, 390, 200)
    for (const scale of [low, narrow]) {
      expect(scale.x(1_000) - scale.x(0)).toBeCloseTo(scale.y(0) - scale.y(1_000), 9)
      expect(scale.width).toBeCloseTo(60 + 4_000 * scale.px, 9)
    }
    // a joist is never so small that its openings cannot be told apart
    expect(narrow.px).toBeGreaterThanOrEqual(0.26)
  })

  test('words for a duct say its spare as it is, what a trial size leaves, and what it runs into', () => {
    const [run] = joistElevation(checks, 0).ducts.filter(({ run: { id } }) => id === 'R1')
    const spare = Math.round((run.spareMm ?? NaN) * 10) / 10
    expect(ductWords(run, 0)).toContain(`${Math.abs(spare)} mm`)
    const [grown] = joistElevation(checks, 0, 400).ducts.filter(({ run: { id } }) => id === 'R1')
    expect(grown.fitsGrown).toBe(false)
    expect(ductWords(grown, 400)).toMatch(/^does not fit: [\d.]+ mm into (web|top chord|bottom chord)/)
  })
})
