import { expect, test } from 'vitest'
import { arcArc } from '#geometry/clearance/arcArc.ts'
import { arcLeg } from '#geometry/clearance/arcLeg.ts'
import { ALONG, ALONG_OTHER, DISTANCE, ON_CURVE_X, ON_SOLID_X, PAIR_ANSWER_SIZE, type CurveKernel } from '#geometry/clearance/answer.ts'
import { legArc } from '#geometry/clearance/legArc.ts'
import { legLeg } from '#geometry/clearance/legLeg.ts'
import { LENGTH } from '#geometry/curve/centreline.ts'
import { ANSWER_ERROR_MM } from '#geometry/tolerance.ts'
import { pointToElement } from '../../oracle/curveDistance.ts'
import { add, axes, between, drawArc, drawLeg, seeded, type Draw } from '../../oracle/drawnElements.ts'
import { bracketLeast, elementPoint } from '../../oracle/solidDistance.ts'

const SEED = 41
const PAIRS = 2000

const kinds: [string, CurveKernel, typeof drawLeg, typeof drawLeg][] = [
  ['two legs', legLeg, drawLeg, drawLeg], ['a leg and a bend', legArc, drawLeg, drawArc],
  ['a bend and a leg', arcLeg, drawArc, drawLeg], ['two bends', arcArc, drawArc, drawArc],
]

/** Two elements near each other, as often as not along the same axes, 1 mm to 10 m in size. */
export const drawPair = (draw: Draw, first: typeof drawLeg, second: typeof drawLeg): [Float64Array, Float64Array] => {
  const frame = axes(draw), size = 10 ** between(draw, 0, 3.5)
  const origin = add([0, 0, 0], [between(draw, -1, 1), between(draw, -1, 1), 0], 5000)
  return [first(draw, origin, size, frame), second(draw, origin, size * 10 ** between(draw, -0.5, 0.5), frame)]
}

test.each(kinds)(`the gap between %s is the least that dense sampling finds (seed ${SEED}, ${PAIRS} pairs)`, (_, kernel, first, second) => {
  const draw = seeded(SEED)
  const answer = new Float64Array(PAIR_ANSWER_SIZE)
  let missed = 0, invented = 0, unlike = 0, closed = 0
  for (let i = 0; i < PAIRS; i++) {
    const [a, b] = drawPair(draw, first, second)
    const distance = kernel(a, 0, b, 0, Infinity, answer)
    // a sampled distance can only be too high; Lipschitz bounds say how far it can still be from the truth
    const truth = bracketLeast(a, 0, (p) => pointToElement(b, 0, p), 1e-4, 300)
    missed = Math.max(missed, distance - truth.high)
    invented = Math.max(invented, truth.low - distance)
    if (truth.high - truth.low <= 2e-4) closed++
    const onA = [0, 1, 2].map((k) => answer[ON_CURVE_X + k]), onB = [0, 1, 2].map((k) => answer[ON_SOLID_X + k])
    const alongA = elementPoint(a, 0, a[LENGTH] > 0 ? answer[ALONG] / a[LENGTH] : 0)
    const alongB = elementPoint(b, 0, b[LENGTH] > 0 ? answer[ALONG_OTHER] / b[LENGTH] : 0)
    unlike = Math.max(
      unlike, Math.abs(answer[DISTANCE] - distance), Math.abs(Math.hypot(onA[0] - onB[0], onA[1] - onB[1], onA[2] - onB[2]) - distance),
      Math.hypot(...alongA.map((x, k) => x - onA[k])), Math.hypot(...alongB.map((x, k) => x - onB[k])),
      -answer[ALONG], answer[ALONG] - a[LENGTH], -answer[ALONG_OTHER], answer[ALONG_OTHER] - b[LENGTH],
    )
  }
  expect(missed).toBeLessThan(kernel === legLeg ? 1e-9 : ANSWER_ERROR_MM)
  expect(invented).toBeLessThan(1e-9)
  expect(unlike).toBeLessThan(1e-8)
  // most brackets close, so the bounds above are not idle
  expect(closed).toBeGreaterThan(PAIRS / 2)
})
