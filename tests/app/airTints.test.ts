import { describe, expect, test } from 'vitest'
import { airOfJob } from '#air/index.ts'
import { TINT_STEPS, runTints } from '#app/places/air/runTints.ts'
import { linearRgb } from '#scene/palette.ts'
import { FAMILY, assemblyOf } from '../air/airHouse.ts'

const assembly = assemblyOf(FAMILY, { air: { floorAreaM2: 92 } })
const report = airOfJob(assembly)

describe('runs coloured by their air', () => {
  test('not asked for: none is', () => expect(runTints(assembly, report, { speed: 'boost', tint: 'none' }).labels).toEqual([]))
  test.each(['speed', 'pressure'] as const)('by %s: every run that carries air has a colour and its figure in words', (tint) => {
    const { colours, labels } = runTints(assembly, report, { speed: 'boost', tint })
    expect(colours.every((colour) => colour !== null)).toBe(true)
    expect(labels).toHaveLength(assembly.runs.length)
    for (const { words } of labels) expect(words).toMatch(tint === 'speed' ? /^\d+\.\d\d m\/s$/ : /^\d+\.\d Pa, \d+ %$/)
  })
  test('the figure and the step of the legend are the same', () => {
    const { colours, labels } = runTints(assembly, report, { speed: 'boost', tint: 'speed' })
    for (const { id, words } of labels) {
      const step = TINT_STEPS.speed.findIndex(({ colour }) => colour === colours[assembly.runs.findIndex(({ run }) => `air-${run.id}` === id)])
      const value = Number(words.split(' ')[0])
      expect(value).toBeGreaterThanOrEqual(TINT_STEPS.speed[step].from - 0.005)
      if (step + 1 < TINT_STEPS.speed.length) expect(value).toBeLessThanOrEqual(TINT_STEPS.speed[step + 1].from + 0.005)
    }
  })
  test('more is darker, step by step, so that the order is seen without hues', () => {
    const lightness = TINT_STEPS.speed.map(({ colour }) => {
      const [r, g, b] = linearRgb(colour)
      return 0.2126 * r + 0.7152 * g + 0.0722 * b
    })
    for (let i = 1; i < lightness.length; i++) expect(lightness[i]).toBeLessThan(lightness[i - 1])
  })
})
