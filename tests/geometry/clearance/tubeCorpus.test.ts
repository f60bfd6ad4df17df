import { readFileSync, readdirSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { PAIR_ANSWER_SIZE } from '#geometry/clearance/answer.ts'
import { PAIR_KERNELS, elementsDistance } from '#geometry/clearance/index.ts'
import { ARC, KIND } from '#geometry/curve/centreline.ts'
import { reversed } from '#geometry/curve/measure.ts'
import { centrelineOf } from '#geometry/curve/build.ts'
import { type Vec, arcFrom, legFrom } from '../../oracle/drawnElements.ts'

/**
 * Pairs that went wrong once, here or in a general library, kept for good. A file is a list of
 * { name, element, other, gapMm, withinMm }: an element is { leg: { from, to } } or { arc: { centre, radial, tangent, radiusMm, turnRad } };
 * the other is an element too, or { solid: 'box' | 'prism' | 'cylinder' | 'tube', data } with its packed numbers. gapMm is centreline to surface.
 */
interface CorpusPair {
  name: string
  element: CorpusElement
  other: CorpusElement | { solid: 'box' | 'prism' | 'cylinder' | 'tube', data: number[] }
  gapMm: number
  withinMm: number
}
type CorpusElement = { leg: { from: Vec, to: Vec } } | { arc: { centre: Vec, radial: Vec, tangent: Vec, radiusMm: number, turnRad: number } }

const elementOf = (given: CorpusElement) => {
  if ('leg' in given) return legFrom(given.leg.from, given.leg.to)
  const { centre, radial, tangent, radiusMm, turnRad } = given.arc
  return arcFrom(centre, radial, tangent, radiusMm, turnRad)
}

const folder = new URL('../../../fixtures/corpus/', import.meta.url)
const files = readdirSync(folder).filter((name) => name.startsWith('pairs') && name.endsWith('.json'))

test('there is a corpus', () => { expect(files.length).toBeGreaterThan(0) })

describe.each(files)('%s', (file) => {
  test.each(JSON.parse(readFileSync(new URL(file, folder), 'utf8')) as CorpusPair[])('$name', ({ element, other, gapMm, withinMm }) => {
    const answer = new Float64Array(PAIR_ANSWER_SIZE)
    const there = elementOf(element), back = reversed(centrelineOf(there)).elements
    for (const given of [there, back]) {
      if ('solid' in other) {
        const kernel = PAIR_KERNELS[`${given[KIND] === ARC ? 'arc' : 'leg'}-${other.solid}`]
        expect(Math.abs(kernel(given, 0, Float64Array.from(other.data), 0, Infinity, answer) - gapMm)).toBeLessThanOrEqual(withinMm)
      } else {
        const partner = elementOf(other)
        expect(Math.abs(elementsDistance(given, 0, partner, 0, Infinity, answer) - gapMm)).toBeLessThanOrEqual(withinMm)
        expect(Math.abs(elementsDistance(partner, 0, given, 0, Infinity, answer) - gapMm)).toBeLessThanOrEqual(withinMm)
      }
    }
  })
})
