import fc from 'fast-check'
import { expect, test } from 'vitest'
import { PAIR_ANSWER_SIZE } from '#geometry/clearance/answer.ts'
import { centrelineDistance, elementsDistance } from '#geometry/clearance/index.ts'
import { legTube } from '#geometry/clearance/legTube.ts'
import { centrelineOf, writeArc, writeLeg } from '#geometry/curve/build.ts'
import { ARC, ELEMENT_STRIDE, KIND } from '#geometry/curve/centreline.ts'
import { moved, reversed } from '#geometry/curve/measure.ts'
import { SolidSetBuilder } from '#geometry/solid/build.ts'
import { axesOfRotation } from '#geometry/solid/rotation.ts'
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'

const SEED = 43
const options = { seed: SEED, numRuns: 3000 }

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const place = fc.tuple(number(-800, 800), number(-800, 800), number(-800, 800))
const angles = fc.tuple(...[0, 1, 2].map(() => fc.oneof(fc.constantFrom(0, 90, 180, 270, 45), number(-180, 180))))
const motion = fc.record({ angles, shift: place }).map(({ angles: [x, y, z], shift }) => [...axesOfRotation(x, y, z), ...shift])

/** A run of one leg or one arc; `scale` makes the same run in another size. */
const element = fc.oneof(
  fc.record({ from: place, to: place }).map(({ from, to }) => (scale: number) => {
    const elements = new Float64Array(ELEMENT_STRIDE)
    writeLeg(elements, 0, from[0] * scale, from[1] * scale, from[2] * scale, to[0] * scale, to[1] * scale, to[2] * scale, 0)
    return centrelineOf(elements)
  }),
  fc.record({ centre: place, angles, radius: number(1, 600), turn: fc.oneof(fc.constantFrom(Math.PI / 2, Math.PI, 2 * Math.PI), number(0.01, 6.28)) })
    .map(({ centre, angles: [x, y, z], radius, turn }) => (scale: number) => {
      const elements = new Float64Array(ELEMENT_STRIDE), axes = axesOfRotation(x, y, z)
      writeArc(elements, 0, centre.map((v) => v * scale), axes.slice(0, 3), axes.slice(3, 6), radius * scale, turn, 0)
      return centrelineOf(elements)
    }),
)

const answer = new Float64Array(PAIR_ANSWER_SIZE)
type Run = ReturnType<typeof centrelineOf>
const gap = (a: Run, b: Run) => elementsDistance(a.elements, 0, b.elements, 0, Infinity, answer)
const allowed = (...runs: Run[]) => (runs.some((run) => run.elements[KIND] === ARC) ? ANSWER_ERROR_MM : 1e-9)

test(`it does not matter which of two runs is asked (seed ${SEED})`, () => {
  fc.assert(fc.property(element, element, (a, b) => {
    expect(Math.abs(gap(a(1), b(1)) - gap(b(1), a(1)))).toBeLessThan(allowed(a(1), b(1)))
  }), options)
})

test(`it does not matter which end a run starts from (seed ${SEED})`, () => {
  fc.assert(fc.property(element, element, (a, b) => {
    expect(Math.abs(gap(reversed(a(1)), b(1)) - gap(a(1), b(1)))).toBeLessThan(allowed(a(1), b(1)))
  }), options)
})

test(`carrying two runs somewhere else together changes nothing (seed ${SEED})`, () => {
  fc.assert(fc.property(element, element, motion, (a, b, m) => {
    expect(Math.abs(gap(moved(a(1), m), moved(b(1), m)) - gap(a(1), b(1)))).toBeLessThan(allowed(a(1), b(1)))
  }), options)
})

test(`twice the size is twice the gap (seed ${SEED})`, () => {
  fc.assert(fc.property(element, element, number(0.01, 100), (a, b, scale) => {
    expect(Math.abs(gap(a(scale), b(scale)) - scale * gap(a(1), b(1)))).toBeLessThan((1 + scale) * allowed(a(1), b(1)))
  }), options)
})

test(`moving one run by a millimetre changes the gap by no more (seed ${SEED})`, () => {
  fc.assert(fc.property(element, element, fc.constantFrom([1, 0, 0], [0, 1, 0], [0, 0, 1]), (a, b, shift) => {
    const there = moved(a(1), [...axesOfRotation(0, 0, 0), ...shift])
    expect(Math.abs(gap(there, b(1)) - gap(a(1), b(1)))).toBeLessThan(1 + allowed(a(1), b(1)))
  }), options)
})

test(`a tube 1 mm thicker is 1 mm nearer, and either run may be the tube (seed ${SEED})`, () => {
  fc.assert(fc.property(element, element, number(1, 200), (a, b, radius) => {
    const builder = new SolidSetBuilder()
    builder.addTube(b(1), radius)
    builder.addTube(b(1), radius + 1)
    const { data, offset } = builder.build()
    const leg = a(1)
    if (leg.elements[KIND] === ARC) return
    const thin = legTube(leg.elements, 0, data, offset[0], Infinity, answer)
    const thick = legTube(leg.elements, 0, data, offset[1], Infinity, answer)
    expect(thin - thick).toBeCloseTo(1, 9)
    expect(thin).toBeCloseTo(centrelineDistance(b(1), leg, Infinity, answer) - radius, allowed(b(1)) < 1e-8 ? 8 : 4)
  }), options)
})
