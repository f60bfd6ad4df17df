import { describe, expect, test } from 'vitest'
import { frameOf, toSiteMm } from '#scene/frame.ts'
import { OPENING_STEPS, stepOf, stepWords, tintedOpenings } from '#scene/openingSteps.ts'
import { linearRgb } from '#scene/palette.ts'
import { smallVoid } from './smallVoid.ts'

/** relative luminance, 0 to 1 (WCAG 2.2, definition of relative luminance) */
const luminance = (hex: string): number => {
  const [r, g, b] = linearRgb(hex)
  return 0.2126 * r + 0.7152 * g + 0.0722 * b
}

describe('openings coloured by the largest duct', () => {
  test('an opening that just takes a size is in that step, and one a hair under is in the one before', () => {
    expect(OPENING_STEPS[stepOf(125)].fromMm).toBe(125)
    expect(OPENING_STEPS[stepOf(124.9)].fromMm).toBe(90)
    expect(stepOf(0)).toBe(0)
    expect(stepOf(1e4)).toBe(OPENING_STEPS.length - 1)
  })

  test('every size is written: below the first, between two, and above the last', () => {
    expect(OPENING_STEPS.map((_, step) => stepWords(step))).toEqual([
      'below 63 mm', '63 to 75 mm', '75 to 90 mm', '90 to 125 mm', '125 to 160 mm', '160 to 200 mm', '200 mm and more',
    ])
  })

  test('each step is lighter than the one before, so that the order is seen without hues, and the words stand out 4.5 to 1', () => {
    const lights = OPENING_STEPS.map(({ colour }) => luminance(colour))
    for (let i = 1; i < lights.length; i++) expect(lights[i] / lights[i - 1]).toBeGreaterThan(1.25)
    // WCAG 2.2, 1.4.3
    for (const { colour, ink } of OPENING_STEPS) {
      const [dark, light] = [luminance(colour), luminance(ink)].sort((a, b) => a - b)
      expect((light + 0.05) / (dark + 0.05)).toBeGreaterThan(4.5)
    }
  })

  test('a tinted opening lies on its joist\u2019s middle plane, between its chords', () => {
    const assembly = smallVoid(), frame = frameOf(assembly)
    const { positions, indices, colours } = tintedOpenings(assembly, frame, [{ joistIndex: 1, opening: 2, colour: '#ffffff' }, { joistIndex: 1, opening: 999, colour: '#ffffff' }])
    const corners = assembly.joists[1].openings[1].opening.verticesXy.length / 2
    expect(positions.length).toBe(3 * corners)
    expect(indices.length).toBe(3 * (corners - 2))
    expect([...colours.subarray(0, 3)]).toEqual([1, 1, 1])
    for (let i = 0; i < corners; i++) {
      const [, y, z] = toSiteMm(frame, positions[3 * i], positions[3 * i + 1], positions[3 * i + 2])
      // joists at 600 mm centres from y = 400; chords of 47 mm on a joist 304 deep, its underside at 2400
      expect(y).toBeCloseTo(1_000, 2)
      expect(z).toBeGreaterThan(2_446.9)
      expect(z).toBeLessThan(2_400 + 304 - 46.9)
    }
  })
})
