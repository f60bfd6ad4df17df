/** What every element-to-solid kernel must hold to, over seeded drawn pairs; each kind's test file calls these. */
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { ALONG, ANSWER_SIZE, type PairKernel } from '#geometry/clearance/answer.ts'
import { ARC, CENTRE_X, END_X, KIND, LENGTH, RADIAL_X, RADIUS, START_X, TANGENT_X } from '#geometry/curve/centreline.ts'
import { BOX, CYLINDER, PRISM, type SolidKind } from '#geometry/solid/solidSet.ts'
import { type Draw, type Vec, add, arcFrom, axes, between, cross, drawLeg, legFrom, pick, reversed, scale, seeded, unit } from './drawnElements.ts'
import { packBox, packCylinder, packPrism } from './drawnSolids.ts'
import { judgePair } from './judgePair.ts'

type Frame = [Vec, Vec, Vec]
export interface Kind {
  readonly name: string
  readonly kernel: PairKernel
  readonly kind: SolidKind
  readonly drawSolid: (draw: Draw, centre: Vec, size: number, frame: Frame) => Float64Array
  readonly drawElement: (draw: Draw, origin: Vec, reach: number, frame: Frame) => Float64Array
  /** largest error allowed, mm, for sizes to 3 m and places to 10 m from the origin */
  readonly errorMm: number
}
interface Pair { readonly el: Float64Array, readonly data: Float64Array, readonly size: number }

/** Sizes 1 mm to 3 m, at the origin or up to 17 m from it; now and then an element centred on the solid and square to it. */
const drawPair = (draw: Draw, kind: Kind): Pair => {
  const frame = axes(draw), size = 10 ** between(draw, 0, 3.5), far = pick(draw, [0, 0, 1e4])
  const origin: Vec = [between(draw, -far, far), between(draw, -far, far), between(draw, -far, far)]
  const data = kind.drawSolid(draw, origin, size, frame)
  let el = kind.drawElement(draw, origin, size * pick(draw, [1, 2, 0.5]), frame)
  if (draw() < 0.1) {
    const centre = add(origin, frame[2], size * pick(draw, [0, between(draw, -1.5, 1.5)]))
    el = el[KIND] === ARC
      ? arcFrom(centre, frame[0], frame[1], size * between(draw, 0.1, 2), pick(draw, [1, Math.PI, 2 * Math.PI]))
      : legFrom(centre, add(centre, frame[2], size * between(draw, 0, 3)))
  }
  return { el, data, size }
}

const least = (kind: Kind, el: Float64Array, data: Float64Array, cutoffMm = Infinity) =>
  kind.kernel(el, 0, data, 0, cutoffMm, new Float64Array(ANSWER_SIZE))

/** Whole-number sizes and places, so that touching, running in a face, meeting at corners and ties are the rule. */
const drawGridPair = (draw: Draw, kind: Kind): Pair => {
  const frame = axes(draw), first = Math.floor(draw() * 3)
  const whole = () => Math.floor(draw() * 5) - 2, size = () => 1 + Math.floor(draw() * 2)
  const at = (): Vec => add(add(scale(frame[0], whole()), frame[1], whole()), frame[2], whole())
  const bottom = whole()
  const data = kind.kind === BOX ? packBox([0, 0, 0], [size(), size(), pick(draw, [0, 1, 2])], frame)
    : kind.kind === CYLINDER ? packCylinder([0, 0, 0], frame[2], size(), pick(draw, [0, 1, 2]))
      : packPrism([0, 0, 0], frame, bottom, bottom + Math.floor(draw() * 3), pick(draw, GRID_OUTLINES))
  if (kind.drawElement === drawLeg) return { el: legFrom(at(), at()), data, size: 1 }
  const [u, v, w] = [0, 1, 2].map((i) => frame[(i + first) % 3])
  const radial = pick(draw, [u, unit(add(u, v))]), side = pick(draw, [1, -1])
  const radius = pick(draw, [1, 2, Math.SQRT2]), turn = pick(draw, [Math.PI / 4, Math.PI / 2, Math.PI, 2 * Math.PI])
  return { el: arcFrom(at(), radial, scale(cross(w, radial), side), radius, turn), data, size: 1 }
}
const GRID_OUTLINES: [number, number][][][] = [
  [[[-1, -1], [1, -1], [1, 1], [-1, 1]]],
  [[[-2, -2], [2, -2], [2, 0], [0, 0], [0, 2], [-2, 2]]],
  [[[-2, -2], [2, -2], [2, 2], [-2, 2]], [[-1, -1], [-1, 1], [1, 1], [1, -1]]],
  [[[-2, 0], [0, -2], [2, 0], [0, 2]]],
]

const agrees = (kind: Kind, pairs: number, seed: number, drawOne: (draw: Draw, kind: Kind) => Pair): void => {
  const draw = seeded(seed)
  let inside = 0, tight = 0
  const worst = { missed: 0, invented: 0, unlike: 0 }
  const worstPair = { missed: -1, invented: -1, unlike: -1 }
  for (let i = 0; i < pairs; i++) {
    const { el, data, size } = drawOne(draw, kind)
    const judged = judgePair(kind.kernel, el, kind.kind, data, 1e-6 * size, 300)
    for (const what of ['missed', 'invented', 'unlike'] as const) {
      if (judged[what] <= worst[what] || Number.isNaN(worst[what])) continue // NaN counts as worst and stays
      worst[what] = judged[what]
      worstPair[what] = i
    }
    if (judged.distance < 0) inside++
    if (judged.bracket < 1e-3 * size) tight++
  }
  expect(worst.missed, `pair ${worstPair.missed}`).toBeLessThanOrEqual(kind.errorMm)
  expect(worst.invented, `pair ${worstPair.invented}`).toBeLessThanOrEqual(1e-9)
  expect(worst.unlike, `pair ${worstPair.unlike}`).toBeLessThanOrEqual(1e-9)
  // The test would be empty without overlaps, or if the reference could not close in.
  expect(inside).toBeGreaterThan(pairs / 12)
  expect(tight).toBeGreaterThan(pairs / 2)
}

export const agreesWithSampling = (kind: Kind, pairs: number, seed: number): void => {
  test(`${kind.name}: the least signed distance and its point pair are those of dense sampling, ${pairs} pairs, seed ${seed}`, () => {
    agrees(kind, pairs, seed, drawPair)
  })
  test(`${kind.name}: so they are where all sizes and places are whole numbers, ${pairs} pairs, seed ${seed}`, () => {
    agrees(kind, pairs, seed, drawGridPair)
  })
}

/** The pair moved by turning about the origin on to `to` (right-handed unit axes) and shifting. */
const moved = (kind: Kind, { el, data }: Pair, to: Frame, shift: Vec): { el: Float64Array, data: Float64Array } => {
  const turnVec = (v: ArrayLike<number>, at: number): Vec => add(add(scale(to[0], v[at]), to[1], v[at + 1]), to[2], v[at + 2])
  const movedEl = el.slice(), movedData = data.slice()
  for (const at of [START_X, END_X, CENTRE_X]) if (at !== CENTRE_X || el[KIND] === ARC) movedEl.set(add(turnVec(el, at), shift), at)
  for (const at of [RADIAL_X, TANGENT_X]) movedEl.set(turnVec(el, at), at)
  movedData.set(add(turnVec(data, 0), shift), 0)
  const axesAt = kind.kind === PRISM ? [3, 6, 9] : data.length === 15 ? [6, 9, 12] : [3]
  for (const at of axesAt) movedData.set(turnVec(data, at), at)
  return { el: movedEl, data: movedData }
}

const scaled = (kind: Kind, { el, data }: Pair, k: number): { el: Float64Array, data: Float64Array } => {
  const scaledEl = el.slice(), scaledData = data.slice()
  for (let i = START_X; i < RADIAL_X; i++) scaledEl[i] *= k
  scaledEl[RADIUS] *= k
  const lengths: number[] = [0, 1, 2]
  if (kind.kind === PRISM) {
    lengths.push(12, 13)
    for (let at = 15, ring = 0; ring < data[14]; ring++) {
      const corners = data[at++]
      for (let i = 0; i < 2 * corners; i++) lengths.push(at++)
    }
  } else lengths.push(...(data.length === 15 ? [3, 4, 5] : [6, 7]))
  for (const i of lengths) scaledData[i] *= k
  return { el: scaledEl, data: scaledData }
}

export const keepsItsProperties = (kind: Kind, runs: number, seed: number): void => {
  const anyPair = fc.integer({ min: 0, max: 0x7fffffff }).map((caseSeed) => ({ caseSeed, ...drawPair(seeded(caseSeed), kind) }))
  const holds = (property: fc.IProperty<[Pair & { caseSeed: number }]>) => fc.assert(property, { seed, numRuns: runs })
  /** a solver's error twice over, and what moving by metres in double precision costs */
  const alike = 2 * kind.errorMm + 1e-9

  test(`${kind.name}: moving the whole job changes no clearance (seed ${seed})`, () => {
    holds(fc.property(anyPair, (pair) => {
      const draw = seeded(pair.caseSeed ^ 0x55555555)
      const there = moved(kind, pair, axes(draw), [between(draw, -5e4, 5e4), between(draw, -5e4, 5e4), between(draw, -5e4, 5e4)])
      expect(Math.abs(least(kind, there.el, there.data) - least(kind, pair.el, pair.data))).toBeLessThanOrEqual(alike)
    }))
  })
  test(`${kind.name}: a job drawn k times as large has k times the clearance (seed ${seed})`, () => {
    holds(fc.property(anyPair, (pair) => {
      const k = 10 ** between(seeded(pair.caseSeed ^ 0x33333333), -2, 1)
      const larger = scaled(kind, pair, k)
      expect(Math.abs(least(kind, larger.el, larger.data) - k * least(kind, pair.el, pair.data))).toBeLessThanOrEqual(alike * Math.max(k, 1))
    }))
  })
  test(`${kind.name}: laying the run from the other end changes no clearance (seed ${seed})`, () => {
    holds(fc.property(anyPair, ({ el, data }) => {
      expect(Math.abs(least(kind, reversed(el), data) - least(kind, el, data))).toBeLessThanOrEqual(alike)
    }))
  })
  test(`${kind.name}: a cutoff never changes an answer below it, and leaves the answer alone above it (seed ${seed})`, () => {
    holds(fc.property(anyPair, ({ el, data, size }) => {
      const full = new Float64Array(ANSWER_SIZE), cut = new Float64Array(ANSWER_SIZE)
      const distance = kind.kernel(el, 0, data, 0, Infinity, full)
      for (const spare of [1e-6 * size, 0.3 * size, 3 * size]) {
        const within = kind.kernel(el, 0, data, 0, distance + spare, cut)
        expect(Math.abs(within - distance)).toBeLessThanOrEqual(alike)
        expect(Math.abs(cut[0] - distance)).toBeLessThanOrEqual(alike)
        expect(cut[ALONG]).toBeLessThanOrEqual(el[LENGTH])
        cut.fill(7)
        expect(kind.kernel(el, 0, data, 0, distance - spare, cut)).toBeGreaterThan(distance - spare)
        expect([...cut]).toEqual(new Array(ANSWER_SIZE).fill(7))
      }
    }))
  })
}

/** For closed-form cases: the value, with the answer written. */
export const clearanceOf = (kernel: PairKernel, el: Float64Array, data: Float64Array): number =>
  kernel(el, 0, data, 0, Infinity, new Float64Array(ANSWER_SIZE))
